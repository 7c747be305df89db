"""A blank on the plate of another body: which body a plate has to show, and how far its own shape is off.

Art is drawn at the places that it has on the goods as shares of the body: heights of the whole height, widths
of the width or girth. So goods of the plate's shape are drawn right in any size.
"""

from dataclasses import dataclass, replace

from hundredfold.catalogue.blanks import Blank, Body, PrintArea
from hundredfold.catalogue.forms import PrintedSide
from hundredfold.mockups.measures import measured
from hundredfold.mockups.registry import PlateEntry, plate_for
from hundredfold.placement.area import cone_area

Pair = tuple[float, float]


@dataclass(frozen=True)
class Outlines:
    """Width and height of the goods and of the body that is drawn for them, millimetres. Of a vessel also the
    diameters at the upper and lower edge of the print area, the drawn ones at the goods' size."""

    goods: Pair
    drawn: Pair
    goods_ends: Pair | None = None
    drawn_ends: Pair | None = None


@dataclass(frozen=True)
class Misfit:
    """How a plate shows a blank: ``goods`` and ``drawn`` say of what, in words; ``off`` is how far the
    proportions are from the blank's, as a share of them."""

    goods: str
    drawn: str
    off: float


def shown_areas(blank: Blank) -> tuple[PrintArea, ...]:
    """The print areas that pictures show: those of the body's size, where it is told."""
    size = blank.body.size
    shown = tuple(area for area in blank.areas if not area.for_sizes or size in ("", *area.for_sizes))
    return shown or blank.areas


def pictured_body(blank: Blank, area: PrintArea) -> Body:
    """The body that a picture of this area shows: the measures of the size that is pictured.

    Where only the cone of the area tells, the body is as much larger than the plate's as its side is, and
    the area lies in the side's middle.
    """
    own, told = measured(blank, area), blank.body
    same = told if own.size == told.size else Body()
    body = replace(
        told,
        diameter_mm=own.diameter_mm or same.diameter_mm,
        width_mm=own.width_mm or same.width_mm,
        height_mm=own.height_mm or same.height_mm,
        size=own.size,
    )
    side, cone = plate_for(blank, area).side, area.cone
    if side is None or cone is None or not blank.form.traits.cone_measures:
        return body
    entry = plate_for(blank, area)
    if body.diameter_mm is None:
        body = replace(body, diameter_mm=cone.top_diameter_mm / side.top_mm * entry.wide_mm)
    if body.height_mm is None:
        high = cone.height_mm / side.height_mm * entry.high_mm
        body = replace(body, height_mm=high, rim_clearance_mm=None)
    return body


def outlines(blank: Blank, area: PrintArea) -> Outlines | None:
    """The goods beside the body that their pictures show; None where the blank's file does not say.

    Raises ShopError ``no-plate``.
    """
    entry, body = plate_for(blank, area), pictured_body(blank, area)
    wide, high = body.diameter_mm or body.width_mm, body.height_mm
    if not wide or not high:
        return None
    whole = Outlines((wide, high), (entry.wide_mm, entry.high_mm))
    if entry.side is None or body.diameter_mm is None:
        return whole
    has, had = _ends(entry, entry.side, (wide, high), body.rim_clearance_mm, area)
    return replace(whole, goods_ends=has, drawn_ends=had)


def misfit(blank: Blank, area: PrintArea) -> Misfit | None:
    """How far the blank is from its plate's shape; None where its file does not say.

    Raises ShopError ``no-plate``.
    """
    both = outlines(blank, area)
    if both is None:
        return None
    (wide, high), (drawn_wide, drawn_high) = both.goods, both.drawn
    off = abs((wide / high) / (drawn_wide / drawn_high) - 1)
    whole = Misfit(f"{wide:g} x {high:g} mm", f"a body of {drawn_wide:g} x {drawn_high:g} mm", off)
    if both.goods_ends is None or both.drawn_ends is None:
        return whole
    off = max(abs(had / has - 1) for had, has in zip(both.drawn_ends, both.goods_ends, strict=True))
    goods, plate = (" and ".join(f"{mm:.0f}" for mm in pair) for pair in (both.goods_ends, both.drawn_ends))
    edges = f"{goods} mm across at the upper and lower edge of print area {area.name}"
    return max(Misfit(edges, f"{plate} mm there", off), whole, key=lambda one: one.off)


def _ends(
    entry: PlateEntry, side: PrintedSide, goods: Pair, clearance_mm: float | None, area: PrintArea
) -> tuple[Pair, Pair]:
    """Diameters at the print area's edges, and those that the plate has there."""
    wide, high = goods
    if area.cone is None:
        ends, tall = (wide, wide), area.height_mm
    else:
        band = cone_area(area).band
        ends, tall = (2 * band.top_mm, 2 * band.bottom_mm), band.height_mm
    scale = entry.high_mm / high
    middle = side.foot_mm + side.height_mm / 2
    if clearance_mm is not None:
        middle = (high - clearance_mm - tall / 2) * scale

    def drawn(z: float) -> float:
        share = min(max((z - side.foot_mm) / side.height_mm, 0.0), 1.0)
        return (side.bottom_mm + (side.top_mm - side.bottom_mm) * share) * wide / entry.wide_mm

    half = tall * scale / 2
    return ends, (drawn(middle + half), drawn(middle - half))
