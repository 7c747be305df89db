"""Outlines: moves, lines and Bézier curves as arrays, with exact bounds and SVG path data."""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

_POINTS_OF = {"M": 1, "L": 1, "Q": 2, "C": 3, "Z": 0}
_COUNT = np.zeros(128, dtype=np.int64)
for _verb, _points in _POINTS_OF.items():
    _COUNT[ord(_verb)] = _points


class Bounds(NamedTuple):
    """A box in the outline's own units; ``top`` is the smallest y, whichever way y grows."""

    left: float
    top: float
    right: float
    bottom: float

    @property
    def width(self) -> float:
        """Right minus left."""
        return self.right - self.left

    @property
    def height(self) -> float:
        """Bottom minus top."""
        return self.bottom - self.top

    @property
    def centre(self) -> tuple[float, float]:
        """The middle point."""
        return (self.left + self.right) / 2, (self.top + self.bottom) / 2

    def grown(self, by: float) -> "Bounds":
        """The box with ``by`` added on every side."""
        return Bounds(self.left - by, self.top - by, self.right + by, self.bottom + by)

    def holds(self, other: "Bounds", slack: float = 0.0) -> bool:
        """Whether ``other`` lies inside, give or take ``slack``."""
        return (
            other.left >= self.left - slack
            and other.top >= self.top - slack
            and other.right <= self.right + slack
            and other.bottom <= self.bottom + slack
        )


def union(boxes: Iterable[Bounds]) -> Bounds | None:
    """The smallest box around all boxes; None when there are none."""
    parts = list(boxes)
    if not parts:
        return None
    return Bounds(
        min(b.left for b in parts),
        min(b.top for b in parts),
        max(b.right for b in parts),
        max(b.bottom for b in parts),
    )


@dataclass(frozen=True, eq=False)
class Outline:
    """Drawing verbs (M L Q C Z, one ASCII byte each) and their points, shape (n, 2)."""

    verbs: bytes
    points: Floats

    @property
    def empty(self) -> bool:
        """Nothing is drawn."""
        return len(self.points) == 0

    def affine(self, a: float, b: float, c: float, d: float, e: float, f: float) -> "Outline":
        """Map every point to (a x + c y + e, b x + d y + f), the order of SVG's ``matrix()``."""
        matrix = np.array([[a, b], [c, d]], dtype=np.float64)
        return Outline(self.verbs, self.points @ matrix + np.array([e, f], dtype=np.float64))

    def moved(self, dx: float, dy: float) -> "Outline":
        """The outline shifted."""
        return Outline(self.verbs, self.points + np.array([dx, dy], dtype=np.float64))

    def bounds(self) -> Bounds | None:
        """The exact box around the curves themselves, not their control points; None when empty."""
        return self._bounds

    @cached_property
    def _bounds(self) -> Bounds | None:
        if self.empty:
            return None
        spots = [self.points[_on_curve(self)]]
        spots.extend(_extremes(self))
        every = np.concatenate(spots)
        low, high = every.min(axis=0), every.max(axis=0)
        return Bounds(float(low[0]), float(low[1]), float(high[0]), float(high[1]))

    @cached_property
    def flat(self) -> tuple[Floats, ...]:
        """Each contour as points along it, eight to a curve or line."""
        return _flattened(self)

    def path_data(self, decimals: int = 2) -> str:
        """SVG path data with absolute coordinates of at most ``decimals`` places."""
        form = {
            ord(verb): verb + " ".join([f"%.{decimals}f"] * 2 * points) for verb, points in _POINTS_OF.items()
        }
        # One formatting and one search for the whole path: a number at a time takes three times as long.
        text = "".join(map(form.__getitem__, self.verbs)) % tuple(self.points.ravel().tolist())
        if not decimals:
            return re.sub(r"-0(?!\d)", "0", text)
        return _NEEDLESS.sub("", _MINUS_NOTHING.sub("0.0", text))


EMPTY = Outline(b"", np.zeros((0, 2)))


def joined(outlines: Iterable[Outline]) -> Outline:
    """All outlines as one, in order."""
    parts = [outline for outline in outlines if not outline.empty]
    if not parts:
        return EMPTY
    return Outline(b"".join(p.verbs for p in parts), np.concatenate([p.points for p in parts]))


def boxes(bounds: Iterable[Bounds]) -> Outline:
    """Rectangles as an outline, clockwise as seen with y down."""
    return joined(
        Outline(
            b"MLLLZ",
            np.array(
                [[b.left, b.top], [b.right, b.top], [b.right, b.bottom], [b.left, b.bottom]], dtype=np.float64
            ),
        )
        for b in bounds
    )


_MINUS_NOTHING = re.compile(r"-0\.0+(?!\d)")
_NEEDLESS = re.compile(r"\.?0+(?![\d.])")  # zeros at the end of a number that has a point


def _starts(outline: Outline) -> tuple[NDArray[np.uint8], NDArray[np.int64]]:
    """The verbs as codes, and the index of each verb's first point."""
    codes = np.frombuffer(outline.verbs, dtype=np.uint8)
    counts = _COUNT[codes]
    return codes, np.cumsum(counts) - counts


def _on_curve(outline: Outline) -> NDArray[np.int64]:
    """Indices of points the pen passes through; a bare move draws nothing and does not count."""
    codes, starts = _starts(outline)
    last = starts + _COUNT[codes] - 1
    draws = (codes != ord("Z")) & (codes != ord("M"))
    # A move counts when something is drawn from it.
    moves = np.flatnonzero(codes == ord("M"))
    followed = moves[np.isin(moves + 1, np.flatnonzero(draws))]
    return np.concatenate([last[draws], last[followed]])


def _extremes(outline: Outline) -> list[Floats]:
    """Points where a curve turns in x or y, strictly inside its ends."""
    codes, starts = _starts(outline)
    found: list[Floats] = []
    quads = starts[codes == ord("Q")]
    if len(quads):
        p0, p1, p2 = (outline.points[quads + k] for k in (-1, 0, 1))
        found.append(_quad_turns(p0, p1, p2))
    cubics = starts[codes == ord("C")]
    if len(cubics):
        p0, p1, p2, p3 = (outline.points[cubics + k] for k in (-1, 0, 1, 2))
        found.append(_cubic_turns(p0, p1, p2, p3))
    return found


def _quad_turns(p0: Floats, p1: Floats, p2: Floats) -> Floats:
    bend = p0 - 2 * p1 + p2
    with np.errstate(divide="ignore", invalid="ignore"):
        t = (p0 - p1) / bend
    spots = []
    for axis in (0, 1):
        inside = (t[:, axis] > 0) & (t[:, axis] < 1)
        s = t[inside, axis][:, None]
        spots.append((1 - s) ** 2 * p0[inside] + 2 * s * (1 - s) * p1[inside] + s**2 * p2[inside])
    return np.concatenate(spots)


def _cubic_turns(p0: Floats, p1: Floats, p2: Floats, p3: Floats) -> Floats:
    # The derivative is a t^2 + b t + c (over 3).
    a = -p0 + 3 * p1 - 3 * p2 + p3
    b = 2 * (p0 - 2 * p1 + p2)
    c = p1 - p0
    spots = []
    with np.errstate(divide="ignore", invalid="ignore"):
        root = np.sqrt(b * b - 4 * a * c)
        # The numerically stable pair of roots; the second also covers a == 0.
        q = -0.5 * (b + np.where(b >= 0, root, -root))
        candidates = (q / a, c / q)
    for t in candidates:
        for axis in (0, 1):
            inside = (t[:, axis] > 0) & (t[:, axis] < 1)
            s = t[inside, axis][:, None]
            r = 1 - s
            spots.append(
                r**3 * p0[inside] + 3 * s * r**2 * p1[inside] + 3 * s**2 * r * p2[inside] + s**3 * p3[inside]
            )
    return np.concatenate(spots)


def as_cubics(outline: Outline, most: float) -> tuple[Floats, NDArray[np.int64]]:
    """Every line and curve as cubics, shape (n, 4, 2), none wider than ``most``; where contours start.

    Open contours are closed by their Z only; pieces without a length are left out.
    """
    pieces, contour, _ = cubics_of(outline)
    if np.isfinite(most) and len(pieces):
        cuts = np.maximum(1, np.ceil(np.ptp(pieces[..., 0], axis=1) / most)).astype(np.int64)
        pieces, contour = _split(pieces, cuts), np.repeat(contour, cuts)
    starts = np.flatnonzero(np.diff(contour, prepend=-1))
    return pieces, starts


def cubics_of(outline: Outline) -> tuple[Floats, NDArray[np.int64], NDArray[np.bool_]]:
    """Every line and curve as a cubic, shape (n, 4, 2), with the number of its contour; and for each contour
    whether a Z closes it. Pieces without a length are left out.
    """
    if outline.empty:
        return np.zeros((0, 4, 2)), np.zeros(0, dtype=np.int64), np.zeros(0, dtype=bool)
    pieces, contour, closed = _whole_cubics(outline)
    drawn = np.abs(pieces - pieces[:, :1]).max(axis=(1, 2)) > 1e-12
    return pieces[drawn], contour[drawn], closed


def _whole_cubics(outline: Outline) -> tuple[Floats, NDArray[np.int64], NDArray[np.bool_]]:
    """One cubic for each drawing verb and each Z, its contour's number, and which contours have a Z."""
    codes, starts = _starts(outline)
    contour = np.cumsum(codes == ord("M")) - 1
    first = outline.points[starts[codes == ord("M")]][contour]
    p = outline.points
    here = p[np.maximum(starts - 1, 0)]
    is_q, is_c, is_z = (codes == ord(verb) for verb in "QCZ")
    last = np.minimum(starts + np.maximum(_COUNT[codes], 1) - 1, len(p) - 1)
    end = np.where(is_z[:, None], first, p[last])
    pieces = np.stack([here, here + (end - here) / 3, end - (end - here) / 3, end], axis=1)
    bend = p[starts[is_q]]
    pieces[is_q, 1] = here[is_q] + (bend - here[is_q]) * 2 / 3
    pieces[is_q, 2] = end[is_q] + (bend - end[is_q]) * 2 / 3
    pieces[is_c, 1], pieces[is_c, 2] = p[starts[is_c]], p[starts[is_c] + 1]
    drawn = codes != ord("M")
    closed = np.zeros(int(contour[-1]) + 1, dtype=bool)
    closed[contour[is_z]] = True
    return pieces[drawn], contour[drawn], closed


def from_cubics(pieces: Floats, starts: NDArray[np.int64]) -> Outline:
    """Closed contours from the pieces, a new one at each of ``starts``."""
    verbs = bytearray()
    points: list[Floats] = []
    ends = [*starts[1:], len(pieces)]
    for start, end in zip(starts, ends, strict=True):
        if end > start:
            verbs += b"M" + b"C" * int(end - start) + b"Z"
            points.append(pieces[start, :1])
            points.append(pieces[start:end, 1:].reshape(-1, 2))
    return Outline(bytes(verbs), np.concatenate(points)) if points else EMPTY


def _flattened(outline: Outline) -> tuple[Floats, ...]:
    pieces, starts = as_cubics(outline, most=np.inf)
    if not len(pieces):
        return ()
    t = np.linspace(0, 1, 9)[:-1, None]
    r = 1 - t
    p = pieces[:, None]
    points = (
        r**3 * p[..., 0, :] + 3 * r**2 * t * p[..., 1, :] + 3 * r * t**2 * p[..., 2, :] + t**3 * p[..., 3, :]
    )
    ends = [*starts[1:], len(pieces)]
    return tuple(points[a:b].reshape(-1, 2) for a, b in zip(starts, ends, strict=True) if b > a)


def _split(pieces: Floats, cuts: NDArray[np.int64]) -> Floats:
    """Each cubic cut at equal steps of its parameter into as many parts as ``cuts`` says."""
    p = np.repeat(pieces, cuts, axis=0)
    part = np.arange(len(p)) - np.repeat(np.cumsum(cuts) - cuts, cuts)
    share = 1 / np.repeat(cuts, cuts)
    ends, slopes = [], []
    d = np.diff(p, axis=1)
    for t in (part * share, (part + 1) * share):
        t = t[:, None]
        r = 1 - t
        ends.append(r**3 * p[:, 0] + 3 * r**2 * t * p[:, 1] + 3 * r * t**2 * p[:, 2] + t**3 * p[:, 3])
        slopes.append((r**2 * d[:, 0] + 2 * r * t * d[:, 1] + t**2 * d[:, 2]) * share[:, None])
    return np.stack([ends[0], ends[0] + slopes[0], ends[1] - slopes[1], ends[1]], axis=1)
