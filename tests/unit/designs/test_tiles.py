"""Planes taken tile by tile give what the whole plane gives."""

import cv2
import numpy as np
import pytest

from hundredfold.designs.measure import SPECK_PX, specks
from hundredfold.designs.tiles import TILE_PX, tiles


@pytest.mark.parametrize("shape", [(1, 1), (TILE_PX, TILE_PX), (TILE_PX + 1, 3 * TILE_PX - 5)])
def test_each_pixel_is_of_one_tile(shape: tuple[int, int]) -> None:
    seen = np.zeros(shape, int)
    for tile in tiles(shape, 9):
        seen[tile.own] += 1
    assert (seen == 1).all()


def test_a_tile_knows_its_own_pixels_among_those_beside_it() -> None:
    plane = np.arange(600 * 700).reshape(600, 700)
    for tile in tiles(plane.shape, 9):
        assert (plane[tile.near][tile.inner] == plane[tile.own]).all()
    middle = next(tile for tile in tiles((900, 900), 9) if tile.own.rows.start and tile.own.columns.start)
    assert plane[middle.near].shape == (TILE_PX + 18, TILE_PX + 18)


@pytest.mark.parametrize("share", [0.01, 0.1, 0.3, 0.6])
@pytest.mark.parametrize("width", [5, 2 * TILE_PX + 3])
def test_specks_across_the_seams_of_tiles_are_counted_once(share: float, width: int) -> None:
    rng = np.random.default_rng(8)
    alpha = np.where(rng.random((2 * TILE_PX + 40, width)) < share, 255, 0).astype(np.uint8)
    alpha[60:90] = 255  # and a large island
    _, _, stats, _ = cv2.connectedComponentsWithStats(alpha, connectivity=8)
    small = int((stats[1:, cv2.CC_STAT_AREA] < SPECK_PX).sum())
    assert small > 0
    assert specks(alpha) == small


def test_a_picture_smaller_than_a_speck_is_one() -> None:
    assert specks(np.full((3, 5), 255, np.uint8)) == 1
    assert specks(np.full((4, 4), 255, np.uint8)) == 0
