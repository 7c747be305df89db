"""Rows of letters in a layer: connected parts of like height, side by side."""

from dataclasses import dataclass

import cv2
import numpy as np
from numpy.typing import NDArray

from hundredfold.proofing.reading.layers import Layer, Mask

Box = tuple[int, int, int, int]  # left, top, right, bottom on the reduced art
LEAST_HEIGHT = 5  # pixels of the reduced art: 2.5 px or less in any thumbnail
MOST_PARTS = 1500


@dataclass(frozen=True)
class LetterRow:
    """A candidate row of letters on the reduced art. Lengths are its pixels."""

    kind: str
    box: Box
    mask: Mask  # of the box
    parts: int
    letter_height: float  # median height of the parts, by width
    stroke: float  # mean stroke width
    stroke_spread: float  # standard deviation of stroke width over its mean
    gap: float  # median gap between neighbours, letter heights; 0 for one part
    fill: float  # inked share of the parts' boxes
    edge: float  # outline length over letter height and part
    level: float  # standard deviation of the parts' baselines over letter height
    bounded: float  # share of the row's own box taken by its parts' boxes

    @property
    def width(self) -> int:
        """Pixels across."""
        return self.box[2] - self.box[0]

    @property
    def height(self) -> int:
        """Pixels down."""
        return self.box[3] - self.box[1]


def rows_in(layer: Layer) -> list[LetterRow]:
    """The layer's candidate rows of letters, top to bottom."""
    count, labels, stats, _ = cv2.connectedComponentsWithStats(layer.mask, connectivity=8)
    keep = [n for n in range(1, count) if letter_like(stats[n], layer.mask.shape)]
    keep = sorted(keep, key=lambda n: -int(stats[n][cv2.CC_STAT_AREA]))[:MOST_PARTS]
    if not keep:
        return []
    boxes = np.array([stats[n][:4] for n in sorted(keep)], np.float64)  # left, top, width, height
    names = np.array(sorted(keep))
    groups = grouped(boxes)
    rows = [row_of(layer.kind, np.asarray(labels, np.int32), names[group], boxes[group]) for group in groups]
    return sorted((r for r in rows if r is not None), key=lambda r: (r.box[1], r.box[0]))


def letter_like(stat: NDArray[np.int32], shape: tuple[int, ...]) -> bool:
    """Large enough to matter, not a speck, not a rule, not a frame."""
    _, _, width, height, area = (int(v) for v in stat)
    if height < LEAST_HEIGHT or width < 2 or area < 12:
        return False
    if width > 14 * height or height > 12 * width or height > 0.95 * shape[0] > 200:
        return False
    return area > 0.05 * width * height


def grouped(boxes: NDArray[np.float64]) -> list[NDArray[np.int64]]:
    """Indices of the parts of each row: neighbours of like height, overlapping in height, close together."""
    left, top, width, height = boxes.T
    right, bottom = left + width, top + height
    root = list(range(len(boxes)))

    def find(n: int) -> int:
        while root[n] != n:
            root[n] = root[root[n]]
            n = root[n]
        return n

    order = np.argsort(left, kind="stable")
    for place, one in enumerate(order):
        later = order[place + 1 :]
        low, high = np.minimum(height[one], height[later]), np.maximum(height[one], height[later])
        overlap = np.minimum(bottom[one], bottom[later]) - np.maximum(top[one], top[later])
        apart = left[later] - right[one]
        near = (overlap > 0.45 * low) & (high < 2.4 * low) & (apart < 1.0 * high)
        for other in later[near]:
            root[find(int(other))] = find(int(one))
    names = np.array([find(n) for n in range(len(boxes))])
    return [np.flatnonzero(names == name) for name in np.unique(names)]


def row_of(
    kind: str, labels: NDArray[np.int32], names: NDArray[np.int64], boxes: NDArray[np.float64]
) -> LetterRow | None:
    """Measure one group of parts."""
    left, top = int(boxes[:, 0].min()), int(boxes[:, 1].min())
    right, bottom = int((boxes[:, 0] + boxes[:, 2]).max()), int((boxes[:, 1] + boxes[:, 3]).max())
    mask = np.isin(labels[top:bottom, left:right], names).astype(np.uint8)
    area = float(mask.sum())
    inside = cv2.distanceTransform(np.pad(mask, 1), cv2.DIST_L2, 5)[1:-1, 1:-1]
    ridge = inside[(inside > 0) & (inside >= cv2.dilate(inside, np.ones((3, 3), np.uint8)))]
    if not ridge.size:
        return None
    contours, _ = cv2.findContours(mask, cv2.RETR_LIST, cv2.CHAIN_APPROX_NONE)
    outline = float(sum(len(c) for c in contours))
    height = weighted_median(boxes[:, 3], boxes[:, 2])
    order = np.argsort(boxes[:, 0])
    gaps = boxes[order][1:, 0] - (boxes[order][:-1, 0] + boxes[order][:-1, 2])
    feet = boxes[:, 1] + boxes[:, 3]
    covered = float((boxes[:, 2] * boxes[:, 3]).sum())
    return LetterRow(
        kind, (left, top, right, bottom), mask, len(names), height,
        stroke=float(2 * ridge.mean()), stroke_spread=float(ridge.std() / ridge.mean()),
        gap=float(np.median(gaps) / height) if gaps.size else 0.0,
        fill=area / covered, edge=outline / height / len(names),
        level=float(np.std(feet) / height), bounded=min(2.0, covered / ((right - left) * (bottom - top))),
    )  # fmt: skip


def weighted_median(values: NDArray[np.float64], weights: NDArray[np.float64]) -> float:
    """The value at which half of the weight is reached."""
    order = np.argsort(values, kind="stable")
    reach = np.cumsum(weights[order])
    return float(values[order][np.searchsorted(reach, reach[-1] / 2)])
