"""Gradients that go in steps a person can see: banding."""

from collections.abc import Iterator
from typing import Any

import cv2
import numpy as np
from numpy.typing import NDArray

Bytes = NDArray[Any]  # uint8; OpenCV promises no more
_LINES = 160  # rows and columns looked at
_RUN_PX = 6  # a step is at least this wide; photographic grain changes sooner
_JUMP = (3, 16)  # levels: smaller jumps are not seen, larger ones are edges
_BARE, _BETWEEN = -1000, -2000  # in place of a level
_IN_A_ROW = 4  # so many steps one way make a gradient


def steps(art: Bytes) -> tuple[float, float]:
    """Share of the looked-at ink that lies in stepped gradients, and a step's typical width in pixels."""
    found = [(np.count_nonzero(solid), _stepped_runs(luma, solid)) for luma, solid in _scan(art)]
    seen, widths = sum(count for count, _ in found), np.concatenate([each for _, each in found])
    if not widths.size:
        return 0.0, 0.0
    return round(float(widths.sum() / seen), 4), float(np.median(widths))


def _scan(art: Bytes) -> Iterator[tuple[Bytes, NDArray[np.bool_]]]:
    """Luma of the rows that are looked at, then of the columns, a line a row; and where it is solid ink."""
    rows, columns = (np.unique(np.linspace(0, n - 1, _LINES).astype(int)) for n in art.shape[:2])
    words = art.view(np.uint32)[:, :, 0]  # whole pixels are picked out in a third of the time
    down = np.ascontiguousarray(words[:, columns].T).view(np.uint8).reshape(len(columns), -1, 4)
    for lines in (art[rows], down):
        yield cv2.cvtColor(lines, cv2.COLOR_RGBA2GRAY), lines[:, :, 3] > 250


def _stepped_runs(luma: Bytes, solid: NDArray[np.bool_]) -> NDArray[np.intp]:
    """Widths of the runs of equal value that belong to a staircase along a line (a row of ``luma``)."""
    # One long line: what stands between two is further from every level than a step.
    apart = np.full((len(luma), 1), _BETWEEN, np.int16)
    level = np.hstack([np.where(solid, luma, np.int16(_BARE)), apart]).ravel()
    starts = np.flatnonzero(np.concatenate([[True], level[1:] != level[:-1]]))
    lengths = np.diff(starts, append=level.size)
    jump = np.diff(level[starts])
    good = (np.abs(jump) >= _JUMP[0]) & (np.abs(jump) <= _JUMP[1])
    good &= (lengths[:-1] >= _RUN_PX) & (lengths[1:] >= _RUN_PX)
    way = np.where(good, np.sign(jump), 0)
    changes = np.flatnonzero(np.diff(way, prepend=9, append=9))
    first, last = changes[:-1], changes[1:]
    stairs = (way[first] != 0) & (last - first >= _IN_A_ROW)
    runs = [lengths[start : stop + 1] for start, stop in zip(first[stairs], last[stairs], strict=True)]
    return np.concatenate([np.zeros(0, np.intp), *runs])
