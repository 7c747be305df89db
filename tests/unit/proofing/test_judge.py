"""A good subject gives nothing; break one thing and get exactly its code."""

from dataclasses import replace

import pytest
from proofing_subjects import (
    BLACK,
    CREAM,
    FLASK,
    MUG,
    NAVY,
    RED,
    SHIRT,
    WHITE,
    blank,
    colour,
    facts,
    in_ink,
    placed,
)

from hundredfold.catalogue.blanks import Blank, BlankColour, Body
from hundredfold.catalogue.processes import Material, Process
from hundredfold.designs.facts import Box, DesignFacts, InkColour
from hundredfold.kernel.findings import Finding, Severity
from hundredfold.placement.layout import lay_out
from hundredfold.proofing.runchecks import judge, judge_blank, judge_decorated, judge_design

TALL = facts(3600, 4500)


def codes(found: tuple[Finding, ...]) -> list[tuple[str, str]]:
    return [(finding.check, finding.code) for finding in found]


def judged(art: DesignFacts, on: Blank, in_colour: BlankColour) -> list[tuple[str, str]]:
    return codes(judge("art.png", art, on, in_colour, placed(art, on)))


GOOD: list[tuple[str, DesignFacts, Blank, BlankColour]] = [
    ("navy on a white mug", facts(), MUG, WHITE),
    ("navy on a cream mug", facts(), MUG, CREAM),
    ("red on a white mug", in_ink(facts(), "#b01e2e"), MUG, WHITE),
    ("black on a white shirt", in_ink(TALL, "#000000"), SHIRT, WHITE),
    ("white on a black shirt", in_ink(TALL, "#ffffff"), SHIRT, BLACK),
    ("yellow on a navy shirt", in_ink(TALL, "#f2c230"), SHIRT, NAVY),
    ("white on a red shirt", in_ink(TALL, "#ffffff"), SHIRT, RED),
    ("any ink engraved on navy", in_ink(TALL, "#000080"), FLASK, NAVY),
    ("any ink engraved on black", in_ink(TALL, "#000000"), FLASK, BLACK),
    ("square art on a wide wrap", facts(3200, 3200), MUG, WHITE),
    ("a wide art on a wide wrap", facts(5000, 2000), MUG, WHITE),
    ("a picture that fills its file", replace(facts(), edge_share=1.0, has_alpha=False), MUG, WHITE),
    ("soft ink on bare white cloth", replace(in_ink(TALL, "#000000"), soft_share=0.3), SHIRT, WHITE),
    ("soft ink in sublimation", replace(facts(), soft_share=0.5), MUG, WHITE),
    (
        "a round seal in a file cropped to it",
        replace(facts(3200, 3200), ink=Box(0, 0, 3200, 3200), edge_share=0.04),
        MUG,
        WHITE,
    ),
    ("two specks", replace(facts(), specks=2), MUG, WHITE),
    ("a vector of few pixels", replace(facts(400, 320), vector=True, file_format="svg"), MUG, WHITE),
    ("a little of the outline lost", in_ink(TALL, "#ffffff", "#f2c230", "#14213d"), SHIRT, NAVY),
]
Breaking = tuple[tuple[str, str], DesignFacts, Blank, BlankColour]
BAD: list[Breaking] = [
    (("art/empty", "no-ink"), replace(facts(), ink_share=0.0, inks=(), outline=()), MUG, WHITE),
    (
        ("art/empty", "one-flat-colour"),
        replace(in_ink(facts(), "#1b2a4e"), ink_share=1.0, opaque_border=True, edge_share=1.0, outline=()),
        MUG,
        WHITE,
    ),
    (("art/touches-edge", "cut-off"), replace(facts(), edge_share=0.05), MUG, WHITE),
    (("art/file", "odd"), replace(facts(), remarks=("its name says JPEG, but it is PNG",)), MUG, WHITE),
    (("art/stray-specks", "specks"), replace(facts(), specks=11), MUG, WHITE),
    (("art/background-box", "one-colour"), replace(facts(), opaque_border=True, edge_share=1.0), MUG, WHITE),
    (("catalogue/process-and-material", "cannot-take"), facts(), blank(material=Material.COTTON), WHITE),
    (("catalogue/process-and-material", "cannot-take"), facts(), blank(process=Process.DTG), WHITE),
    (("ink/colour-shift", "colours-shift"), in_ink(facts(), "#30c0ff"), MUG, colour("lemon", "#f5e08c")),
    (
        ("ink/colour-shift", "white-lost"),
        replace(facts(), inks=(InkColour("#1b2a4e", 0.6), InkColour("#ffffff", 0.4))),
        MUG,
        colour("sky", "#bcd7e8"),
    ),
    (
        ("ink/colour-shift", "white-tinted"),
        replace(facts(), inks=(InkColour("#1b2a4e", 0.8), InkColour("#ffffff", 0.2))),
        MUG,
        colour("sky", "#bcd7e8"),
    ),
    (("prints/too-few-pixels", "below-floor"), facts(600, 480), MUG, WHITE),
    (("prints/too-few-pixels", "below-target"), facts(1000, 900), MUG, WHITE),
    (("suits/orientation", "upright-on-wide"), facts(2400, 4800), MUG, WHITE),
    (("suits/orientation", "wide-on-upright"), in_ink(facts(4800, 1600), "#000000"), SHIRT, WHITE),
    (("ink/dark-blank", "nothing-shows"), facts(), MUG, colour("midnight", "#10131f")),
    (("ink/soft-on-underbase", "fringe"), replace(in_ink(TALL, "#ffffff"), soft_share=0.2), SHIRT, BLACK),
    (("blank/outline-contrast", "lost"), in_ink(facts(), "#ffffff"), MUG, WHITE),
    (("blank/outline-contrast", "lost"), in_ink(TALL, "#14213d"), SHIRT, NAVY),
    (("blank/outline-contrast", "lost"), in_ink(TALL, "#000000"), SHIRT, BLACK),
    (("blank/outline-contrast", "weak"), in_ink(TALL, "#4a5078"), SHIRT, NAVY),
    (("blank/outline-contrast", "weak"), in_ink(facts(), "#ffd800"), MUG, WHITE),
]


@pytest.mark.parametrize(("title", "art", "on", "in_colour"), GOOD, ids=[row[0] for row in GOOD])
def test_good_subjects_give_nothing(title: str, art: DesignFacts, on: Blank, in_colour: BlankColour) -> None:
    assert judged(art, on, in_colour) == []


@pytest.mark.parametrize(("expected", "art", "on", "in_colour"), BAD)
def test_one_broken_thing_gives_its_code(
    expected: tuple[str, str], art: DesignFacts, on: Blank, in_colour: BlankColour
) -> None:
    assert judged(art, on, in_colour) == [expected]


def test_judging_a_design_or_a_blank_alone() -> None:
    assert codes(judge_design("a.png", replace(facts(), ink=Box(0, 0, 0, 0), inks=()))) == [
        ("art/empty", "no-ink")
    ]
    bad = blank(material=Material.LINEN)
    assert codes(judge_blank(bad)) == [("catalogue/process-and-material", "cannot-take")]


def test_the_worst_comes_first_and_says_what_it_is_about() -> None:
    art = replace(in_ink(facts(), "#ffffff"), specks=9)
    first, second = judge("gull.png", art, MUG, WHITE, placed(art, MUG))
    assert (first.severity, first.item) == (Severity.STOP, "gull.png on MUG-325, white")
    assert (second.severity, second.item) == (Severity.WARN, "gull.png")
    assert "100% of the art's outline" in first.what


@pytest.mark.parametrize("just", [1.0, 0.99], ids=["at the limit", "under it"])
def test_dpi_limits_are_where_the_profile_says(just: float) -> None:
    place = replace(placed(facts(), MUG), effective_dpi=250 * just)
    found = judge("a.png", facts(), MUG, WHITE, place)
    assert codes(found) == ([] if just == 1 else [("prints/too-few-pixels", "below-target")])


def test_a_black_outline_round_white_letters_saves_them_on_black() -> None:
    art = replace(in_ink(TALL, "#000000"), inks=(InkColour("#ffffff", 0.6), InkColour("#000000", 0.4)))
    assert ("blank/outline-contrast", "lost") not in judged(art, SHIRT, BLACK)


def test_the_limit_of_faint_and_the_whole_outlines_contrast_are_told_apart() -> None:
    yellow = in_ink(facts(), "#ffd800")
    (found,) = judge("sun.png", yellow, MUG, WHITE, placed(yellow, MUG))
    # WCAG 2.2: the relative luminance of #ffd800 is 0.704, so white has 1.05 / 0.754 = 1.4 to 1 on it.
    assert "is faint on this colour (under 2:1; the whole outline has 1.4:1; " in found.what


def test_white_is_no_ink_in_sublimation() -> None:
    assert judged(in_ink(facts(), "#ffffff"), MUG, CREAM) == [("blank/outline-contrast", "lost")]


def test_what_is_wrong_with_a_blank_itself() -> None:
    gone = replace(MUG, variants=tuple(replace(v, in_stock=False) for v in MUG.variants))
    assert codes(judge_blank(gone)) == [("catalogue/nothing-to-sell", "none-offered")]
    thin = replace(MUG, body=Body(diameter_mm=60))
    assert codes(judge_blank(thin)) == [("catalogue/wrap-and-girth", "wider-than-round")]
    deep = replace(MUG, body=Body(diameter_mm=82, height_mm=60, capacity_ml=325))
    assert codes(judge_blank(deep)) == [
        ("catalogue/capacity-and-body", "more-than-outside"),
        ("picture/other-shape", "drawn-wrong"),  # 82 x 60 mm is no mug that a plate shows
    ]
    clear = replace(MUG, colours=(replace(MUG.colours[0], name="Clear"),))
    assert codes(judge_blank(clear)) == [("catalogue/bare-material", "shown-as-coat")]
    lent = replace(MUG, borrowed=("diameter_mm",))
    assert ("catalogue/borrowed-measures", "not-measured") in codes(judge_blank(lent))
    sized = replace(thin, variants=tuple(replace(MUG.variants[0], size=size) for size in ("S", "M")))
    assert ("catalogue/measures-of-sizes", "size-unknown") in codes(judge_blank(sized))


def test_a_drinking_rim_is_spoken_of_once_a_blank_and_not_where_its_band_is_kept_free() -> None:
    # 20 mm: lip-and-rim test, Canada SOR/2016-175, schedule, method 2, quoting ASTM C927-80.
    mug = replace(MUG, drinkware=True, body=replace(MUG.body, rim_clearance_mm=8))
    layouts = [lay_out(ink, mug, mug.areas[0]) for ink in (Box(0, 0, 300, 300), Box(0, 0, 200, 900))]
    (found,) = judge_decorated(mug, layouts)
    assert codes((found,)) == [("blank/drinking-rim", "within-band")]
    assert found.item == "MUG-325"
    assert found.numbers["band_mm"] == 20
    assert "follow the rules where you sell" in found.fix
    free = replace(mug, rim_keep_out_mm=20.0)
    assert judge_decorated(free, [lay_out(Box(0, 0, 300, 300), free, free.areas[0])]) == ()
    assert judge_decorated(replace(mug, drinkware=False), layouts) == ()
