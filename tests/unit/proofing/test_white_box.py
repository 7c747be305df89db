"""A white page left behind the art: a stop wherever it would be seen on the goods."""

from dataclasses import replace

import pytest
from proofing_subjects import BLACK, FLASK, MUG, NAVY, SHIRT, WHITE, art_facts, colour, facts, in_ink, placed

from hundredfold.catalogue.blanks import Blank, BlankColour
from hundredfold.catalogue.processes import Process
from hundredfold.designs.facts import DesignFacts
from hundredfold.kernel.findings import Severity
from hundredfold.proofing.runchecks import judge
from hundredfold.proofing.subjects import NO_EVIDENCE, Evidence

FILM = replace(SHIRT, process=Process.DTF)
SKY = colour("sky", "#bcd7e8")


def page(ground: str, ink: str = "#14213d") -> DesignFacts:
    """A JPEG: the drawing with its page, whose colour is all of the outline."""
    drawn = in_ink(facts(), ink, ground)
    outline = tuple(replace(one, hex=ground) for one in drawn.outline[:1])
    return replace(drawn, file_format="jpeg", opaque_border=True, edge_share=1.0, outline=outline)


def stops(art: DesignFacts, on: Blank, in_colour: BlankColour, evidence: Evidence = NO_EVIDENCE) -> list[str]:
    found = judge("a.jpg", art, on, in_colour, placed(art, on), evidence=evidence)
    return [one.code for one in found if one.check == "ink/box-shows" and one.severity is Severity.STOP]


def test_it_is_told_as_one_thing() -> None:
    found = judge("a.jpg", page("#ffffff"), SHIRT, BLACK, placed(page("#ffffff"), SHIRT))
    assert [one.kind for one in found if one.severity is Severity.STOP] == [("ink/box-shows", "white-box")]
    laser = judge("a.jpg", page("#ffffff"), FLASK, BLACK, placed(page("#ffffff"), FLASK))
    assert ("ink/box-shows", "engraved-box") in [one.kind for one in laser]


@pytest.mark.parametrize("ground", ["#ffffff", "#f7f6f2"])
@pytest.mark.parametrize(("on", "in_colour"), [(SHIRT, BLACK), (SHIRT, NAVY), (FILM, WHITE), (FILM, SKY)])
def test_where_white_prints_a_white_page_is_a_stop(ground: str, on: Blank, in_colour: BlankColour) -> None:
    assert stops(page(ground), on, in_colour) == ["white-box"]


def test_a_page_that_tints_a_coloured_mug_is_a_stop_and_one_that_vanishes_is_none() -> None:
    assert stops(page("#efe9dc"), MUG, SKY) == ["white-box"]
    assert stops(page("#ffffff"), MUG, SKY) == []  # transparent ink: white prints nothing
    assert stops(page("#ffffff"), MUG, WHITE) == []
    assert stops(page("#ffffff"), SHIRT, WHITE) == []


def test_a_laser_engraves_the_whole_page() -> None:
    assert stops(page("#ffffff"), FLASK, BLACK) == ["engraved-box"]


def test_a_white_box_inside_a_transparent_file_is_one_too() -> None:
    art = replace(page("#ffffff"), opaque_border=False, edge_share=0.0)
    inset = Evidence(art=replace(art_facts("#ffffff"), inset_box=True))
    assert stops(art, SHIRT, BLACK, inset) == ["white-box"]
    assert stops(art, SHIRT, BLACK) == []


def test_a_picture_that_fills_its_page_with_a_colour_is_no_white_box() -> None:
    assert stops(page("#2a6b4f"), SHIRT, BLACK) == []
