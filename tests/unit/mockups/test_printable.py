"""Pictures show ink as a process can print it, and leave alone what it can."""

import numpy as np
import pytest

from hundredfold.kernel.colour import to_linear
from hundredfold.kernel.difference import colour_difference
from hundredfold.mockups.printable import as_printed
from hundredfold.workshop.steps.smallart import read_small_art, small_art

Pixel = tuple[int, int, int, int]


def printed(*pixels: Pixel) -> list[list[int]]:
    made: list[list[int]] = as_printed(np.array([pixels], np.uint8))[0].tolist()
    return made


def test_a_screen_s_green_is_not_promised() -> None:
    """#00ff00 was drawn as it is; coated offset misses it by 17 CIEDE2000."""
    (green,) = read_small_art(small_art(np.full((4, 4, 4), (0, 255, 0, 255), np.uint8)))[0, :1]
    red, full, blue, cover = green.tolist()
    assert (cover, red < full > blue) == (255, True)
    assert full < 200
    moved = colour_difference(to_linear(np.array([0, 1.0, 0])), to_linear(green[:3] / 255.0))
    assert 12 < moved < 25


@pytest.mark.parametrize(
    "pixel", [(255, 255, 255, 255), (0, 0, 0, 255), (27, 42, 78, 255), (244, 208, 63, 9)]
)
def test_what_can_be_printed_stays_byte_for_byte(pixel: Pixel) -> None:
    assert printed(pixel) == [list(pixel)]


def test_greys_stay_grey_and_clear_art_stays_clear() -> None:
    greys: list[Pixel] = [(n, n, n, n) for n in range(256)]
    assert printed(*greys) == [list(one) for one in greys]
