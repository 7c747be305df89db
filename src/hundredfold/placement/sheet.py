"""A whole print area as pixels: every placement of a layout drawn where it lies, at any reduction."""

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from hundredfold.designs.facts import Box
from hundredfold.placement.layout import AreaLayout

Bytes = NDArray[np.uint8]
ArtAt = Callable[[Box, int, int], Bytes]


def sheet_of(layout: AreaLayout, art_at: ArtAt, width_px: int | None = None) -> Bytes:
    """The layout's area, RGBA with straight alpha, sRGB-encoded, flat and neither mirrored nor pre-warped.

    ``art_at`` gives a crop of the art at a size in pixels. ``width_px`` reduces the area to that width, its
    proportions kept; without it the sheet has the area's own pixels. What lies outside is cut off.
    """
    area = layout.area
    scale = 1.0 if width_px is None else width_px / area.width_px
    sheet = np.zeros((max(1, round(area.height_px * scale)), width_px or area.width_px, 4), np.uint8)
    for placed in layout.placements:
        left, top = round(placed.left_px * scale), round(placed.top_px * scale)
        across, down = max(1, round(placed.width_px * scale)), max(1, round(placed.height_px * scale))
        _lay(sheet, art_at(placed.crop, across, down), left, top)
    return sheet


def _lay(sheet: Bytes, art: Bytes, left: int, top: int) -> None:
    bottom, right = min(top + art.shape[0], sheet.shape[0]), min(left + art.shape[1], sheet.shape[1])
    from_top, from_left = max(-top, 0), max(-left, 0)
    part = art[from_top : bottom - top, from_left : right - left]
    under = sheet[max(top, 0) : bottom, max(left, 0) : right]
    if not part.size or not under.size:
        return
    if under.any():  # tiles of a pattern may touch
        both = Image.alpha_composite(Image.fromarray(under), Image.fromarray(np.ascontiguousarray(part)))
        under[:] = np.asarray(both)
    else:
        under[:] = part
