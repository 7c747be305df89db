"""Checks of a blank against the plates that its pictures are made with."""

from collections.abc import Iterator

from hundredfold.catalogue.blanks import Blank, PrintArea
from hundredfold.kernel.findings import Severity
from hundredfold.mockups.registry import PlateEntry, plate_for
from hundredfold.proofing.registry import Hit, check
from hundredfold.proofing.subjects import BlankSubject

# From here the eye sees another shape, and the print another place. Common practice, no source.
SHAPE, SIZE = 0.03, 0.03


@check(
    "picture/other-shape",
    subject=BlankSubject,
    codes={"drawn-wrong": Severity.STOP, "drawn-at-another-size": Severity.WARN},
    why="Pictures are made with a plate of one body. Goods of another shape would be drawn as that body: a "
    "bottle 260 mm high as a travel mug of 170, with its print cut off; a long cushion as a square one. The "
    "buyer gets something else than the picture.",
    example="A cushion of 500 x 300 mm: its plate is of 450 x 450 mm, so it would be drawn square.",
    fix="Check the measures under [body] (or the area's cone) in the blank's file; where they are right, "
    "leave the blank out until there is a plate of its shape.",
    known_limits="Needs the body's width or diameter and its height, or the cone of the print area. Of "
    "goods in sizes it looks at the size that pictures show.",
    source="the plates' own measures; 3 %: common practice, no source",
)
def other_shape(bare: BlankSubject) -> Iterator[Hit]:
    """The blank has the shape that its pictures show."""
    blank = bare.blank
    shown = [area for area in blank.areas if not area.for_sizes or blank.body.size in ("", *area.for_sizes)]
    for area in shown or blank.areas:
        measures = _measures(blank, area)
        if measures is None:
            continue
        plate = plate_for(blank, area)
        off = _difference(measures, plate)
        wide, high, _ = measures
        numbers = {"wide_mm": wide, "high_mm": high, "off": round(off, 3)}
        it = f"{wide:g} x {high:g} mm"
        drawn = f"{plate.wide_mm:g} x {plate.high_mm:g} mm"
        if off > SHAPE:
            what = f"it is {it}, and its pictures would show a body of {drawn}: the shape is {off:.0%} off"
            fix = "check the measures under [body] or of the cone; if they are right, leave this blank out"
            yield Hit("drawn-wrong", what, fix, numbers)
            return
        size = wide / plate.wide_mm
        if abs(size - 1) > SIZE:
            what = (
                f"it is {it} and is drawn as one of {drawn}, so the print looks {abs(1 - size):.0%} "
                f"{'larger' if size > 1 else 'smaller'} on it than it will be"
            )
            yield Hit("drawn-at-another-size", what, "say the print's size in the listing", numbers)
            return


def _measures(blank: Blank, area: PrintArea) -> tuple[float, float, float | None] | None:
    """Width, height and lower diameter of what the plate stands for; None where the file does not say."""
    if area.cone is not None and blank.form.traits.cone_measures:
        cone = area.cone
        return cone.top_diameter_mm, cone.height_mm, cone.bottom_diameter_mm
    wide, high = blank.body.diameter_mm or blank.body.width_mm, blank.body.height_mm
    return (wide, high, None) if wide and high else None


def _difference(measures: tuple[float, float, float | None], plate: PlateEntry) -> float:
    """How far the proportions are from the plate's, as a share of them."""
    wide, high, low = measures
    off = abs((wide / high) / (plate.wide_mm / plate.high_mm) - 1)
    if low is not None and plate.low_mm is not None:
        off = max(off, abs((low / wide) / (plate.low_mm / plate.wide_mm) - 1))
    return off
