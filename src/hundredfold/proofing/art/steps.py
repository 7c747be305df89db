"""Gradients that go in steps a person can see: banding."""

from collections.abc import Iterator
from itertools import pairwise
from typing import Any

import cv2
import numpy as np
from numpy.typing import NDArray

Bytes = NDArray[Any]  # uint8; OpenCV promises no more
_LINES = 160  # rows and columns looked at
_RUN_PX = 6  # a step is at least this wide; photographic grain changes sooner
_JUMP = (3, 16)  # levels: smaller jumps are not seen, larger ones are edges
_IN_A_ROW = 4  # so many steps one way make a gradient


def steps(art: Bytes) -> tuple[float, float]:
    """Share of the looked-at ink that lies in stepped gradients, and the typical width of a step in "
    "pixels."""
    stepped, seen, widths = 0, 0, []
    for values, mask in _scan(art):
        seen += int(mask.sum())
        for width in _stepped_runs(values, mask):
            stepped += width
            widths.append(width)
    if not seen or not widths:
        return 0.0, 0.0
    return round(stepped / seen, 4), float(np.median(widths))


def _scan(art: Bytes) -> Iterator[tuple[Bytes, NDArray[np.bool_]]]:
    """Luma along each line that is looked at, and where it is solid ink."""
    rows, columns = (np.unique(np.linspace(0, n - 1, _LINES).astype(int)) for n in art.shape[:2])
    words = art.view(np.uint32)[:, :, 0]  # whole pixels are picked out in a third of the time
    down = np.ascontiguousarray(words[:, columns].T).view(np.uint8).reshape(len(columns), -1, 4)
    for lines in (art[rows], down):
        luma = cv2.cvtColor(np.ascontiguousarray(lines[:, :, :3]), cv2.COLOR_RGB2GRAY)
        yield from zip(luma, lines[:, :, 3] > 250, strict=True)


def _stepped_runs(values: Bytes, mask: NDArray[np.bool_]) -> list[int]:
    """Widths of the runs of equal value that belong to a staircase along one line."""
    level = np.where(mask, values.astype(np.int32), -1000)
    starts = np.flatnonzero(np.diff(level, prepend=level[0] - 1))
    lengths = np.diff(starts, append=level.size)
    heights = level[starts]
    jump = np.diff(heights)
    good = (np.abs(jump) >= _JUMP[0]) & (np.abs(jump) <= _JUMP[1])
    good &= (lengths[:-1] >= _RUN_PX) & (lengths[1:] >= _RUN_PX)
    way = np.where(good, np.sign(jump), 0)
    found: list[int] = []
    changes = np.flatnonzero(np.diff(way, prepend=9, append=9))
    for first, last in pairwise(changes):
        if way[first] and last - first >= _IN_A_ROW:
            found.extend(int(width) for width in lengths[first : last + 1])
    return found
