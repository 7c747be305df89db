"""The checks that need deep facts: a good subject gives nothing; break one thing, get exactly its code."""

import re
from dataclasses import replace

import pytest
from proofing_subjects import BLACK, FLASK, MUG, NAVY, SHIRT, WHITE, art_facts, blank, facts, in_ink, placed

from hundredfold.catalogue.blanks import Blank, BlankColour, Body, PrintArea
from hundredfold.catalogue.processes import Material
from hundredfold.designs.facts import DesignFacts
from hundredfold.kernel.colour import Srgb
from hundredfold.kernel.errors import ShopError
from hundredfold.placement.layout import AreaLayout
from hundredfold.placement.place import Placement
from hundredfold.proofing.art.facts import EdgeWindow, TextLine, Thin
from hundredfold.proofing.profile import Limits, Profile
from hundredfold.proofing.runchecks import Laid, judge, judge_unlaid
from hundredfold.proofing.subjects import Evidence, Gamut, Reading

TALL = facts(3600, 4500)
ROUND_MUG = replace(MUG, body=Body(diameter_mm=82, visible_width_mm=70))
LIMITED = blank(area=PrintArea("wrap", 2400, 1050, 300, max_bytes=20_000_000, safe_margin_mm=4))
Case = tuple[DesignFacts, Blank, BlankColour, Evidence]


def codes(
    art: DesignFacts, on: Blank, in_colour: BlankColour, more: Evidence, laid: Laid | None = None
) -> list[tuple[str, str]]:
    found = judge("art.png", art, on, in_colour, laid or placed(art, on), evidence=more)
    return [(finding.check, finding.code) for finding in found]


def with_art(**changes: object) -> Evidence:
    return Evidence(art=replace(art_facts(), **changes))  # type: ignore[arg-type]


def of(ink: str, **changes: object) -> Evidence:
    return Evidence(art=replace(art_facts(ink), **changes))  # type: ignore[arg-type]


def lines(letter_px: float, width: int = 1000, letters: int = 9) -> tuple[TextLine, ...]:
    return (TextLine(400, 400, 400 + width, 900, letter_px, letters, 0.99),)


WHITE_ART, BLACK_ART = in_ink(TALL, "#ffffff"), in_ink(TALL, "#000000")
MUG_SCALE = 88.9 / 3000  # millimetres a pixel of facts() on MUG: the wrap's height over the ink's

TWO_TONES = Evidence(art=art_facts("#000000", "#ffffff"))
TOO_MANY_BYTES = Evidence(print_bytes=31_000_000)

GOOD: dict[str, Case] = {
    "plain art with deep facts": (facts(), MUG, WHITE, with_art()),
    "white letters in a black outline on black": (
        BLACK_ART, SHIRT, BLACK, TWO_TONES,
    ),
    "white letters in a black outline on white": (
        BLACK_ART, SHIRT, WHITE, TWO_TONES,
    ),
    "navy letters in a thick white outline sublimated on white": (
        in_ink(facts(), "#1b2a4e"), MUG, WHITE, Evidence(art=art_facts("#1b2a4e", "#ffffff")),
    ),
    "a single tone engraved": (BLACK_ART, FLASK, NAVY, of("#000000")),
    "a little shading engraved": (
        BLACK_ART, FLASK, NAVY,
        with_art(windows=(EdgeWindow("#000000", "#000000", 0.8), EdgeWindow("#000000", "#ffffff", 0.2))),
    ),
    "a hairline shorter than matters": (facts(), MUG, WHITE, with_art(strokes=(Thin(1.0, 100.0),))),
    "lines of a third of a millimetre on a mug": (facts(), MUG, WHITE, with_art(strokes=(Thin(12.0, 9e3),))),
    "words typeset tall enough beside fine ornament": (
        facts(), MUG, WHITE, replace(with_art(lines=lines(20)), type_px=2 / MUG_SCALE),
    ),
    "upright art that fills the face of a mug": (facts(2400, 4000), ROUND_MUG, WHITE, with_art()),
    "dots of ornament": (facts(), MUG, WHITE, with_art(lines=lines(20, letters=3))),
    "a wrap narrower than the face": (
        facts(3000, 3200), replace(ROUND_MUG, body=Body(82.0)), WHITE, with_art(),
    ),
    "a hard rim on a black shirt": (WHITE_ART, SHIRT, BLACK, of("#ffffff")),
    "a soft rim on a white mug": (facts(), MUG, WHITE, with_art(soft_band_px=20.0)),
    "words that are read": (facts(), MUG, WHITE, Evidence(reading=Reading(0.93, 120))),
    "a little out of gamut": (facts(), MUG, WHITE, Evidence(gamut=Gamut(0.1, 5.0, "coated"))),
    "a file the partner takes": (facts(4000, 3000), LIMITED, WHITE, Evidence(print_bytes=19_000_000)),
}  # fmt: skip
BAD: list[tuple[tuple[str, str], Case]] = [
    (("art/background-box", "inset-box"), (facts(), MUG, WHITE, with_art(inset_box=True))),
    (("prints/thin-lines", "lines"), (facts(), MUG, WHITE, with_art(strokes=(Thin(2.0, 9000.0),)))),
    (("prints/thin-lines", "gaps"), (facts(), MUG, WHITE, with_art(gaps=(Thin(4.0, 9000.0),)))),
    (("prints/thin-lines", "lines"), (BLACK_ART, SHIRT, WHITE, with_art(strokes=(Thin(3.0, 9000.0),)))),
    (("suits/small-words", "small"), (facts(), MUG, WHITE, with_art(lines=lines(1.3 / MUG_SCALE)))),
    (
        ("suits/small-words", "small"),
        (facts(), MUG, WHITE, with_art(lines=lines(0.9 / MUG_SCALE) + lines(400))),
    ),
    (("suits/small-words", "too-small"), (facts(), MUG, WHITE, with_art(lines=lines(0.9 / MUG_SCALE)))),
    (("prints/banding", "steps"), (facts(), MUG, WHITE, with_art(step_share=0.2, step_px=30.0))),
    (("suits/visible-face", "turns-away"), (facts(), ROUND_MUG, WHITE, with_art())),
    (
        ("suits/visible-face", "words-turn-away"),
        (facts(), ROUND_MUG, WHITE, with_art(lines=lines(400, width=3400))),
    ),
    (
        ("ink/rim", "halo"),
        (WHITE_ART, SHIRT, BLACK, of("#ffffff", soft_band_px=9.0)),
    ),
    (
        ("ink/rim", "pale-fringe"),
        (in_ink(TALL, "#f2c230"), SHIRT, NAVY, of("#f2c230", fringe_share=0.5)),
    ),
    (
        ("ink/one-tone", "detail-merges"),
        (BLACK_ART, FLASK, NAVY, TWO_TONES),
    ),
    (("ink/out-of-gamut", "duller"), (facts(), MUG, WHITE, Evidence(gamut=Gamut(0.6, 12.0, "coated")))),
    (("reads/thumbnail", "unreadable"), (facts(), MUG, WHITE, Evidence(reading=Reading(0.1, 70)))),
    (("reads/thumbnail", "doubtful"), (facts(), MUG, WHITE, Evidence(reading=Reading(0.5, 90)))),
    (
        ("reads/thumbnail", "picture-first"),
        (facts(), MUG, WHITE, Evidence(reading=Reading(0.1, 90, 0.1, 0.04))),
    ),
    (
        ("reads/thumbnail", "doubtful"),
        (facts(), MUG, WHITE, Evidence(reading=Reading(0.1, 90, 0.1, 0.04, best=0.9))),
    ),
    (
        ("blank/outline-contrast", "part-lost"),
        (
            BLACK_ART,
            SHIRT,
            BLACK,
            with_art(windows=(EdgeWindow("#000000", "#000000", 0.4), EdgeWindow("#f2c230", "#f2c230", 0.6))),
        ),
    ),
    (
        ("suits/small-words", "small"),
        (facts(), MUG, WHITE, Evidence(art=art_facts(), type_px=1.3 / MUG_SCALE)),
    ),
    (("reads/thumbnail", "small-lines"), (facts(), MUG, WHITE, Evidence(reading=Reading(0.1, 90, 0.95)))),
    (
        ("prints/file-size", "too-large"),
        (facts(4000, 3000), LIMITED, WHITE, TOO_MANY_BYTES),
    ),
    (("blank/outline-contrast", "lost"), (BLACK_ART, SHIRT, BLACK, of("#000000"))),
    (
        ("blank/outline-contrast", "weak"),
        (in_ink(TALL, "#4a5078"), SHIRT, NAVY, of("#4a5078")),
    ),
]


@pytest.mark.parametrize("name", GOOD)
def test_good_subjects_give_nothing(name: str) -> None:
    assert codes(*GOOD[name]) == []


@pytest.mark.parametrize(("expected", "case"), BAD)
def test_one_broken_thing_gives_its_code(expected: tuple[str, str], case: Case) -> None:
    assert codes(*case) == [expected]


@pytest.mark.parametrize(
    ("left", "expected"),
    [(50, []), (40, [("prints/outside-safe", "outside-safe")]), (-5, [("prints/outside-safe", "off-area")])],
)
def test_art_outside_the_safe_area_or_off_the_print_area(left: int, expected: list[tuple[str, str]]) -> None:
    art = facts(4000, 3000)
    place = replace(placed(art, LIMITED), left_px=left)
    assert codes(art, LIMITED, WHITE, Evidence(), place) == expected


def test_art_cropped_on_purpose_may_leave_the_safe_area() -> None:
    art = facts(4000, 3000)
    place = Placement(LIMITED.areas[0], replace(art.ink, top=400), 0, 0, 2400, 1050, 400.0)
    assert codes(art, LIMITED, WHITE, Evidence(), place) == []


def test_upright_art_on_both_faces_of_a_mug_is_not_the_wrong_way_round() -> None:
    art = facts(2400, 4800)
    one = placed(art, MUG)
    assert codes(art, MUG, WHITE, Evidence(), one) == [("suits/orientation", "upright-on-wide")]
    wide = replace(one, width_px=700)
    both = AreaLayout(MUG.areas[0], (replace(wide, left_px=100), replace(wide, left_px=1500)))
    assert codes(art, MUG, WHITE, Evidence(), both) == []


def test_cloth_asks_for_more_than_a_glaze() -> None:
    thin = with_art(strokes=(Thin(5.0, 9000.0),))  # 0.15 mm on the mug, 0.42 pt
    assert codes(facts(), MUG, WHITE, thin) == []
    cushion = blank(material=Material.POLYESTER)
    assert codes(facts(), cushion, WHITE, thin) == [("prints/thin-lines", "lines")]


def test_red_on_green_is_lost_to_some_when_asked() -> None:
    green = BlankColour("green", "green", Srgb.parse("#5f7020"), underbase=True)
    art = in_ink(TALL, "#a45626")
    assert codes(art, SHIRT, green, Evidence()) == [("blank/outline-contrast", "weak")]
    asked = Profile(Limits(colour_vision=1))
    found = judge("art.png", art, SHIRT, green, placed(art, SHIRT), profile=asked)
    assert ("blank/colour-vision", "lost-to-some") in [(one.check, one.code) for one in found]


def test_a_design_without_room_is_stopped() -> None:
    (finding,) = judge_unlaid(
        "a.png", MUG, ShopError("no-room-for-art", "nothing is left", "shrink the keep-outs")
    )
    assert [(finding.check, finding.code)] == [("suits/room", "no-room")]
    assert finding.what == "nothing is left"


@pytest.mark.parametrize("letters_mm", [1.33, 1.37, 1.396])
def test_a_measure_is_told_with_the_digits_that_tell_it_from_its_limit(letters_mm: float) -> None:
    small = with_art(lines=lines(letters_mm / MUG_SCALE))
    (found,) = judge("art.png", facts(), MUG, WHITE, placed(facts(), MUG), evidence=small)
    said, wanted = re.findall(r"([\d.]+) mm", found.what)
    assert float(said) < float(wanted) == 1.4
