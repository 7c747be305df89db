"""SVG transforms as six numbers (a b c d e f), the order of ``matrix()``."""

import math
import re

from hundredfold.designs.typesetting.outline import Bounds

Matrix = tuple[float, float, float, float, float, float]
IDENTITY: Matrix = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)
_CALL = re.compile(r"([a-zA-Z]+)\s*\(([^)]*)\)")


def parse_transform(text: str) -> Matrix:
    """A ``transform`` attribute's value (SVG 1.1, 7.6). What cannot be read changes nothing."""
    steps = [_step(name, values) for name, values in _CALL.findall(text or "")]
    return compose(*steps)


def compose(*steps: Matrix) -> Matrix:
    """The steps as one; the last is applied to points first, as in the attribute."""
    result = IDENTITY
    for a, b, c, d, e, f in steps:
        ra, rb, rc, rd, re_, rf = result
        result = (
            ra * a + rc * b,
            rb * a + rd * b,
            ra * c + rc * d,
            rb * c + rd * d,
            ra * e + rc * f + re_,
            rb * e + rd * f + rf,
        )
    return result


def inverse(m: Matrix) -> Matrix:
    """The way back; the identity when there is none."""
    a, b, c, d, e, f = m
    area = a * d - b * c
    if abs(area) < 1e-12:
        return IDENTITY
    return (d / area, -b / area, -c / area, a / area, (c * f - d * e) / area, (b * e - a * f) / area)


def scale_of(m: Matrix) -> float:
    """How much lengths grow, as the root of how much areas grow."""
    return math.sqrt(abs(m[0] * m[3] - m[1] * m[2]))


def apply(m: Matrix, x: float, y: float) -> tuple[float, float]:
    """A point mapped."""
    return m[0] * x + m[2] * y + m[4], m[1] * x + m[3] * y + m[5]


def map_box(m: Matrix, box: Bounds) -> Bounds:
    """The box around a mapped box."""
    corners = [apply(m, x, y) for x in (box.left, box.right) for y in (box.top, box.bottom)]
    xs, ys = zip(*corners, strict=True)
    return Bounds(min(xs), min(ys), max(xs), max(ys))


def _step(name: str, text: str) -> Matrix:
    try:
        v = [float(part) for part in re.split(r"[\s,]+", text.strip()) if part]
    except ValueError:
        return IDENTITY
    if name == "matrix" and len(v) == 6:
        return (v[0], v[1], v[2], v[3], v[4], v[5])
    if name == "translate" and v:
        return (1, 0, 0, 1, v[0], v[1] if len(v) > 1 else 0)
    if name == "scale" and v:
        return (v[0], 0, 0, v[1] if len(v) > 1 else v[0], 0, 0)
    if name == "rotate" and v:
        c, s = math.cos(math.radians(v[0])), math.sin(math.radians(v[0]))
        turn: Matrix = (c, s, -s, c, 0, 0)
        if len(v) < 3:
            return turn
        return compose((1, 0, 0, 1, v[1], v[2]), turn, (1, 0, 0, 1, -v[1], -v[2]))
    if name in ("skewX", "skewY") and v:
        t = math.tan(math.radians(v[0]))
        return (1, 0, t, 1, 0, 0) if name == "skewX" else (1, t, 0, 1, 0, 0)
    return IDENTITY
