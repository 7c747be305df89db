"""The sides of letters: how far right and how far left the ink reaches at each height."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hundredfold.designs.typesetting.outline import Floats, Outline

_LOW, _HIGH, _STEP = -0.7, 1.5, 0.035  # em
BANDS = round((_HIGH - _LOW) / _STEP) + 1


@dataclass(frozen=True, eq=False)
class LetterSides:
    """Points (x, y) in em from the middle of a letter, one for each band of heights that has ink."""

    left: Floats
    right: Floats


def profile_of(outline: Outline, middle: float) -> LetterSides | None:
    """The sides of an outline in em, y up, seen from ``middle``; None when nothing is drawn."""
    contours = outline.flat
    if not contours:
        return None
    start = np.concatenate(contours)
    end = np.concatenate([np.roll(contour, -1, axis=0) for contour in contours])
    heights = _LOW + _STEP * np.arange(BANDS, dtype=np.float64)
    x, height = _crossings(start, end, heights)
    # Corners between two heights count too: a serif may be thinner than a band.
    band = np.clip(np.round((start[:, 1] - _LOW) / _STEP).astype(int), 0, BANDS - 1)
    sides = []
    for pick, far in ((np.fmax, -np.inf), (np.fmin, np.inf)):
        reach = np.full(BANDS, far)
        pick.at(reach, height, x)
        y = heights.copy()
        better = start[:, 0] > reach[band] if far < 0 else start[:, 0] < reach[band]
        order = np.argsort(start[:, 0] if far < 0 else -start[:, 0], kind="stable")
        for index in order[better[order]]:
            reach[band[index]], y[band[index]] = start[index, 0], start[index, 1]
        has = np.isfinite(reach)
        sides.append(np.stack([reach[has] - middle, y[has]], axis=1))
    return LetterSides(left=sides[1], right=sides[0])


def _crossings(start: Floats, end: Floats, heights: Floats) -> tuple[Floats, NDArray[np.int64]]:
    """Where edges cross heights, and the index of each crossing's height; ``heights`` ascend."""
    low, high = np.minimum(start[:, 1], end[:, 1]), np.maximum(start[:, 1], end[:, 1])
    first, past = np.searchsorted(heights, low, "left"), np.searchsorted(heights, high, "right")
    counts = np.where(low < high, past - first, 0)
    edge = np.repeat(np.arange(len(start)), counts)
    height = np.arange(len(edge)) - np.repeat(np.cumsum(counts) - counts - first, counts)
    (x0, y0), (x1, y1) = start[edge].T, end[edge].T
    return x0 + (heights[height] - y0) / (y1 - y0) * (x1 - x0), height


def least_drop(above: Outline, below: Outline, step: float, reach: float) -> float:
    """The least height between the ink of one line and that of the line below it, y down, in columns of
    ``step``; columns up to ``reach`` apart count as one above the other. Infinite where none meet.
    """
    first, second = above.bounds(), below.bounds()
    if first is None or second is None:
        return np.inf
    left, right = min(first.left, second.left), max(first.right, second.right)
    columns = left + step * np.arange(int((right - left) / step) + 2, dtype=np.float64)
    low = _edge(above, columns, np.fmax, -np.inf)
    high = _edge(below, columns, np.fmin, np.inf)
    wide = int(np.ceil(reach / step))
    windows = np.lib.stride_tricks.sliding_window_view(
        np.pad(low, wide, constant_values=-np.inf), 2 * wide + 1
    )
    return float((high - windows.max(axis=1)).min())


def _edge(outline: Outline, columns: Floats, pick: np.ufunc, none: float) -> Floats:
    """The lowest or highest ink in each column."""
    contours = outline.flat
    start = np.concatenate(contours)
    end = np.concatenate([np.roll(contour, -1, axis=0) for contour in contours])
    y, column = _crossings(start[:, ::-1], end[:, ::-1], columns)
    reach: Floats = np.full(len(columns), none)
    pick.at(reach, column, y)
    # Corners between two columns count in both.
    index = (start[:, 0] - columns[0]) / (columns[1] - columns[0])
    for near in (np.floor(index), np.ceil(index)):
        at = np.clip(near.astype(int), 0, len(columns) - 1)
        pick.at(reach, at, start[:, 1])
    return reach
