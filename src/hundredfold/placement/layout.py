"""How a design is laid out on a print area: one face, both faces, all round, or as a pattern."""

from dataclasses import dataclass, replace
from enum import StrEnum
from math import pi

from hundredfold.catalogue.blanks import Blank, PrintArea
from hundredfold.designs.facts import Box
from hundredfold.kernel.errors import ShopError
from hundredfold.kernel.units import mm_to_px
from hundredfold.placement.area import NONE, KeepOuts, bleed_box, safe_box
from hundredfold.placement.onto_cone import lies_on_side, roomiest
from hundredfold.placement.place import Placement, fill_in, fit_in, inked, span_in


class Size(StrEnum):
    """How large the art becomes: inside its room, covering it, or as wide as it."""

    FIT = "fit"
    FILL = "fill"
    SPAN = "span"


class ArtSpot(StrEnum):
    """Which part of the area the art takes.

    ``HANDLE_RIGHT`` is centred on the face seen with the handle on the right (a quarter turn right of
    the wrap's middle, which lies opposite the handle), ``HANDLE_LEFT`` on the other; ``BOTH`` puts the
    art on each. ``LEFT`` and ``RIGHT`` are the halves of the area.
    """

    MIDDLE = "middle"
    LEFT = "left"
    RIGHT = "right"
    HANDLE_LEFT = "handle left"
    HANDLE_RIGHT = "handle right"
    BOTH = "both"
    ROUND = "all round"
    PATTERN = "pattern"


@dataclass(frozen=True)
class Wish:
    """What the seller wants: size, place, keep-outs, and for a pattern its tile width and gap.

    ``above`` is the share of the height left free that lies above fitted art: 0.5 is the middle.
    """

    size: Size = Size.FIT
    where: ArtSpot = ArtSpot.MIDDLE
    keep: KeepOuts = NONE
    above: float = 0.5
    tile_mm: float = 40.0
    gap_mm: float = 8.0
    half_drop: bool = True  # every other column of a pattern half a step down


@dataclass(frozen=True)
class AreaLayout:
    """A print area with every placement of one design on it, in painting order."""

    area: PrintArea
    placements: tuple[Placement, ...]

    @property
    def top_mm(self) -> float:
        """From the area's top edge to the highest art."""
        return min(p.top_px for p in self.placements) * self.area.height_mm / self.area.height_px


def lay_out(ink: Box, blank: Blank, area: PrintArea, wish: Wish = Wish()) -> AreaLayout:
    """Lay the ink box out on one of the blank's areas.

    The blank's own rim band is kept free whatever is wished. Raises ShopError ``no-ink`` (empty art),
    ``no-room-for-art`` (keep-outs leave nothing) or ``no-faces`` (a face is asked for on a blank with no
    round body).
    """
    inked(ink)
    clearance = blank.body.rim_clearance_mm or 0.0
    keep = replace(wish.keep, rim_mm=max(wish.keep.rim_mm, blank.rim_keep_out_mm))
    safe, whole = safe_box(area, keep, clearance), bleed_box(area, keep, clearance)
    if wish.where is ArtSpot.PATTERN:
        return AreaLayout(area, _pattern(ink, area, whole, wish))
    if wish.where is ArtSpot.ROUND:
        return AreaLayout(area, (span_in(ink, area, whole),))
    band_mm = max(0.0, keep.rim_mm - clearance)
    rooms = _rooms(blank, area, safe, wish.where)
    if wish.size is Size.FIT:
        return AreaLayout(area, tuple(_fitted(ink, area, room, band_mm, wish.above) for room in rooms))
    return AreaLayout(
        area,
        tuple(_covering(ink, area, whole if wish.where is ArtSpot.MIDDLE else room, wish) for room in rooms),
    )


def usual_wish(blank: Blank) -> Wish:
    """The layout a seller expects without asking: both faces of a handled mug, else the middle.

    Opposite the handle art is a sliver in the main picture, which shows the handle beside it.
    Up and down, art lies a little above the middle, where the eye takes the middle to be (as a picture in
    its mount); on a shirt it hangs from the top of the print area; a cushion has no up and down.
    """
    above = blank.form.traits.above
    handled = blank.form.traits.handled and blank.body.diameter_mm is not None
    return Wish(where=ArtSpot.BOTH if handled else ArtSpot.MIDDLE, above=above)


def _fitted(ink: Box, area: PrintArea, room: Box, band_mm: float, above: float) -> Placement:
    """The largest art in the room, its free height shared out as far as a tapered side allows."""
    best = roomiest(ink, area, room, band_mm)
    middle = fit_in(ink, area, best)
    if best != room or above == 0.5:
        return middle
    free = room.height - middle.height_px
    for share in (above, (above + 0.5) / 2):
        raised = replace(middle, top_px=room.top + round(free * share))
        spot = (raised.left_px, raised.top_px, raised.width_px, raised.height_px)
        if lies_on_side(spot, area, band_mm):
            return raised
    return middle


def _covering(ink: Box, area: PrintArea, room: Box, wish: Wish) -> Placement:
    return fill_in(ink, area, room) if wish.size is Size.FILL else span_in(ink, area, room)


def _rooms(blank: Blank, area: PrintArea, safe: Box, where: ArtSpot) -> tuple[Box, ...]:
    middle = area.width_px // 2
    halves = {
        ArtSpot.LEFT: Box(safe.left, safe.top, middle, safe.bottom),
        ArtSpot.RIGHT: Box(middle, safe.top, safe.right, safe.bottom),
    }
    if where in halves:
        return (halves[where],)
    if where in (ArtSpot.HANDLE_LEFT, ArtSpot.HANDLE_RIGHT, ArtSpot.BOTH):
        left, right = (_face(blank, area, safe, side) for side in (-1, 1))
        return {ArtSpot.HANDLE_LEFT: (left,), ArtSpot.HANDLE_RIGHT: (right,), ArtSpot.BOTH: (left, right)}[
            where
        ]
    return (_visible(blank, area, safe),)


def _visible(blank: Blank, area: PrintArea, safe: Box) -> Box:
    """The middle of the area, no wider than what one look at the body shows."""
    face = blank.form.traits.face_share
    if face is not None and blank.body.width_mm is not None:
        return _face_of_filling(blank.body.width_mm * face, area, safe)
    wide = blank.body.visible_width_mm
    if wide is None or blank.body.diameter_mm is None:
        return safe
    half = round(mm_to_px(wide / 2, area.dpi))
    middle = area.width_px // 2
    return Box(max(safe.left, middle - half), safe.top, min(safe.right, middle + half), safe.bottom)


def _face_of_filling(face_mm: float, area: PrintArea, safe: Box) -> Box:
    """What of a filled form, such as a cushion, faces the eye."""
    half = round(mm_to_px(face_mm / 2, area.dpi))
    x, y = area.width_px // 2, area.height_px // 2
    return Box(
        max(safe.left, x - half),
        max(safe.top, y - half),
        min(safe.right, x + half),
        min(safe.bottom, y + half),
    )


def _face(blank: Blank, area: PrintArea, safe: Box, side: int) -> Box:
    """The room round the middle of a face, a quarter turn left (-1) or right (1) of the area's middle."""
    if blank.body.diameter_mm is None:
        raise ShopError(
            "no-faces",
            f"{blank.code} has no round body, so no face beside a handle",
            'use "middle", "left" or "right", or give the blank its diameter_mm',
        )
    centre = area.width_px / 2 + side * mm_to_px(blank.body.diameter_mm * pi / 4, area.dpi)
    reach = min(centre - safe.left, safe.right - centre)
    # Past about 70 % of the radius a face turns away from the eye; common practice, no source.
    reach = min(reach, mm_to_px((blank.body.visible_width_mm or 0.7 * blank.body.diameter_mm) / 2, area.dpi))
    if reach < 1:
        raise ShopError(
            "no-room-for-art",
            f"print area {area.name!r} of {blank.code} ends before the middle of the face",
            'use "middle", "left" or "right" instead',
        )
    return Box(round(centre - reach), safe.top, round(centre + reach), safe.bottom)


def _pattern(ink: Box, area: PrintArea, whole: Box, wish: Wish) -> tuple[Placement, ...]:
    """Tiles from edge to edge; the step is rounded so that a whole number of tiles closes a wrap."""
    tile = mm_to_px(wish.tile_mm, area.dpi)
    gap = mm_to_px(wish.gap_mm, area.dpi)
    scale = tile / ink.width
    width, height = max(1, round(tile)), max(1, round(ink.height * scale))
    columns = max(1, round(area.width_px / (width + gap)))
    columns += columns % 2 if wish.half_drop and columns > 1 else 0
    step_x, step_y = area.width_px / columns, height + gap
    rows = int(area.height_px // step_y) + 2
    found = []
    for column in range(columns):
        drop = step_y / 2 if wish.half_drop and column % 2 else 0.0
        for row in range(-1, rows):
            left = round(step_x * column + (step_x - width) / 2)
            top = round(area.height_px / 2 + (row - rows // 2) * step_y + drop - height / 2)
            placed = _clipped(ink, area, whole, left, top, width, height)
            if placed is not None:
                found.append(placed)
    return tuple(found)


def _clipped(
    ink: Box, area: PrintArea, whole: Box, left: int, top: int, width: int, height: int
) -> Placement | None:
    """A tile cut at the edges of ``whole``, or None when nothing of it is inside."""
    scale = width / ink.width
    x0, x1 = max(whole.left, left), min(whole.right, left + width)
    y0, y1 = max(whole.top, top), min(whole.bottom, top + height)
    crop = Box(
        ink.left + round((x0 - left) / scale),
        ink.top + round((y0 - top) / scale),
        ink.right - round((left + width - x1) / scale),
        ink.bottom - round((top + height - y1) / scale),
    )
    if x1 <= x0 or y1 <= y0 or crop.empty:
        return None
    return Placement(area, crop, x0, y0, x1 - x0, y1 - y0, area.dpi / scale)
