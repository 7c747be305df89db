"""Averaging under footprints, against averages taken sample by sample."""

import cv2
import numpy as np
import pytest
from numpy.typing import NDArray

from hundredfold.designs.facts import Box
from hundredfold.kernel.colour import to_linear
from hundredfold.mockups.ink import Footprint, Ink, footprint, linear_ink

NONE = np.zeros(0, np.float32)


@pytest.mark.parametrize("width", [0.3, 0.93, 1.0, 1.7, 2.0, 2.6, 5.0, 16.3])
def test_a_footprint_keeps_light_and_has_a_boxes_variance(width: float) -> None:
    taps = footprint(width).astype(np.float64)
    away = np.arange(len(taps)) - len(taps) // 2
    assert taps.sum() == pytest.approx(1, abs=1e-5)
    assert taps @ (away * away) == pytest.approx(width**2 / 12, abs=1e-4)
    assert np.array_equal(taps, taps[::-1])


def test_linear_ink_is_premultiplied_light_in_sixteen_bits() -> None:
    art = np.array([[[200, 100, 0, 255], [255, 255, 255, 128], [90, 90, 90, 0]]], np.uint8)
    alpha = art[..., 3:] / 255
    expected = np.concatenate([to_linear(art[..., :3] / 255) * alpha, alpha], -1) * 65535
    assert np.allclose(linear_ink(art), expected, atol=0.02)


def premultiplied(pixels: NDArray[np.uint16]) -> NDArray[np.float32]:
    """Colour and cover of a level."""
    cover = pixels[..., 3:].astype(np.float32)
    return np.concatenate([cover - pixels[..., :3], cover], -1)


def smooth_art() -> NDArray[np.uint8]:
    rng = np.random.default_rng(3)
    coarse = rng.integers(0, 256, (17, 15, 4)).astype(np.float32)
    return np.clip(cv2.resize(coarse, (150, 170), interpolation=cv2.INTER_CUBIC), 0, 255).astype(np.uint8)


@pytest.mark.parametrize(
    ("across", "down", "error"), [(2.0, 2.0, 0.004), (1.4, 2.9, 0.004), (4.6, 2.0, 0.004), (7.5, 9.0, 0.02)]
)
def test_samples_of_a_level_are_averages_under_the_footprint(
    across: float, down: float, error: float
) -> None:
    art = smooth_art()
    level = Ink(art).level(Box(0, 0, 150, 170), Footprint(across, down, NONE, NONE))
    rng = np.random.default_rng(5)
    x, y = rng.uniform(20, 130, 200), rng.uniform(20, 150, 200)
    places = [
        ((at / 2**halved) - 0.5).astype(np.float32)[None]
        for at, halved in zip((x, y), level.halved, strict=True)
    ]
    found = cv2.remap(premultiplied(level.pixels), places[0], places[1], cv2.INTER_LINEAR)[0] / 65535
    inside = (np.arange(16) + 0.5) / 16 - 0.5
    dense_x = (x[:, None, None] + inside * across - 0.5).astype(np.float32) + np.zeros((1, 16, 1), np.float32)
    dense_y = (y[:, None, None] + inside[:, None] * down - 0.5).astype(np.float32) + np.zeros((1, 1, 16))
    flat = [at.reshape(200, 256).astype(np.float32) for at in (dense_x, dense_y)]
    true = cv2.remap(linear_ink(art), flat[0], flat[1], cv2.INTER_LINEAR).mean(1) / 65535
    assert np.sqrt(np.mean((found - true) ** 2)) < error


def test_columns_turned_away_are_averaged_further_across() -> None:
    art = np.zeros((64, 256, 4), np.uint8)
    art[..., 3] = 255
    art[:, ::8, :3] = 255  # stripes a texel wide
    at = np.array([0, 127, 129, 256], np.float32)
    level = Ink(art).level(Box(0, 0, 256, 64), Footprint(2.0, 2.0, at, np.array([1, 1, 8, 8], np.float32)))
    row = premultiplied(level.pixels)[32, :, 0] / 65535
    assert row[20:100].max() > 0.4  # seen face on: stripes
    assert np.ptp(row[160:240]) < 0.08  # eight times as wide: their mean
    assert row[160:240].mean() == pytest.approx(1 / 8, abs=0.005)


def test_blocks_without_ink_are_known_and_empty() -> None:
    art = np.zeros((320, 320, 4), np.uint8)
    art[150:170, 40:60] = 255
    level = Ink(art).level(Box(0, 0, 320, 320), Footprint(2.0, 2.0, NONE, NONE))
    spread = np.repeat(np.repeat(level.inked, 16, 0), 16, 1)
    assert not level.pixels[~spread].any()
    assert 0 < level.inked.mean() < 0.2
    assert level.pixels[160, 50].tolist() == [0, 0, 0, 65535]  # white takes nothing
