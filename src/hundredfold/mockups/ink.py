"""A design's ink in linear light, averaged as the camera's pixels see it.

Ink is filtered premultiplied and in linear light, so that fine text neither thins nor shimmers. What a frame
pixel sees is the average under its footprint. That average is taken here, once, on the art's own grid; one
bilinear sample of the result then gives a pixel its ink.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import pairwise
from math import ceil, floor, log, log2
from typing import Any

import cv2
import numpy as np
from numpy.typing import NDArray

from hundredfold.designs.facts import Box
from hundredfold.kernel.colour import to_linear

Bytes = NDArray[np.uint8]
Words = NDArray[np.uint16]
Single = NDArray[np.float32]
Mask = NDArray[np.bool_]

BLOCK = 16
# Art is halved while this many of its texels are left for a frame pixel where it is seen best: with fewer,
# bilinear samples of it lose sharpness.
_LEAST_TEXELS = 1.75
_BAND_ROWS = 64
_WIDEN = 1.25  # between one footprint and the next wider one
_WIDEST = 16.0  # times the narrowest; seen only at the outline
_LINEAR = (to_linear(np.arange(256) / 255.0) * (65535 / 255)).astype(np.float32)


@dataclass(frozen=True)
class Footprint:
    """How a frame pixel's footprint lies on a placement, in pixels of the art.

    ``across`` and ``down`` are its sides where the art is seen best; ``turned`` says for the art's columns
    (at ``turned_at``, rising) how many times as wide it is there.
    """

    across: float
    down: float
    turned_at: Single
    turned: Single


@dataclass(frozen=True)
class Level:
    """Averaged ink; ``halved`` says how often the art was halved each way.

    ``pixels`` are what the ink takes of white light, red, green and blue, and its cover, linear in 16 bits:
    cover less the first three is its premultiplied colour. White ink takes nothing.
    ``inked`` are the blocks of ``BLOCK`` texels a side outside of which there is certainly no ink.
    """

    pixels: Words
    halved: tuple[int, int]
    inked: Mask


class Ink:
    """One design's ink."""

    def __init__(self, art: Bytes) -> None:
        """``art``: the whole design, RGBA, straight alpha, sRGB-encoded."""
        self._art = art
        self._last: tuple[object, Level] | None = None

    def level(self, crop: Box, view: Footprint) -> Level:
        """The crop averaged under the view's footprints; the last one is kept for a second placement."""
        key = (crop, view.across, view.down, view.turned_at.tobytes(), view.turned.tobytes())
        if self._last is None or self._last[0] != key:
            art = self._art[crop.top : crop.bottom, crop.left : crop.right]
            self._last = (key, averaged(art, view))
        return self._last[1]


def averaged(art: Bytes, view: Footprint) -> Level:
    """The average under each frame pixel's footprint, on the art's grid or that of its halves."""
    halved = (_halvings(view.across), _halvings(view.down))
    alpha = np.asarray(cv2.extractChannel(np.ascontiguousarray(art), 3), np.uint8)
    inked = _inked_blocks(alpha, BLOCK << halved[0], BLOCK << halved[1])
    if any(halved):
        small = _reduced(art, 2 ** halved[0], 2 ** halved[1])
        height, width = small.shape[:2]

        def ink(rows: slice, columns: slice) -> Single:
            return small[rows, columns].astype(np.float32)
    else:
        height, width = art.shape[:2]

        def ink(rows: slice, columns: slice) -> Single:
            return linear_ink(art[rows, columns])

    filters = _runs(view, width, 2 ** halved[0]), footprint(view.down / 2 ** halved[1])
    return Level(_filtered(ink, (height, width), inked, *filters), halved, inked)


def _inked_blocks(alpha: Bytes, across: int, down: int) -> Mask:
    """Blocks with ink, and those so near that a footprint may carry some there."""
    rows = np.maximum.reduceat(alpha, np.arange(0, alpha.shape[0], down), axis=0)
    blocks = np.maximum.reduceat(rows, np.arange(0, alpha.shape[1], across), axis=1)
    return np.asarray(cv2.dilate(blocks, np.ones((3, 5), np.uint8)), np.uint8) > 0


def _halvings(texels: float) -> int:
    return max(0, floor(log2(max(texels, 1e-6) / _LEAST_TEXELS)))


def linear_ink(art: Bytes) -> Single:
    """Premultiplied linear light, 0-65535, from sRGB-encoded straight alpha."""
    art = np.ascontiguousarray(art)
    alpha = cv2.extractChannel(art, 3)
    ink = np.asarray(cv2.LUT(art, _LINEAR), np.float32)
    ink *= cv2.cvtColor(alpha, cv2.COLOR_GRAY2RGBA).astype(np.float32)
    cv2.insertChannel(alpha.astype(np.float32) * np.float32(257), ink, 3)
    return ink


def _reduced(art: Bytes, across: int, down: int) -> Words:
    """Cells of ``across`` x ``down`` texels averaged; clear beyond the art's edges."""
    width, height = ceil(art.shape[1] / across), ceil(art.shape[0] / down)
    small = np.empty((height, width, 4), np.uint16)
    for top, bottom in bands(height, _BAND_ROWS):
        ink = linear_ink(art[top * down : bottom * down])
        lacking = ((bottom - top) * down - ink.shape[0], width * across - ink.shape[1])
        whole = cv2.copyMakeBorder(ink, 0, lacking[0], 0, lacking[1], cv2.BORDER_CONSTANT)
        cells = cv2.resize(whole, (width, bottom - top), interpolation=cv2.INTER_AREA)
        small[top:bottom] = in_words(np.asarray(cells, np.float32))
    return small


def bands(height: int, rows: int) -> Iterator[tuple[int, int]]:
    """First row and last + 1 of so many rows at a time, to stay in the processor's cache."""
    for top in range(0, height, rows):
        yield top, min(top + rows, height)


def in_words(values: NDArray[Any]) -> Words:
    """Rounded to sixteen bits; what is beyond them is cut off."""
    summed = cv2.add(values, 0.0, dtype=cv2.CV_16U)  # type: ignore[call-overload]  # a number is taken
    return np.asarray(summed, np.uint16)


def footprint(width: float) -> Single:
    """Weights of a texel and its neighbours for the average under a footprint ``width`` texels wide.

    Bilinear samples between texels see the art as it is interpolated; over that the footprint is a box, of
    variance ``width**2 / 12``. The whole and part texels under it have another variance: the next neighbours
    make up for the difference, so that the sum is right to the third order.
    """
    reach = max(0, ceil((width - 1) / 2))
    taps = np.ones(2 * reach + 1)
    if reach:
        taps[[0, -1]] = (width - (2 * reach - 1)) / 2
    taps /= taps.sum()
    away = np.arange(-reach, reach + 1)
    keen = (float(taps @ (away * away)) - width**2 / 12) / 2
    return np.convolve(taps, [-keen, 1 + 2 * keen, -keen]).astype(np.float32)


def _runs(view: Footprint, width: int, step: int) -> list[tuple[int, int, Single]]:
    """(first column, last + 1, weights across) of the level's columns."""
    at = (np.arange(width, dtype=np.float32) + np.float32(0.5)) * step
    wider = np.interp(at, view.turned_at, view.turned) if len(view.turned) else np.ones(width)
    wide = np.round(np.log(np.clip(wider, 1, _WIDEST)) / log(_WIDEN)).astype(int)
    edges = [0, *(np.flatnonzero(np.diff(wide)) + 1).tolist(), width]
    narrowest = view.across / step
    return [(a, b, footprint(narrowest * _WIDEN ** int(wide[a]))) for a, b in pairwise(edges)]


def _filtered(
    ink: Callable[[slice, slice], Single],
    size: tuple[int, int],
    inked: Mask,
    runs: list[tuple[int, int, Single]],
    down: Single,
) -> Words:
    """Ink averaged down by one footprint and across by each run's own, band by band, where there is any."""
    height, width = size
    made = np.zeros((height, width, 4), np.uint16)
    above = len(down) // 2
    for top, bottom in bands(height, _BAND_ROWS):
        blocks = np.flatnonzero(inked[top // BLOCK : -(-bottom // BLOCK)].any(0))
        if not len(blocks):
            continue
        left, right = int(blocks[0]) * BLOCK, min((int(blocks[-1]) + 1) * BLOCK, width)
        for start, end, across in runs:
            first, last = max(start, left), min(end, right)
            if first >= last:
                continue
            part = _with_edges(ink, size, Box(first, top, last, bottom), len(across) // 2, above)
            soft = cv2.sepFilter2D(part, -1, across, down)
            beside = len(across) // 2
            inner = soft[above : above + bottom - top, beside : beside + last - first]
            made[top:bottom, first:last] = _taken(in_words(inner))
    return made


def _taken(ink: Words) -> Words:
    """What premultiplied ink takes of white light, and its cover.

    Taken from averages, not averaged itself: averages overshoot a little at edges, and cover and light cut
    off apart at sixteen bits would leave a dark rim on ink over an underbase.
    """
    cover = np.asarray(cv2.extractChannel(ink, 3), np.uint16)
    taken = cv2.subtract(cv2.cvtColor(cover, cv2.COLOR_GRAY2RGBA), ink)
    return np.asarray(cv2.insertChannel(cover, taken, 3), np.uint16)


def _with_edges(
    ink: Callable[[slice, slice], Single], size: tuple[int, int], box: Box, beside: int, above: int
) -> Single:
    """The ink of a box and so much round it; clear beyond the art."""
    height, width = size
    top, bottom = max(box.top - above, 0), min(box.bottom + above, height)
    left, right = max(box.left - beside, 0), min(box.right + beside, width)
    down = (top - box.top + above, box.bottom + above - bottom)
    across = (left - box.left + beside, box.right + beside - right)
    part = ink(slice(top, bottom), slice(left, right))
    return np.asarray(cv2.copyMakeBorder(part, *down, *across, cv2.BORDER_CONSTANT), np.float32)
