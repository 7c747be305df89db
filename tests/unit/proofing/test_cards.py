"""A design's card on the proof sheet: advice for what stopped it, and swatches that agree with the words."""

import re
import zlib
from base64 import a85decode
from dataclasses import replace
from html import escape
from math import inf
from pathlib import Path
from typing import Any
from unicodedata import bidirectional

import numpy as np
import pytest
from numpy.typing import NDArray
from proofing_subjects import MUG, NAVY, SHIRT, WHITE, art_facts, facts, in_ink

from hundredfold.catalogue.blanks import Blank
from hundredfold.designs.design import Design
from hundredfold.designs.facts import Box
from hundredfold.designs.typesetting.outline import as_cubics
from hundredfold.proofing.designproof import DesignProof, prove
from hundredfold.proofing.reading.art import SmallArt
from hundredfold.proofing.readings import Look
from hundredfold.proofing.repair.advice import Advice
from hundredfold.proofing.repair.changes import Change, Kind
from hundredfold.proofing.sheet.cards import GLOSSARY, STATES, Card, ProofSheet, card_of
from hundredfold.proofing.sheet.faces import SERIF, Faces, letters_of
from hundredfold.proofing.sheet.page import page
from hundredfold.proofing.sheet.paper import paper
from hundredfold.workshop.proof.paperfonts import paper_fonts

INK = "#14213d"
NO_FOLDER = Path("no folder of fonts")
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


def test_a_white_page_is_shown_on_the_colour_that_shows_it_most() -> None:
    drawn = in_ink(facts(3600, 4500), INK, "#ffffff")
    page_of = replace(drawn, opaque_border=True, edge_share=1.0, outline=drawn.outline[1:])
    of = prove(replace(SLOGAN, facts=page_of), None, [SHIRT])  # white, navy, black, red
    told = card(of).sentence
    assert told.startswith("Ceramic mug 325 ml in black: the art has a white background")


def test_art_that_an_outline_made_larger_is_laid_out_again() -> None:
    change = Change(Kind.OUTLINE, WHITE.srgb, 0.05)
    small = np.full((100, 400, 4), 255, np.uint8)
    wide = replace(SLOGAN, facts=replace(SLOGAN.facts, ink=Box(0, 0, 4000, 1000)))
    of = prove(wide, art_facts(INK), [NAVY_SHIRT])
    asked = []

    def draw(*wanted: Any) -> NDArray[np.uint8]:
        asked.append(wanted)
        return np.zeros((8, 8, 3), np.uint8)

    card_of(of, SmallArt(small), draw, [replace(REDRAW, change=change)], 0, 1)
    plain, outlined = ((layout.placements[0], ink, art) for _, _, layout, ink, art in asked)
    assert plain[2].shape == small.shape
    assert outlined[2].shape[1] > 430
    for place, ink, art in (plain, outlined):
        assert place.crop == ink
        assert place.width_px / place.height_px == pytest.approx(art.shape[1] / art.shape[0], rel=0.01)


def test_a_warning_of_the_whole_blank_shows_on_each_of_its_colours() -> None:
    fine, small = proof(SHIRT), proof(SHIRT, letters_px=14.0)
    assert [one.code for one in small.blanks[0].findings] == ["small"]
    assert "look" not in {one.state for one in card(fine).strips[0].swatches}
    assert {one.state for one in card(small).strips[0].swatches} == {"look", "stop"}


def drawn(pdf: bytes) -> bytes:
    """Everything in the PDF's streams."""
    parts = re.findall(rb"stream\r?\n(.*?)\s*endstream", pdf, re.DOTALL)
    packed = (a85decode(part[:-2]) if part.endswith(b"~>") else part for part in parts)
    return b"\n".join(zlib.decompressobj().decompress(part) for part in packed)


def sheet(*cards: Card, shop: str = "Shop") -> ProofSheet:
    return ProofSheet(shop, 1, 2, 3, 0, 1, cards, (), 0)


def on_paper(one: ProofSheet) -> bytes:
    return paper(one, paper_fonts(letters_of(one), NO_FOLDER))


def test_the_paper_explains_its_marks_and_words_as_the_page_does() -> None:
    one = sheet(card(proof(MUG, SHIRT)))
    lines = re.findall(rb"\(((?:[^()\\]|\\.)*)\) Tj", drawn(on_paper(one)))
    text, html = b"".join(lines).replace(b" ", b"").decode("latin-1"), page(one)
    assert [words for words in STATES.values() if words.replace(" ", "") not in text] == []
    for word, meaning in GLOSSARY:
        assert f"{word}{meaning}".replace(" ", "") in text
        assert f"<dt>{word}</dt> <dd>{escape(meaning)}</dd>" in html


def test_the_same_sheet_is_the_same_paper() -> None:
    one = sheet(card(proof(MUG, SHIRT)))
    assert on_paper(one) == on_paper(one)


@pytest.mark.parametrize("name", ["Пчеловод", "Μέλισσα", "Łódź"])
def test_letters_beyond_latin_are_letters_on_paper(name: str) -> None:
    text = drawn(on_paper(sheet(replace(card(proof(MUG)), name=name))))
    # Its map to Unicode lists every character that a font of the PDF shows (ISO 32000-1, 9.10.3).
    known = set(re.findall(rb"<([0-9A-Fa-f]{4})>", text))
    assert {f"{ord(letter):04X}".encode() for letter in name} <= {code.upper() for code in known}


@pytest.mark.parametrize("name", ["شاي بالنعناع", "גננת ראשית", "สวนผัก", "मेरा बगीचा"])
def test_a_script_that_must_be_shaped_is_drawn_by_its_own_font(name: str) -> None:
    one = sheet(replace(card(proof(MUG)), name=name))
    fonts = paper_fonts(letters_of(one), NO_FOLDER)
    assert any(font.covers(name) for font in fonts.more)
    (line,) = Faces(fonts, letters_of(one)).lines(SERIF, name, 12, 1000)
    assert line.right_to_left == (bidirectional(name[0]) in ("R", "AL"))
    asked = drawn(paper(one, fonts))
    without = drawn(paper(one, replace(fonts, more=())))
    (unknown,) = Faces(replace(fonts, more=()), letters_of(one)).lines(SERIF, name, 12, 1000)
    more, fewer = (len(as_cubics(each.outline, inf)[0]) for each in (line, unknown))
    assert curves(asked) - curves(without) == more - fewer != 0


def curves(drawing: bytes) -> int:
    return len(re.findall(rb"[\d.] c\b", drawing))


def test_a_card_has_the_title_that_its_listings_have() -> None:
    named = replace(SLOGAN, title="my other family, 40,000 in ALL")
    assert card(prove(named, art_facts(INK), [MUG])).name == "My Other Family, 40,000 in ALL"
