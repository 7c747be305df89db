"""Checks of goods and art against the plates that their pictures are made with."""

from collections.abc import Iterator
from dataclasses import replace

from hundredfold.kernel.findings import Severity
from hundredfold.mockups.fitting import misfit, shown_areas
from hundredfold.proofing.registry import Hit, check
from hundredfold.proofing.subjects import BlankSubject, Placed

# From here the eye sees another shape, and the print another place. Common practice, no source.
SHAPE = 0.03
LOST = 0.01  # of the art: more is seen to be missing. Common practice, no source


@check(
    "picture/other-shape",
    subject=BlankSubject,
    codes={"drawn-wrong": Severity.STOP},
    why="Pictures are made with a plate of one body. Goods of its shape are drawn right in any size; goods "
    "of another shape would be drawn as that body: a bottle 260 mm high as a travel mug of 170, its print "
    "cut off; a long cushion as a square one. The buyer gets something else than the picture.",
    example="A cushion of 500 x 300 mm: its plate is of 450 x 450 mm, so it would be drawn square.",
    fix="Check the measures under [body] (or the area's cone) in the blank's file; where they are right, "
    "leave the blank out until there is a plate of its shape.",
    known_limits="Needs the body's width or diameter and its height, or the cone of the print area. Of "
    "goods in sizes it looks at the size that pictures show.",
    source="the plates' own measures; 3 %: common practice, no source",
)
def other_shape(bare: BlankSubject) -> Iterator[Hit]:
    """The blank has the shape that its pictures show."""
    for area in shown_areas(bare.blank):
        fit = misfit(bare.blank, area)
        if fit is not None and fit.off > SHAPE:
            what = (
                f"it is {fit.goods}, and its pictures would show {fit.drawn}: the shape is {fit.off:.0%} off"
            )
            fix = "check the measures under [body] or of the cone; if they are right, leave this blank out"
            yield Hit("drawn-wrong", what, fix, {"off": round(fit.off, 3)})
            return


@check(
    "picture/art-cut-off",
    subject=Placed,
    codes={"no-place": Severity.STOP},
    why="A plate shows ink where its body takes it. Art that lies higher, lower or further out has no place "
    "in the picture: the buyer sees half a design, or none.",
    example="Art 130 mm high on a travel mug whose coat, as pictured, is 98 mm high.",
    fix="Check rim_clearance_mm and the print area's height in the blank's file; where they are right, lay "
    "the art smaller or further in, or leave the blank out.",
    known_limits="Looks at the art's box, not at its ink. What is turned away round the body counts as "
    "shown: another view shows it.",
    source="the plates' own geometry; 1 %: common practice, no source",
)
def art_cut_off(placed: Placed) -> Iterator[Hit]:
    """All of the art is seen in the pictures."""
    sight, area = placed.evidence.sight, replace(placed.layout.area, for_sizes=())
    shown = (replace(one, for_sizes=()) for one in shown_areas(placed.blank))
    if sight is None or area not in shown:
        return
    lost = max(map(sight.lost, placed.layout.placements))
    if lost > LOST:
        what = f"{lost:.0%} of the art would be cut off in its pictures: their body has no place for it"
        fix = "check rim_clearance_mm and the print area, or lay the art smaller or further in"
        yield Hit("no-place", what, fix, {"lost": round(lost, 3)})
