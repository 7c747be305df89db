"""Deep facts measured on drawn pixels whose truth is known by construction."""

import cv2
import numpy as np
import pytest
from numpy.typing import NDArray

from hundredfold.designs.facts import Box
from hundredfold.proofing.art.facts import ArtFacts, Thin, art_facts_as_json, art_facts_from_json
from hundredfold.proofing.art.measuring import EMPTY, measure_art

NAVY = (27, 42, 78)
WHITE = (255, 255, 255)


def canvas(width: int = 1000, height: int = 1000) -> NDArray[np.uint8]:
    return np.zeros((height, width, 4), np.uint8)


def inked(pixels: NDArray[np.uint8]) -> Box:
    rows = np.flatnonzero(pixels[:, :, 3].max(axis=1) > 5)
    columns = np.flatnonzero(pixels[:, :, 3].max(axis=0) > 5)
    return Box(int(columns[0]), int(rows[0]), int(columns[-1]) + 1, int(rows[-1]) + 1)


def measured(pixels: NDArray[np.uint8]) -> ArtFacts:
    return measure_art(pixels, inked(pixels))


def disc(pixels: NDArray[np.uint8], centre: tuple[int, int], radius: int, ink: tuple[int, ...]) -> None:
    cv2.circle(pixels, centre, radius, (*ink, 255), -1)


def bar(width: float, angle: float, length: int = 280) -> NDArray[np.uint8]:
    """A straight bar through the middle with exact coverage at its rims, from 16 times oversampling."""
    y, x = np.mgrid[0:1600, 0:1600].astype(np.float32) / 4 - 200 + 0.125
    turn = np.radians(angle)
    across = np.abs(-x * np.sin(turn) + y * np.cos(turn)) <= width / 2
    along = np.abs(x * np.cos(turn) + y * np.sin(turn)) <= length / 2
    cover = (across & along).reshape(400, 4, 400, 4).mean(axis=(1, 3))
    pixels = canvas(400, 400)
    pixels[:, :, :3] = NAVY
    pixels[:, :, 3] = np.rint(cover * 255)
    return pixels


def middle(thin: tuple[Thin, ...]) -> float:
    """The width that half of the length lies under."""
    lengths = np.array([one.length_px for one in thin])
    return float(
        np.array([one.width_px for one in thin])[np.searchsorted(np.cumsum(lengths), lengths.sum() / 2)]
    )


@pytest.mark.parametrize("angle", [0.0, 17.0, 45.0, 71.0, 90.0])
@pytest.mark.parametrize("width", [0.6, 1.0, 1.7, 3.0, 5.5, 11.0, 20.0])
def test_width_and_length_of_a_bar(width: float, angle: float) -> None:
    strokes = measured(bar(width, angle)).strokes
    assert middle(strokes) == pytest.approx(width, abs=0.5 + 0.04 * width)
    assert 0.55 * 280 <= sum(one.length_px for one in strokes) <= 1.35 * 280


def test_corners_points_and_dots_are_not_thin_lines() -> None:
    pixels = canvas()
    star = np.array([[500, 60], [610, 380], [940, 380], [680, 580], [780, 900], [500, 700], [220, 900]])
    cv2.fillPoly(pixels, [np.vstack([star, [[320, 580], [60, 380], [390, 380]]])], (*NAVY, 255))
    disc(pixels, (100, 900), 6, NAVY)
    assert sum(one.length_px for one in measured(pixels).strokes) < 0.05 * 1800


def test_a_gap_between_two_blocks_is_a_thin_gap() -> None:
    pixels = canvas()
    pixels[200:800, 100:498] = (*NAVY, 255)
    pixels[200:800, 502:900] = (*NAVY, 255)
    gaps = measured(pixels).gaps
    assert middle(gaps) == pytest.approx(4.0, abs=0.5)
    assert sum(one.length_px for one in gaps) == pytest.approx(600, abs=60)


def test_an_outline_and_what_it_encloses_are_seen_together() -> None:
    pixels = canvas()
    disc(pixels, (500, 500), 300, (0, 0, 0))
    disc(pixels, (500, 500), 290, WHITE)
    (window,) = measured(pixels).windows
    assert (window.dark, window.light, window.share) == ("#000000", "#ffffff", 1.0)


def test_a_neighbour_across_a_gap_lends_no_colour() -> None:
    pixels = canvas()
    disc(pixels, (300, 500), 190, NAVY)
    disc(pixels, (690, 500), 190, WHITE)
    windows = measured(pixels).windows
    assert {(one.dark, one.light) for one in windows} == {("#1b2a4e", "#1b2a4e"), ("#ffffff", "#ffffff")}
    assert [one.share for one in windows] == pytest.approx([0.5, 0.5], abs=0.01)


def test_length_of_an_outline() -> None:
    pixels = canvas()
    disc(pixels, (500, 500), 300, NAVY)
    # Counting pixels of the 8-connected outline of a circle gives 4 * sqrt(2) * radius.
    assert measured(pixels).outline_px == pytest.approx(4 * 2**0.5 * 300, rel=0.05)


def soft_disc(band: float, rim: tuple[int, int, int]) -> NDArray[np.uint8]:
    y, x = np.mgrid[0:1000, 0:1000]
    past = np.hypot(x - 500, y - 500) - 300
    pixels = canvas()
    pixels[:, :, :3] = np.where(past[..., np.newaxis] < 0, NAVY, rim)
    pixels[:, :, 3] = np.clip(255 * (1 - past / band), 0, 255).astype(np.uint8)
    return pixels


@pytest.mark.parametrize("band", [1, 3, 6])
def test_width_of_a_soft_rim(band: int) -> None:
    assert measured(soft_disc(band, NAVY)).soft_band_px == pytest.approx(band, rel=0.4)


def test_a_pale_fringe_is_told_from_an_honest_rim() -> None:
    assert measured(soft_disc(2, WHITE)).fringe_share > 0.9
    assert measured(soft_disc(2, NAVY)).fringe_share == 0.0


def gradient(levels: int, grain: int = 0) -> NDArray[np.uint8]:
    shade = np.linspace(40, 220, 900)
    stepped = np.round(np.round((shade - 40) / 180 * levels) / levels * 180 + 40)
    pixels = canvas()
    noise = np.random.default_rng(7).integers(-grain, grain + 1, (900, 900))
    pixels[50:950, 50:950, :3] = np.clip(stepped[np.newaxis, :] + noise, 0, 255)[:, :, np.newaxis]
    pixels[50:950, 50:950, 3] = 255
    return pixels


def test_steps_of_a_gradient() -> None:
    coarse = measured(gradient(20))
    assert coarse.step_share > 0.3
    assert coarse.step_px == pytest.approx(900 / 20, abs=3)
    assert measured(gradient(180)).step_share == 0.0
    assert measured(gradient(20, grain=4)).step_share == 0.0


def test_a_box_in_the_middle_of_the_file() -> None:
    pixels = canvas()
    pixels[200:800, 200:800] = (*WHITE, 255)
    disc(pixels, (500, 500), 200, NAVY)
    assert measured(pixels).inset_box
    disc(pixels, (220, 220), 80, NAVY)
    assert not measured(pixels).inset_box


def test_facts_survive_json() -> None:
    facts = measured(soft_disc(2, WHITE))
    assert art_facts_from_json(art_facts_as_json(facts)) == facts
    assert measure_art(canvas(), Box(0, 0, 0, 0)) == EMPTY
