"""T. Porter and T. Duff, Compositing Digital Images, SIGGRAPH 1984: over; and averaging multiplied colour."""

import numpy as np
import pytest
from numpy.typing import NDArray

from hundredfold.designs.alpha import clear_hidden, over, premultiply, unpremultiply
from hundredfold.placement.printfile import resized


def pixel(*values: int) -> NDArray[np.uint8]:
    return np.array([[values]], np.uint8)


@pytest.mark.parametrize(
    ("art", "ground", "seen"),
    [
        ((255, 0, 0, 128), (255, 255, 255), (255, 127, 127)),  # half red over white: (1, .5, .5)
        ((255, 0, 0, 255), (0, 0, 255), (255, 0, 0)),
        ((0, 0, 0, 0), (12, 34, 56), (12, 34, 56)),
        ((255, 255, 255, 51), (0, 0, 0), (51, 51, 51)),
    ],
)
def test_over(art: tuple[int, ...], ground: tuple[int, int, int], seen: tuple[int, ...]) -> None:
    assert tuple(over(pixel(*art), ground)[0, 0].tolist()) == seen


def test_hidden_colour_does_not_leak_into_an_edge() -> None:
    """One opaque red and one transparent green pixel, averaged into one, are half red and no green."""
    pair = np.array([[[255, 0, 0, 255], [0, 255, 0, 0]]], np.uint8)
    clear_hidden(pair)
    sum_of_both = premultiply(pair).astype(int).sum(axis=1, keepdims=True)
    average = ((sum_of_both + 1) // 2).astype(np.uint8)
    unpremultiply(average)
    assert average.tolist() == [[[255, 0, 0, 128]]]


def test_a_shrunk_edge_keeps_its_colour() -> None:
    """The same rule for our resizing: along the whole edge of red art on hidden green there is only red."""
    art = np.zeros((64, 64, 4), np.uint8)
    art[:, :, 1] = 255
    art[16:48, 16:48] = (255, 0, 0, 255)
    clear_hidden(art)
    small = resized(art, 23, 23)
    inked = small[small[:, :, 3] > 0]
    assert (inked[:, 3] < 255).any()
    assert (inked[:, 1:3] == 0).all()
    assert (inked[inked[:, 3] > 8][:, 0] >= 253).all()


def test_multiplying_rounds_as_exact_division_by_255_does() -> None:
    every = np.zeros((256, 256, 4), np.uint8)
    every[:, :, 0] = np.arange(256)[np.newaxis, :]
    every[:, :, 3] = np.arange(256)[:, np.newaxis]
    exact = np.floor(every[:, :, 0].astype(float) * every[:, :, 3] / 255 + 0.5)
    assert np.array_equal(premultiply(every)[:, :, 0], exact)


@pytest.mark.parametrize("soft", [0.02, 0.9])
def test_multiplied_and_divided_again_is_the_same_colour(soft: float) -> None:
    """To within the half level that 8 bits of multiplied colour can hold; by the sparse and the dense way."""
    rng = np.random.default_rng(1)
    pixels = rng.integers(0, 256, (80, 90, 4), dtype=np.uint8)
    pixels[:, :, 3] = np.where(rng.random((80, 90)) < soft, pixels[:, :, 3], 255)
    clear_hidden(pixels)
    back = premultiply(pixels)
    unpremultiply(back)
    alpha = np.maximum(pixels[:, :, 3:], 1).astype(float)
    assert (np.abs(back[:, :, :3].astype(float) - pixels[:, :, :3]) <= 127.5 / alpha + 0.5).all()
    assert np.array_equal(back[:, :, 3], pixels[:, :, 3])
