"""The least repair: the smallest width whose next step passes too, nothing worse, no counter closed."""

import cv2
import numpy as np
import pytest
from numpy.typing import NDArray
from test_lettering import lettered

from hundredfold.kernel.colour import Srgb
from hundredfold.proofing.profile import STANDARD
from hundredfold.proofing.reading.art import SmallArt
from hundredfold.proofing.reading.facts import facts_for_reading, facts_of
from hundredfold.proofing.readings import Look
from hundredfold.proofing.repair.advice import advice_as_json, advice_from_json, advice_of
from hundredfold.proofing.repair.changes import (
    Change,
    Kind,
    changed,
    open_counters,
    outlined,
    patched,
    recoloured,
)
from hundredfold.proofing.repair.search import (
    GRID_PX,
    LOST_ART,
    LOST_WORDS,
    NO_INK,
    SURE,
    Refusal,
    Repair,
    Rules,
    least_repair,
)
from hundredfold.proofing.repair.verdicts import STEADY, Verdict, measured, premultiplied, straight
from hundredfold.workshop.steps.readingtrees import reading_trees

TREES = reading_trees()
WHITE, BLACK, NAVY = Srgb(255, 255, 255), Srgb(20, 20, 20), Srgb(20, 33, 61)
ON_NAVY, ON_WHITE, ON_BLACK = (Look(code, False, "", 110) for code in ("#1f2a50", "#fdfdfb", "#141414"))
DYED_WHITE = Look("#f7f6f2", True, "", 110)
ONLY_OUTLINES = Rules(kinds=(Kind.OUTLINE,))
ANYTHING = Rules()


def words(
    ink: str, size: int = 230, family: str = "Lilita One", text: str = "BEE KEEPER"
) -> NDArray[np.uint8]:
    return lettered(family, text, size, ink)


def repaired(pixels: NDArray[np.uint8], ink: Srgb, looks: list[Look], rules: Rules = ANYTHING) -> object:
    return least_repair(facts_for_reading(pixels, TREES), [ink], looks, rules)


def after(pixels: NDArray[np.uint8], change: Change, look: Look) -> Verdict:
    """How the art fares with the change, asked anew."""
    words_before = facts_for_reading(pixels, TREES)
    assert words_before.art is not None
    fresh = changed(straight(words_before.art), change)
    return measured(facts_of(SmallArt(premultiplied(fresh)), TREES), fresh).in_look(look, STANDARD.limits)


def test_nothing_is_done_where_nothing_fails() -> None:
    assert repaired(words("#14213d"), NAVY, [ON_WHITE]) is None


def test_navy_on_navy_gets_an_outline_that_spares_white() -> None:
    pixels = words("#14213d")
    found = repaired(pixels, NAVY, [ON_NAVY, ON_WHITE, ON_BLACK], ONLY_OUTLINES)
    assert isinstance(found, Repair)
    assert (found.change.kind, found.change.ink) == (Kind.OUTLINE, WHITE)
    assert set(found.looks) == {ON_NAVY, ON_WHITE, ON_BLACK}
    for look in found.looks:
        before, now = found.before[look], found.after[look]
        assert now.passes(STANDARD.limits, SURE[Kind.OUTLINE] if look != ON_WHITE else 0.7)
        assert (now.chance or 0) >= (before.chance or 0) - 0.05


@pytest.mark.parametrize(
    ("family", "text", "art_px"), [("Lilita One", "BEES AND KETTLES", 70), ("Caveat", "bees and kettles", 75)]
)
def test_the_step_below_fails_and_the_next_passes_too(family: str, text: str, art_px: int) -> None:
    pixels = words("#14213d", size=150, family=family, text=text)
    look = ON_BLACK._replace(art_px=art_px)
    found = repaired(pixels, NAVY, [look], ONLY_OUTLINES)
    assert isinstance(found, Repair)
    place = GRID_PX.index(found.thumbnail_px)
    assert place >= 1, "a case where the narrowest width is not enough"
    assert found.change.share == pytest.approx(found.thumbnail_px / art_px)

    def passes(width: float) -> bool:
        now = after(pixels, Change(Kind.OUTLINE, found.change.ink, width / art_px), look)
        return now.shows(STANDARD.limits) and (now.every_word or 0.0) >= SURE[Kind.OUTLINE]

    assert [passes(GRID_PX[step]) for step in (place - 1, place, place + 1)] == [False, True, True]


def test_an_outline_that_would_harm_a_fine_colour_is_for_the_others_alone() -> None:
    pixels = words("#5a5c60", size=150, text="Bees And Kettles")
    near, fine = (Look(code, False, "", 75) for code in ("#606266", "#9a9a9e"))
    found = repaired(pixels, Srgb.parse("#5a5c60"), [near, fine], ONLY_OUTLINES)
    assert isinstance(found, Repair)
    assert found.looks == (near,)
    assert (found.before[fine].every_word or 0.0) >= STEADY
    assert (after(pixels, found.change, fine).every_word or 0.0) < STEADY
    wider = repaired(pixels, Srgb.parse("#5a5c60"), [near._replace(art_px=85), fine._replace(art_px=85)],
                     ONLY_OUTLINES)  # fmt: skip
    assert isinstance(wider, Repair)
    assert len(wider.looks) == 2, "where it harms nothing, one outline serves every colour"


def test_ink_that_is_printed_thin_throughout_gets_an_outline_and_stays_thin() -> None:
    thin = words("#14213d").copy()
    thin[..., 3] //= 3
    found = repaired(thin, NAVY, [ON_NAVY], ONLY_OUTLINES)
    assert isinstance(found, Repair)
    fresh = changed(thin, found.change)
    assert fresh[..., 3].max() == 255
    room = (fresh.shape[0] - thin.shape[0]) // 2
    inside = cv2.erode(np.pad(thin[..., 3], room), np.ones((9, 9), np.uint8)) == 85
    assert inside.sum() > 1000
    assert (fresh[inside, 3] == 85).all()


def test_art_that_another_ink_would_blot_out_keeps_its_ink() -> None:
    shape = lettered("Lilita One", "BEE KEEPER", 230, "#1c2c50", ground="#14213d")
    found = repaired(shape, NAVY, [ON_NAVY], Rules(kinds=(Kind.RECOLOUR,)))
    assert isinstance(found, Refusal)


def test_where_no_ink_shows_the_colour_is_left_and_the_others_are_mended() -> None:
    dyed_black = Look("#101018", True, "", 110)
    alone = repaired(words("#14213d"), NAVY, [dyed_black])
    assert isinstance(alone, Refusal)
    assert alone.what == NO_INK
    for rules in (ANYTHING, ONLY_OUTLINES):
        both = repaired(words("#ffffff"), WHITE, [dyed_black, DYED_WHITE], rules)
        assert isinstance(both, Repair)
        assert both.looks == (DYED_WHITE,)


def test_small_words_that_stay_small_are_told() -> None:
    tall, small = words("#14213d", size=260, text="BEES"), words("#14213d", size=26, text="since long ago")
    found = repaired(np.vstack([tall, small]), NAVY, [ON_NAVY._replace(art_px=100)])
    assert isinstance(found, Repair)
    assert not found.every_word
    advice = advice_of(found)
    assert advice is not None
    assert "small words" in advice.words
    assert advice_from_json(advice_as_json(advice)) == advice


def test_white_is_never_the_outline_where_it_cannot_be_printed() -> None:
    found = repaired(words("#ffffff"), WHITE, [DYED_WHITE], ONLY_OUTLINES)
    assert isinstance(found, Repair)
    assert found.change.ink == BLACK


def test_one_ink_gets_a_light_version_for_the_dark_colours_only() -> None:
    rules = Rules(kinds=(Kind.RECOLOUR,))
    found = repaired(words("#14213d"), NAVY, [ON_NAVY, ON_WHITE, ON_BLACK], rules)
    assert isinstance(found, Repair)
    assert (found.change.kind, found.change.ink) == (Kind.RECOLOUR, WHITE)
    assert set(found.looks) == {ON_NAVY, ON_BLACK}


def test_a_lost_line_is_told_to_change_its_ink_not_to_grow() -> None:
    """Navy words on navy beside large ones that show, the lost line too small to be mended by an outline."""
    tall, small = words("#f2c230", size=260, text="BEES"), words("#14213d", size=60, text="since long ago")
    pixels = np.vstack([tall, small])
    found = repaired(pixels, NAVY, [ON_NAVY._replace(art_px=70)])
    assert isinstance(found, Refusal)
    assert found.what == LOST_WORDS
    assert (found.enlarge, "enlarge" in found.fix) == (1.0, False)
    assert "give that line an ink" in found.fix


def test_a_drawing_that_is_lost_is_told_of_its_ink() -> None:
    disc = np.zeros((400, 400, 4), np.uint8)
    cv2.circle(disc, (200, 200), 150, (20, 33, 61, 255), -1)
    found = repaired(disc, NAVY, [ON_NAVY], Rules(kinds=(Kind.PATCH,)))
    assert isinstance(found, Refusal)
    assert (found.what, found.enlarge) == (LOST_ART, 1.0)
    assert found.fix.startswith("draw a light or a dark version")


def test_words_too_small_are_told_to_grow() -> None:
    found = repaired(words("#14213d", size=26, text="the quick brown beekeeper of the lane"), NAVY, [
        ON_NAVY._replace(art_px=60)
    ])  # fmt: skip
    assert isinstance(found, Refusal)
    assert found.what == LOST_WORDS  # navy on navy: to grow is not enough
    assert found.enlarge > 1.0
    assert "enlarge" in found.fix
    on_white = repaired(words("#14213d", size=26, text="the quick brown beekeeper of the lane"), NAVY, [
        ON_WHITE._replace(art_px=44)
    ])  # fmt: skip
    assert isinstance(on_white, Refusal)
    assert on_white.what.startswith("the words are ")
    assert on_white.fix.startswith("enlarge: ")


@pytest.mark.parametrize("share", [0.004, 0.01, 0.03])
def test_no_counter_that_was_open_is_closed(share: float) -> None:
    pixels = words("#14213d", text="BOOK ROAD 8806")
    width = share * pixels.shape[1]
    before = open_counters(pixels, 2.0)
    assert before >= 8
    assert open_counters(outlined(pixels, WHITE, width), 1.0) >= before


@pytest.mark.parametrize("width", [1.0, 2.5, 7.0])
def test_an_outline_is_as_wide_as_asked(width: float) -> None:
    block = np.zeros((100, 100, 4), np.uint8)
    block[30:70, 30:70] = (20, 33, 61, 255)
    fresh = outlined(block, WHITE, width)
    across = fresh[fresh.shape[0] // 2, :, 3].astype(float).sum() / 255
    assert across == pytest.approx(40 + 2 * width, abs=0.3)
    middle = fresh.shape[0] // 2
    assert tuple(fresh[middle, middle]) == (20, 33, 61, 255)


def test_a_patch_lies_behind_and_has_no_holes() -> None:
    fresh = patched(words("#14213d", text="BOOK"), WHITE, 20.0)
    assert open_counters(fresh, 1.0) == 0
    inked = fresh[..., 3] > 250
    assert {tuple(colour) for colour in fresh[inked][::97, :3]} >= {(20, 33, 61), (255, 255, 255)}


def test_another_ink_keeps_the_shape() -> None:
    pixels = words("#14213d")
    fresh = recoloured(pixels, WHITE)
    np.testing.assert_array_equal(fresh[..., 3], pixels[..., 3])
    assert (fresh[pixels[..., 3] > 0, :3] == 255).all()


def test_the_master_is_untouched_and_advice_survives_json() -> None:
    pixels = words("#14213d")
    kept = pixels.copy()
    found = repaired(pixels, NAVY, [ON_NAVY, ON_WHITE])
    assert isinstance(found, Repair)
    changed(pixels, found.change)
    np.testing.assert_array_equal(pixels, kept)
    advice = advice_of(found)
    assert advice_from_json(advice_as_json(advice)) == advice
    assert advice is not None
    assert found.change.ink.hex in advice.words
    assert advice_from_json(advice_as_json(None)) is None


def test_a_patch_in_the_colour_of_the_words_is_no_repair() -> None:
    rules = Rules(kinds=(Kind.PATCH,), palette=(Srgb(24, 38, 70),))
    assert isinstance(repaired(words("#14213d"), NAVY, [ON_NAVY, ON_WHITE], rules), Refusal)
