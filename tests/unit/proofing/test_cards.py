"""A design's card on the proof sheet: advice for what stopped it, and swatches that agree with the words."""

import re
import zlib
from base64 import a85decode
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray
from proofing_subjects import MUG, NAVY, SHIRT, WHITE, art_facts, facts, in_ink

from hundredfold.catalogue.blanks import Blank
from hundredfold.designs.design import Design
from hundredfold.proofing.proof import DesignProof, prove
from hundredfold.proofing.readings import Look
from hundredfold.proofing.repair.advice import Advice
from hundredfold.proofing.repair.changes import Change, Kind
from hundredfold.proofing.sheet.cards import STATES, Card, Sheet, card_of
from hundredfold.proofing.sheet.paper import paper

INK = "#14213d"
SLOGAN = Design("d1", "dip.png", in_ink(facts(3600, 4500), INK), "Dip", ())
NAVY_SHIRT = replace(SHIRT, colours=(NAVY,), variants=(SHIRT.variants[1],))
ON_NAVY = Look(NAVY.srgb.hex, False, "", 40)
ENLARGE = Advice(None, 0.0, (ON_NAVY,), (), "the words are too small", "enlarge", 1.4)
REDRAW = Advice(None, 0.0, (ON_NAVY,), (), "no outline makes it pass", "redraw the art")


def proof(*blanks: Blank, letters_px: float = 400.0) -> DesignProof:
    lines = tuple(replace(line, letter_px=letters_px) for line in art_facts().lines)
    return prove(SLOGAN, replace(art_facts(INK), lines=lines), blanks)


def nothing_drawn(*_: object) -> NDArray[np.uint8]:
    raise AssertionError("there is no art to draw")


def card(of: DesignProof, *advice: Advice) -> Card:
    return card_of(of, None, nothing_drawn, advice, 0, 0)


def test_of_an_outline_that_is_lost_the_size_of_words_is_no_advice() -> None:
    lost = proof(NAVY_SHIRT)
    (finding,) = lost.blanks[0].colours[0].findings
    assert finding.code == "lost"
    assert card(lost, ENLARGE).advice.casefold() == f"{finding.fix}.".casefold()
    assert card(lost, REDRAW).advice == "No outline makes it pass; redraw the art."


def test_what_was_found_for_another_ink_is_no_advice() -> None:
    other = replace(REDRAW, looks=(ON_NAVY._replace(transparent=True),))
    assert "redraw" not in card(proof(NAVY_SHIRT), other).advice


def test_a_change_that_serves_is_proposed() -> None:
    change = Change(Kind.OUTLINE, WHITE.srgb, 0.01)
    outline = replace(REDRAW, change=change)
    assert card(proof(NAVY_SHIRT), ENLARGE, outline).advice.startswith("Proposed: a white")


def test_a_warning_of_the_whole_blank_shows_on_each_of_its_colours() -> None:
    fine, small = proof(SHIRT), proof(SHIRT, letters_px=14.0)
    assert [one.code for one in small.blanks[0].findings] == ["small"]
    assert "look" not in {one.state for one in card(fine).strips[0].swatches}
    assert {one.state for one in card(small).strips[0].swatches} == {"look", "stop"}


def test_the_paper_explains_its_marks_as_the_page_does() -> None:
    one = card(proof(MUG, SHIRT))
    pdf = paper(Sheet("Shop", 1, 2, 3, 0, 1, (one,), (), 0))
    streams = re.findall(rb"stream\r?\n(.*?~>)\s*endstream", pdf, re.DOTALL)
    drawn = b"".join(zlib.decompress(a85decode(part, adobe=False)) for part in (s[:-2] for s in streams))
    assert [words for words in STATES.values() if f"({words})".encode() not in drawn] == []
