"""Goods in several colours on one picture: each whole, all at one scale, none over another."""

import numpy as np
import pytest

from hundredfold.designs.facts import Box
from hundredfold.mockups.contact import side_by_side

GOODS = Box(120, 60, 280, 340)


@pytest.mark.parametrize("count", [2, 3, 4, 5, 7, 9])
def test_all_are_seen_whole(count: int) -> None:
    pictures = []
    for k in range(count):
        one = np.full((400, 400, 3), 255, np.uint8)
        one[GOODS.top : GOODS.bottom, GOODS.left : GOODS.right] = (20 * k, 40, 90)
        pictures.append(one)
    made = side_by_side(pictures, GOODS)
    assert made.shape == (400, 400, 3)
    assert min(made[0].min(), made[-1].min(), made[:, 0].min(), made[:, -1].min()) == 255
    areas = [int((np.abs(made.astype(int) - (20 * k, 40, 90)).max(2) < 8).sum()) for k in range(count)]
    assert min(areas) > 0.8 * max(areas)
    assert sum(areas) > 0.25 * 400 * 400  # no more air than wanted
