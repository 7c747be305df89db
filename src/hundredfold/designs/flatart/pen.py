"""A line drawn along contours, as directed edges that close it: both sides, joins and caps.

Every stretch is a strip; strips run through each other on the inner side of a turn and are joined on its
outer side, so that the winding number is 1 or more wherever the line is (the usual construction).
"""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hundredfold.designs.flatart.cells import Floats, Whole, counted
from hundredfold.designs.flatart.contours import Contours

JOINS, CAPS = ("miter", "round", "bevel"), ("butt", "round", "square")
LINE_NEAR = 0.03  # pixels a line's middle may lie off its curve: its joins make its sides smooth
_NEAR = 0.02  # pixels a chord may lie off a round join


@dataclass(frozen=True)
class Pen:
    """How a line is drawn; its width in pixels."""

    width: float
    join: str = "miter"
    cap: str = "butt"
    miter_limit: float = 4.0


def drawn(contours: Contours, pen: Pen) -> Floats:
    """The edges of the line along the contours, shape (n, 4)."""
    return _line(contours, pen, 0)


def grown(contours: Contours, pen: Pen, turning: int) -> Floats:
    """The edges of a filled shape together with the line around it: the outer side alone.

    Most of a thick line round letters lies inside them, and its inner side costs the more the tighter the
    letters turn. ``turning`` is what ``turning_of`` says of the contours.
    """
    return _line(contours.without(_closed_up(contours, pen, turning)), pen, turning)


def _closed_up(contours: Contours, pen: Pen, turning: int) -> NDArray[np.bool_]:
    """Rooms inside letters that the line fills: those narrower than it is wide."""
    starts, areas = _areas(contours)
    low, high = (f.reduceat(contours.points, starts, axis=0) for f in (np.minimum, np.maximum))
    shut = (areas * turning < 0) & ((high - low).min(axis=1) < pen.width - LINE_NEAR)
    dropped = np.zeros(len(contours.closed), dtype=bool)
    dropped[contours.contour[starts][shut]] = True
    return dropped


def _areas(contours: Contours) -> tuple[Whole, Floats]:
    """Where each contour starts, and twice its area, positive when it runs clockwise as seen."""
    starts = np.flatnonzero(np.diff(contours.contour, prepend=-1))
    x0, y0, x1, y1 = contours.edges().T
    return starts, np.add.reduceat(x0 * y1 - x1 * y0, starts)


def turning_of(contours: Contours) -> int:
    """1 where no winding number of closed contours is below 0, -1 where none is above; 0 where both are.

    Looked at just outside and inside the highest point of every contour, which is enough for letters.
    """
    edges = contours.edges()
    if not len(edges) or not contours.closed[contours.contour].all():
        return 0
    x0, y0, x1, y1 = edges.T
    starts, areas = _areas(contours)
    turning = 1 if areas.sum() > 0 else -1
    for k, start in enumerate(starts):
        points = contours.points[start : starts[k + 1] if k + 1 < len(starts) else None]
        x, y = points[points[:, 1].argmin()]
        y -= 1e-3
        near = ((y0 <= y) != (y1 <= y)) & (np.maximum(x0, x1) > x)
        a, b, c, d = edges[near].T
        right = a + (y - b) * (c - a) / (d - b) > x
        outside = int(np.where(d > b, 1, -1)[right].sum())
        if turning * outside < 0 or turning * (outside + np.sign(areas[k])) < 0:
            return 0
    return turning


def _line(contours: Contours, pen: Pen, only: int) -> Floats:
    start, end, following = _stretches(contours)
    if not len(start):
        return np.zeros((0, 4))
    along = end - start
    length = np.hypot(along[:, 0], along[:, 1])
    along = along / length[:, None]
    side = pen.width / 2 * np.stack([along[:, 1], -along[:, 0]], axis=1)
    parts = []
    if only >= 0:
        parts.append(_edges(start + side, end + side))
    if only <= 0:
        parts.append(_edges(end - side, start - side))
    turns = np.flatnonzero(following >= 0)
    parts.extend(_turns(end, side, along, length, turns, following[turns], pen, only))
    if not only:
        last = np.flatnonzero(following < 0)
        first = np.setdiff1d(np.arange(len(start)), following[turns])
        parts.extend(_caps(end[last], side[last], along[last], pen))
        parts.extend(_caps(start[first], -side[first], -along[first], pen))
    return np.concatenate(parts)


def _edges(a: Floats, b: Floats) -> Floats:
    return np.concatenate([a, b], axis=1)


def _stretches(contours: Contours) -> tuple[Floats, Floats, Whole]:
    """Start and end of every stretch, and the number of the one after it; -1 at an open end."""
    points, owner, closed = contours.points, contours.contour, contours.closed
    ends = np.flatnonzero(np.diff(owner, append=-1))
    starts = np.concatenate([[0], ends[:-1] + 1])[: len(ends)]
    following = np.arange(1, len(points) + 1)
    following[ends] = starts
    real = np.ones(len(points), dtype=bool)
    real[ends] = closed[owner[ends]] & (ends > starts)
    number = np.cumsum(real) - 1
    after = following[real]
    return points[real], points[after], np.where(real[after], number[after], -1)


def _turns(
    ends: Floats,
    sides: Floats,
    along: Floats,
    length: Floats,
    before: Whole,
    after: Whole,
    pen: Pen,
    only: int,
) -> list[Floats]:
    """Joins between stretches: outer side joined, inner side run through; ``only`` 1 or -1: of one side."""
    cross = along[before, 0] * along[after, 1] - along[before, 1] * along[after, 0]
    dot = (along[before] * along[after]).sum(axis=1)
    angle = np.arctan2(cross, dot)
    # Turning clockwise as seen (y down) makes the side with +n the outer one; else it is the other.
    forward = angle >= 0
    sign = np.where(forward, 1.0, -1.0)[:, None]
    at, n0, n1 = ends[before], sign * sides[before], sign * sides[after]
    outer = np.flatnonzero(forward == (only > 0)) if only else np.arange(len(at))
    parts = _outer(at[outer], n0[outer], n1[outer], angle[outer], forward[outer], pen)
    inner = np.flatnonzero(forward != (only > 0)) if only else outer
    # Short stretches in a tight turn must pass through the middle, or the line would get a hole.
    reach = np.where(dot < 0, np.inf, pen.width / 2 * np.abs(np.sin(angle)))
    tight = (np.minimum(length[before], length[after]) < reach)[inner]
    open_turns, tight_turns = inner[~tight], inner[tight]
    back = ~forward
    parts.append(_directed((at - n0)[open_turns], (at - n1)[open_turns], back[open_turns]))
    parts.append(_directed((at - n0)[tight_turns], at[tight_turns], back[tight_turns]))
    parts.append(_directed(at[tight_turns], (at - n1)[tight_turns], back[tight_turns]))
    return parts


def _directed(a: Floats, b: Floats, forward: NDArray[np.bool_]) -> Floats:
    """Edges from a to b on the side that runs forward, from b to a on the one that runs back."""
    return np.where(forward[:, None], _edges(a, b), _edges(b, a))


def _outer(
    at: Floats, n0: Floats, n1: Floats, angle: Floats, forward: NDArray[np.bool_], pen: Pen
) -> list[Floats]:
    if pen.join == "round":
        return [_arcs(at, n0, angle, forward, pen.width / 2)]
    half = np.cos(angle / 2)
    sharp = half * pen.miter_limit >= 1 if pen.join == "miter" else np.zeros(len(at), dtype=bool)
    blunt = ~sharp
    tip = at + (n0 + n1) / 2 / np.maximum(half, 1e-9)[:, None] ** 2
    return [
        _directed((at + n0)[blunt], (at + n1)[blunt], forward[blunt]),
        _directed((at + n0)[sharp], tip[sharp], forward[sharp]),
        _directed(tip[sharp], (at + n1)[sharp], forward[sharp]),
    ]


def _arcs(at: Floats, n0: Floats, angle: Floats, forward: NDArray[np.bool_], radius: float) -> Floats:
    """Chords along arcs about ``at`` from ``at + n0``, turning by ``angle``."""
    step = 2 * math.acos(max(1 - _NEAR / radius, 0.0)) if radius > 0 else math.pi
    count = np.maximum(1, np.ceil(np.abs(angle) / step)).astype(np.int64)
    which, k = counted(np.zeros(len(at), dtype=np.int64), count)
    unit = angle / count
    spots = []
    for turn in (unit[which] * k, unit[which] * (k + 1)):
        cos, sin = np.cos(turn), np.sin(turn)
        x, y = n0[which].T
        spots.append(at[which] + np.stack([x * cos - y * sin, x * sin + y * cos], axis=1))
    return _directed(spots[0], spots[1], forward[which])


def _caps(at: Floats, side: Floats, along: Floats, pen: Pen) -> list[Floats]:
    """From the side with +n to the other, round the end."""
    every = np.ones(len(at), dtype=bool)
    if pen.cap == "round":
        return [_arcs(at, side, np.full(len(at), math.pi), every, pen.width / 2)]
    a, b = at + side, at - side
    if pen.cap == "square":
        out = along * (pen.width / 2)
        return [_edges(a, a + out), _edges(a + out, b + out), _edges(b + out, b)]
    return [_edges(a, b)]
