"""How near decoration comes to a drinking rim."""

from collections.abc import Iterable

import numpy as np

from hundredfold.catalogue.blanks import Blank
from hundredfold.kernel.units import px_to_mm
from hundredfold.placement.area import cone_area
from hundredfold.placement.layout import AreaLayout
from hundredfold.placement.onto_cone import flat_origin_px


def nearest_to_rim_mm(blank: Blank, layouts: Iterable[AreaLayout]) -> float | None:
    """From the drinking rim to the nearest art of any layout, along the side.

    None for blanks that are no drinkware or do not say how far the print area is from the rim.
    """
    clearance = blank.body.rim_clearance_mm
    tops = [_below_top_mm(layout) for layout in layouts]
    if not blank.drinkware or clearance is None or not tops:
        return None
    return clearance + min(tops)


def _below_top_mm(layout: AreaLayout) -> float:
    """From the upper edge of the printed side to the highest art; on a tapered side, along its slant."""
    if layout.area.cone is None:
        return layout.top_mm
    band = cone_area(layout.area).band
    x0, y0 = flat_origin_px(layout.area)
    rises = []
    for placed in layout.placements:
        right = np.linspace(placed.left_px, placed.left_px + placed.width_px, 33) - x0
        up = np.full(33, y0 - placed.top_px)
        _, rise = band.from_flat(px_to_mm(1, layout.area.dpi) * right, px_to_mm(1, layout.area.dpi) * up)
        rises.append(float(rise.max()))
    return max(0.0, band.slant_mm / 2 - max(rises))
