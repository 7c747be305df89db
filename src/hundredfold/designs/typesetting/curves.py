"""A path to set text on: cubic pieces, measured along their length."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from fontTools.pens.recordingPen import RecordingPen
from fontTools.svgLib.path import parse_path

from hundredfold.designs.typesetting.outline import Floats
from hundredfold.kernel.errors import ShopError

_SAMPLES = 64  # a piece; the length of a quarter circle is then right to 1e-6 of itself

_EVEN = 512  # evenly spaced curvatures


@dataclass(frozen=True, eq=False)
class Curve:
    """Cubic pieces, shape (n, 4, 2), in SVG's directions (y down), each starting where the last ended."""

    pieces: Floats

    @cached_property
    def _table(self) -> tuple[Floats, Floats]:
        """Lengths from the start, and (piece + t) at each, both ascending."""
        t = np.linspace(0.0, 1.0, _SAMPLES + 1)
        speeds = np.linalg.norm(_derivative(self.pieces[:, None], t[None, :]), axis=2)
        middle = np.linalg.norm(_derivative(self.pieces[:, None], (t[:-1] + 0.5 / _SAMPLES)[None, :]), axis=2)
        steps = (speeds[:, :-1] + 4 * middle + speeds[:, 1:]) / (6 * _SAMPLES)  # Simpson's rule
        lengths = np.concatenate([[0.0], np.cumsum(steps.ravel())])
        spots = (np.arange(len(self.pieces))[:, None] + t[None, :-1]).ravel()
        return lengths, np.concatenate([spots, [float(len(self.pieces))]])

    @property
    def length(self) -> float:
        """Along the whole path."""
        return float(self._table[0][-1])

    @cached_property
    def bends(self) -> tuple[Floats, Floats]:
        """Evenly spaced distances along the path, both ends among them, and the curvatures there."""
        distance = np.linspace(0.0, self.length, _EVEN + 1)
        return distance, self.at(distance)[2]

    def at(self, distance: Floats) -> tuple[Floats, Floats, Floats]:
        """Points, unit tangents and curvatures at distances from the start.

        Past either end the path goes straight on. Curvature is positive where the path turns clockwise
        as seen (y down), as on a circle drawn clockwise.
        """
        lengths, spots = self._table
        inside = np.clip(distance, 0.0, self.length)
        spot = np.interp(inside, lengths, spots)
        index = np.minimum(spot.astype(np.int64), len(self.pieces) - 1)
        t, pieces = spot - index, self.pieces[index]
        first, second = _derivative(pieces, t), _second(pieces, t)
        speed = np.linalg.norm(first, axis=-1)
        safe = np.where(speed > 1e-9, speed, 1.0)
        tangent = first / safe[..., None]
        bend = (first[..., 0] * second[..., 1] - first[..., 1] * second[..., 0]) / safe**3
        over = distance - inside
        point = _position(pieces, t) + tangent * over[..., None]
        return point, tangent, np.where(over == 0, bend, 0.0)


def _position(p: Floats, t: Floats) -> Floats:
    t = t[..., None]
    r = 1 - t
    value: Floats = (
        r**3 * p[..., 0, :] + 3 * r**2 * t * p[..., 1, :] + 3 * r * t**2 * p[..., 2, :] + t**3 * p[..., 3, :]
    )
    return value


def _derivative(p: Floats, t: Floats) -> Floats:
    t = t[..., None]
    r = 1 - t
    d = np.diff(p, axis=-2)
    value: Floats = 3 * (r**2 * d[..., 0, :] + 2 * r * t * d[..., 1, :] + t**2 * d[..., 2, :])
    return value


def _second(p: Floats, t: Floats) -> Floats:
    t = t[..., None]
    d = np.diff(p, n=2, axis=-2)
    value: Floats = 6 * ((1 - t) * d[..., 0, :] + t * d[..., 1, :])
    return value


def arc(cx: float, cy: float, radius: float, start_deg: float, sweep_deg: float) -> Curve:
    """A circular arc. Angles as on a clock face seen: 0 is right, -90 the top; positive turns clockwise."""
    count = max(4, math.ceil(abs(sweep_deg) / 15))
    step = math.radians(sweep_deg) / count
    # The cubic of an arc of angle a has handles 4/3 tan(a/4) of the radius; at 15 degrees the radial
    # error is below 1e-8 of the radius.
    handle = 4 / 3 * math.tan(step / 4)
    angles = math.radians(start_deg) + step * np.arange(count + 1)
    on = np.stack([np.cos(angles), np.sin(angles)], axis=1)
    out = np.stack([-np.sin(angles), np.cos(angles)], axis=1) * handle
    pieces = np.stack([on[:-1], on[:-1] + out[:-1], on[1:] - out[1:], on[1:]], axis=1)
    return Curve(pieces * radius + np.array([cx, cy]))


def from_path_data(data: str) -> Curve:
    """The first run of an SVG path's ``d``. Raises ShopError ``bad-path`` when it cannot be read."""
    pen = RecordingPen()
    try:
        parse_path(data, pen)
    except Exception as error:  # the parser raises several kinds on broken data
        raise ShopError(
            "bad-path", f"the path {data[:40]!r} cannot be read", "draw the path again"
        ) from error
    pieces: list[Sequence[tuple[float, float]]] = []
    here = start = (0.0, 0.0)
    for verb, points in pen.value:
        if verb == "moveTo":
            if pieces:
                break
            here = start = points[0]
        elif verb == "lineTo":
            pieces.append(_straight(here, points[0]))
        elif verb == "qCurveTo":
            (ax, ay), (bx, by) = points[0], points[-1]
            first = (here[0] + (ax - here[0]) * 2 / 3, here[1] + (ay - here[1]) * 2 / 3)
            pieces.append((here, first, (bx + (ax - bx) * 2 / 3, by + (ay - by) * 2 / 3), (bx, by)))
        elif verb == "curveTo":
            pieces.append((here, *points))
        elif verb == "closePath" and here != start:
            pieces.append(_straight(here, start))
        if points and verb != "moveTo":
            here = points[-1]
    cubics = np.array(pieces, dtype=np.float64).reshape(-1, 4, 2)
    cubics = cubics[np.abs(cubics - cubics[:, :1]).max(axis=(1, 2)) > 1e-9]
    if not len(cubics):
        raise ShopError("bad-path", f"the path {data[:40]!r} has no length", "draw a path to set the text on")
    return Curve(cubics)


def _straight(a: tuple[float, float], b: tuple[float, float]) -> Sequence[tuple[float, float]]:
    third = ((b[0] - a[0]) / 3, (b[1] - a[1]) / 3)
    return (a, (a[0] + third[0], a[1] + third[1]), (b[0] - third[0], b[1] - third[1]), b)
