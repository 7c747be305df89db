"""What a picture does not show of the art: cut off by another body, or turned away with its first letters."""

from dataclasses import replace

from proofing_subjects import MUG, art_facts, facts

from hundredfold.catalogue.blanks import Blank, Body, PrintArea
from hundredfold.catalogue.forms import Form
from hundredfold.designs.facts import Box
from hundredfold.placement.place import Placement
from hundredfold.proofing.art.facts import TextLine
from hundredfold.proofing.runchecks import judge_placed
from hundredfold.proofing.subjects import Evidence
from hundredfold.workshop.proof.picturedareas import sights_of

INK = Box(100, 100, 3900, 3100)
TRAVEL = Body(diameter_mm=80, height_mm=170, rim_clearance_mm=35, visible_width_mm=68)
MUG_BODY = Body(diameter_mm=82, height_mm=95, rim_clearance_mm=8, visible_width_mm=70)
WRAP = PrintArea("wrap", 2480, 945, 300)


def seen(blank: Blank, at: tuple[int, int, int, int], *lines: TextLine) -> list[tuple[str, str]]:
    """What is found of art laid at left, top, width and height of the blank's area."""
    (area,) = blank.areas
    (sight,) = sights_of([blank]).values()
    evidence = Evidence(art=replace(art_facts(), lines=lines), sight=sight)
    laid = Placement(area, INK, *at, effective_dpi=300)
    return [one.kind for one in judge_placed("a.png", facts(), blank, laid, evidence=evidence)]


def mug(form: Form, body: Body, area: PrintArea) -> Blank:
    return replace(MUG, form=form, body=body, areas=(area,))


def test_art_that_the_pictured_body_has_no_place_for_is_a_stop() -> None:
    """As a band of 130 mm on a travel mug whose coat is 98 mm high."""
    tall = mug(Form.TRAVEL_MUG, TRAVEL, PrintArea("front", 886, 1535, 300))
    assert ("picture/art-cut-off", "no-place") in seen(tall, (0, 0, 886, 1535))
    assert ("picture/art-cut-off", "no-place") not in seen(tall, (100, 100, 600, 500))


def line(left: int, right: int, sure: float = 0.99) -> TextLine:
    return TextLine(left, 1400, right, 1700, 200.0, 9, sure)


def test_first_letters_turned_away_in_the_main_picture_are_told() -> None:
    """The right half of the wrap faces the first picture; a quarter from its end is seen best."""
    blank = mug(Form.MUG, MUG_BODY, WRAP)
    away = ("suits/visible-face", "words-turn-away")
    centred, early = (1500, 200, 700, 553), (1340, 200, 700, 553)
    assert away not in seen(blank, centred, line(100, 3900))
    assert away in seen(blank, early, line(100, 3900))
    assert away not in seen(blank, early, line(1400, 3900))  # words that begin later in the same art
    assert away not in seen(blank, early, line(100, 3900, sure=0.2))  # texture


def test_of_two_faces_the_one_that_is_seen_counts() -> None:
    blank = mug(Form.MUG, MUG_BODY, WRAP)
    assert ("suits/visible-face", "words-turn-away") in seen(blank, (300, 200, 700, 553), line(100, 3900))
