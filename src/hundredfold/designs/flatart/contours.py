"""Outlines to contours of short straight edges, near enough that no eye and no test can tell."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hundredfold.designs.flatart.cells import Floats, Whole, counted
from hundredfold.designs.typesetting.outline import Outline, cubics_of

NEAR = 0.02  # pixels an edge may lie off its curve


@dataclass(frozen=True, eq=False)
class Contours:
    """Points along contours, each point with its contour's number; which contours are closed."""

    points: Floats  # (n, 2)
    contour: Whole
    closed: NDArray[np.bool_]

    def edges(self) -> Floats:
        """Directed edges that close every contour, as filling does."""
        ends = np.flatnonzero(np.diff(self.contour, append=-1))
        starts = np.concatenate([[0], ends[:-1] + 1])[: len(ends)]
        following = np.arange(1, len(self.points) + 1)
        following[ends] = starts
        return np.concatenate([self.points, self.points[following]], axis=1)

    def without(self, dropped: NDArray[np.bool_]) -> "Contours":
        """The rest, when the contours with these numbers are taken out."""
        kept = ~dropped[self.contour]
        return Contours(self.points[kept], self.contour[kept], self.closed)


def contours_of(outline: Outline, near: float = NEAR) -> Contours:
    """The outline's contours, in pixels as it is, no edge more than ``near`` off its curve."""
    pieces, contour, closed = cubics_of(outline)
    if not len(pieces):
        return Contours(np.zeros((0, 2)), np.zeros(0, dtype=np.int64), closed)
    # How far a cubic may lie off its chords, from its second differences (Wang's formula).
    bend = np.abs(pieces[:, :2] - 2 * pieces[:, 1:3] + pieces[:, 2:]).max(axis=1)
    count = np.maximum(1, np.ceil(np.sqrt(0.75 * np.hypot(bend[:, 0], bend[:, 1]) / near))).astype(np.int64)
    which, step = counted(np.zeros(len(pieces), dtype=np.int64), count)
    t = (step / count[which])[:, None]
    p, r = pieces[which], 1 - t
    points = r**3 * p[:, 0] + 3 * r**2 * t * p[:, 1] + 3 * r * t**2 * p[:, 2] + t**3 * p[:, 3]
    # Each piece gives its points but the last, which the next piece starts with; a contour's last is added.
    ends = np.flatnonzero(np.diff(contour, append=-1))
    after = np.cumsum(count)[ends]
    points = np.insert(points, after, pieces[ends, 3], axis=0)
    owner = np.insert(contour[which], after, contour[ends])
    return _without_repeats(points, owner, closed)


def _without_repeats(points: Floats, owner: Whole, closed: NDArray[np.bool_]) -> Contours:
    """Leave out points that lie on the one before, and a closed contour's last where it is its first."""
    kept = np.ones(len(points), dtype=bool)
    kept[1:] = (owner[1:] != owner[:-1]) | (np.abs(points[1:] - points[:-1]).max(axis=1) > 1e-6)
    points, owner = points[kept], owner[kept]
    ends = np.flatnonzero(np.diff(owner, append=-1))
    starts = np.concatenate([[0], ends[:-1] + 1])
    same = closed[owner[ends]] & (np.abs(points[ends] - points[starts]).max(axis=1) <= 1e-6) & (ends > starts)
    kept = np.ones(len(points), dtype=bool)
    kept[ends[same]] = False
    return Contours(points[kept], owner[kept], closed)
