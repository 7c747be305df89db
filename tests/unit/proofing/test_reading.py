"""Reading in the thumbnail: rows of letters found, what contrast and size do, what has no text."""

import time

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from reading_art import BLACK, DEEP, NAVY, WHITE, disc, lettered

from hundredfold.kernel.colour import Srgb, contrast_ratio, linear_of, relative_luminance
from hundredfold.proofing.reading.facts import facts_for_reading, packed_facts, unpacked_facts
from hundredfold.proofing.reading.predict import chance_read
from hundredfold.workshop.steps.readingtrees import reading_trees

TREES = reading_trees()
WORDS = ("MUDDY", "BEEKEEPER")
DARK = facts_for_reading(lettered(WORDS, NAVY), TREES)


def chance(facts: object, blank: tuple[int, int, int], width: int = 160, dye: bool = False) -> float:
    reading = chance_read(facts, Srgb(*blank), transparent_ink=dye, art_width_px=width)  # type: ignore[arg-type]
    assert reading.chance is not None
    return reading.chance


def test_each_line_of_text_is_found_where_it_is() -> None:
    reading = chance_read(DARK, Srgb(*WHITE), transparent_ink=False, art_width_px=160)
    assert len(reading.lines) == 2
    first, second = reading.lines
    assert first.box[3] < second.box[1]
    assert second.box[0] == pytest.approx(0, abs=0.02)
    assert second.box[2] == pytest.approx(1, abs=0.02)
    assert first.letter_height_px == pytest.approx(second.letter_height_px, rel=0.1)


def test_dark_on_light_is_read_and_dark_on_dark_is_not() -> None:
    assert chance(DARK, WHITE) > 0.9
    assert chance(DARK, DEEP) < 0.2


def test_dye_has_no_white() -> None:
    white = facts_for_reading(lettered(WORDS, WHITE), TREES)
    assert chance(white, NAVY) > 0.9
    assert chance(white, NAVY, dye=True) < 0.1


def test_a_ring_of_another_colour_makes_dark_letters_read_on_dark() -> None:
    ringed = facts_for_reading(lettered(WORDS, NAVY, ring=WHITE), TREES)
    assert chance(ringed, DEEP) > 0.6 > 0.2 > chance(DARK, DEEP)


def test_letters_inside_a_panel_are_read_against_the_panel() -> None:
    art = lettered(WORDS, WHITE)
    panel = np.full_like(art, 255)
    panel[..., :3] = (31, 74, 51)
    share = art[..., 3:] / 255
    panel[..., :3] = art[..., :3] * share + panel[..., :3] * (1 - share)
    on_panel = facts_for_reading(panel, TREES)
    assert chance(on_panel, WHITE) > 0.9
    assert chance(on_panel, (31, 74, 51)) > 0.9


def test_the_weakest_line_is_the_small_one() -> None:
    big, small = lettered(("HONEY",), NAVY, 200), lettered(("best before the frost",), NAVY, 34)
    art = np.zeros((big.shape[0] + small.shape[0], max(big.shape[1], small.shape[1]), 4), np.uint8)
    art[: big.shape[0], : big.shape[1]] = big
    art[big.shape[0] :, : small.shape[1]] = small
    reading = chance_read(facts_for_reading(art, TREES), Srgb(*WHITE), transparent_ink=False, art_width_px=70)
    weakest = min(reading.lines, key=lambda line: line.chance)
    assert weakest.box[1] > 0.5
    assert weakest.chance < 0.3 < max(line.chance for line in reading.lines)


@pytest.mark.parametrize("dye", [False, True])
def test_a_lighter_blank_never_hurts_dark_letters_much(dye: bool) -> None:
    ink = (72, 72, 72)
    grey_art = facts_for_reading(lettered(WORDS, ink), TREES)
    chances = [chance(grey_art, (grey, grey, grey), dye=dye) for grey in range(72, 256, 12)]
    drops = np.maximum.accumulate(chances) - chances
    assert drops.max() < 0.05, chances
    assert chances[-1] > 0.9
    if not dye:
        assert chances[0] < 0.1


def test_a_wider_picture_never_hurts_much() -> None:
    small = facts_for_reading(
        lettered(("the bees and kettles of harbour lane", "and the marsh beyond"), NAVY, 60), TREES
    )
    chances = [chance(small, (205, 181, 146), width) for width in range(60, 241, 12)]
    drops = np.maximum.accumulate(chances) - chances
    assert drops.max() < 0.1, chances
    assert chances[0] < 0.5 < 0.9 < chances[-1], chances


@settings(max_examples=25, deadline=None)
@given(st.tuples(*[st.integers(0, 255)] * 3))
def test_letters_the_colour_of_the_blank_are_never_read(blank: tuple[int, int, int]) -> None:
    ratio = contrast_ratio(*(relative_luminance(linear_of(Srgb(*c))) for c in (blank, NAVY)))
    reading = chance(DARK, blank)
    assert 0 <= reading <= 1
    if np.abs(np.subtract(blank, NAVY)).max() < 4:
        assert reading < 0.1
    if ratio > 7:
        assert reading > 0.8


def test_art_without_text_is_not_applicable() -> None:
    reading = chance_read(
        facts_for_reading(disc(NAVY), TREES), Srgb(*WHITE), transparent_ink=False, art_width_px=160
    )
    assert reading.chance is None
    assert not reading.applicable
    assert reading.lines == ()
    empty = facts_for_reading(np.zeros((50, 50, 4), np.uint8), TREES)
    assert not chance_read(empty, Srgb(*WHITE), transparent_ink=False, art_width_px=160).applicable


def test_wrong_art_and_wrong_widths_are_refused() -> None:
    with pytest.raises(ValueError, match="4 of 8 bits"):
        facts_for_reading(np.zeros((5, 5, 3), np.uint8), TREES)
    with pytest.raises(ValueError, match="width of 0"):
        chance_read(DARK, Srgb(*WHITE), transparent_ink=False, art_width_px=0)
    with pytest.raises(ValueError, match="packed"):
        unpacked_facts(b"no picture", TREES)


def test_facts_come_back_from_their_packing() -> None:
    again = unpacked_facts(packed_facts(DARK), TREES)
    assert len(packed_facts(DARK)) < 60_000
    for blank in (WHITE, BLACK, (179, 32, 44)):
        assert chance(again, blank) == chance(DARK, blank)
    assert (
        unpacked_facts(packed_facts(facts_for_reading(np.zeros((9, 9, 4), np.uint8), TREES)), TREES).art
        is None
    )


def test_forty_colours_take_under_half_a_second() -> None:
    facts = facts_for_reading(lettered((*WORDS, "since 1970"), NAVY, ring=WHITE), TREES)
    start = time.process_time()
    for n in range(40):
        chance(facts, (n * 6, 255 - n * 6, 128))
    assert time.process_time() - start < 0.5
