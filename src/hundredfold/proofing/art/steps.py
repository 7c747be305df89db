"""Gradients that go in steps a person can see: banding."""

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
    luma = cv2.cvtColor(np.ascontiguousarray(art[:, :, :3]), cv2.COLOR_RGB2GRAY)
    inked = art[:, :, 3] > 250
    stepped, seen, widths = 0, 0, []
    for values, mask in _scan(luma, inked):
        seen += int(mask.sum())
        for width in _stepped_runs(values, mask):
            stepped += width
            widths.append(width)
    if not seen or not widths:
        return 0.0, 0.0
    return round(stepped / seen, 4), float(np.median(widths))


def _scan(luma: Bytes, inked: NDArray[np.bool_]) -> list[tuple[Bytes, NDArray[np.bool_]]]:
    rows = np.unique(np.linspace(0, luma.shape[0] - 1, _LINES).astype(int))
    columns = np.unique(np.linspace(0, luma.shape[1] - 1, _LINES).astype(int))
    return [(luma[row], inked[row]) for row in rows] + [(luma[:, c], inked[:, c]) for c in columns]


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
