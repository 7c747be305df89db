"""Rows of nothing but bars: rays, palings and ladders, which look like lettering to the reader."""

import cv2
import numpy as np
from numpy.typing import NDArray

FEWEST = 10  # parts: a shorter row may be a word such as "ill"
MOSTLY = 0.9  # of the parts: no row of words that we set had more than 0.82, in i, l and t only, condensed
LONG = 3.0  # times as long as wide
FULL = 0.75  # of its convex hull: a letter has bays and counters


def only_bars(letters: NDArray[np.uint8]) -> bool:
    """Whether the parts of a row's mask (height x width, 0 or 1) are plain bars, whichever way they lean."""
    count, labels, stats, _ = cv2.connectedComponentsWithStats(letters, connectivity=8)
    if count - 1 < FEWEST:
        return False
    bars = sum(_is_bar(labels == part, stats[part]) for part in range(1, count))
    return bars >= MOSTLY * (count - 1)


def _is_bar(part: NDArray[np.bool_], stat: NDArray[np.int32]) -> bool:
    left, top, width, height, area = (int(value) for value in stat)
    inked = part[top : top + height, left : left + width].astype(np.uint8)
    contours, _ = cv2.findContours(inked, cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_NONE)
    centres = contours[0].reshape(-1, 2)
    corners = np.concatenate([centres + step for step in ((0, 0), (1, 0), (0, 1), (1, 1))])
    sides = cv2.minAreaRect(corners)[1]
    hull = cv2.contourArea(cv2.convexHull(corners))
    return max(sides) >= LONG * min(sides) and area >= FULL * hull
