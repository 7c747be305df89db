"""SVG path data and basic shapes to outlines."""

import math
import re
from functools import lru_cache

import numpy as np
from fontTools.pens.recordingPen import RecordingPen
from fontTools.svgLib.path import parse_path

from hundredfold.designs.typesetting.outline import EMPTY, Outline

_PLAIN = re.compile(r"[MLQCZ]")
_NUMBERS = {"M": 2, "L": 2, "Q": 4, "C": 6, "Z": 0}
_QUARTER = 4 / 3 * math.tan(math.pi / 8)  # a quarter circle's handles: the usual cubic, right to 0.03 %


def path_outline(data: str) -> Outline | None:
    """The outline of a path's ``d``; None when it cannot be read."""
    return _plain(data) or _any(data)


def _plain(data: str) -> Outline | None:
    """Data as ``Outline.path_data`` writes it: absolute, one letter a verb; numpy reads the numbers."""
    if re.search(r"[^MLQCZ0-9. \-]", data):
        return None
    verbs = "".join(_PLAIN.findall(data))
    try:
        numbers = np.array(_PLAIN.sub(" ", data).split(), dtype=np.float64)
    except ValueError:
        return None
    if len(numbers) != sum(_NUMBERS[verb] * verbs.count(verb) for verb in _NUMBERS):
        return None
    if not verbs.startswith("M") or re.search(r"Z[^MZ]", verbs):
        return None
    return Outline(verbs.encode(), numbers.reshape(-1, 2))


@lru_cache(maxsize=512)
def _any(data: str) -> Outline | None:
    pen = RecordingPen()
    try:
        parse_path(data, pen)
    except Exception:  # the parser raises several kinds on broken data
        return None
    verbs, points = bytearray(), list[tuple[float, float]]()
    start: tuple[float, float] | None = None
    opened = False
    for verb, given in pen.value:
        if verb in ("endPath", "closePath"):
            verbs += b"Z" * (verb == "closePath")
            opened = False
            continue
        if verb == "moveTo":
            start, opened = given[0], True
        elif not opened and start is not None:
            # Drawing goes on after a close without a move: from where the contour began.
            verbs += b"M"
            points.append(start)
            opened = True
        verbs += {"moveTo": b"M", "lineTo": b"L", "qCurveTo": b"Q", "curveTo": b"C"}[verb]
        points.extend(given)
    return Outline(bytes(verbs), np.array(points, dtype=np.float64)) if points else EMPTY


def ellipse(cx: float, cy: float, rx: float, ry: float) -> Outline:
    """Four quarters, clockwise from the right (SVG 2, 10.3 and 10.4)."""
    k = _QUARTER
    unit = [(1, 0), (1, k), (k, 1), (0, 1), (-k, 1), (-1, k), (-1, 0), (-1, -k), (-k, -1), (0, -1), (k, -1)]
    points = np.array([*unit, (1, -k), (1, 0)], dtype=np.float64) * [rx, ry] + [cx, cy]
    return Outline(b"MCCCCZ", points)


def rectangle(x: float, y: float, width: float, height: float, rx: float = 0.0, ry: float = 0.0) -> Outline:
    """A rectangle, its corners rounded (SVG 2, 10.2)."""
    right, bottom = x + width, y + height
    if rx <= 0 or ry <= 0:
        return Outline(b"MLLLZ", np.array([(x, y), (right, y), (right, bottom), (x, bottom)], np.float64))
    rx, ry = min(rx, width / 2), min(ry, height / 2)
    h, v = rx * (1 - _QUARTER), ry * (1 - _QUARTER)
    points = [
        (x + rx, y), (right - rx, y), (right - h, y), (right, y + v), (right, y + ry), (right, bottom - ry),
        (right, bottom - v), (right - h, bottom), (right - rx, bottom), (x + rx, bottom), (x + h, bottom),
        (x, bottom - v), (x, bottom - ry), (x, y + ry), (x, y + v), (x + h, y), (x + rx, y),
    ]  # fmt: skip
    return Outline(b"MLCLCLCLCZ", np.array(points, dtype=np.float64))


def polygon(numbers: list[float], closed: bool) -> Outline:
    """Straight lines through points."""
    points = np.array(numbers[: len(numbers) // 2 * 2], dtype=np.float64).reshape(-1, 2)
    if not len(points):
        return EMPTY
    return Outline(b"M" + b"L" * (len(points) - 1) + b"Z" * closed, points)
