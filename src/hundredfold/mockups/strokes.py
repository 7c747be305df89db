"""Strokes of a size picture: fine lines with bars at their ends."""

import cv2
import numpy as np
from numpy.typing import NDArray

from hundredfold.mockups.lettering import Bytes, Colour

Point = tuple[float, float]
INK: Colour = (64, 64, 68)
LIGHT: Colour = (176, 176, 180)
_BAR = 0.012  # of the frame: half a bar's length
_THICK, _HEAD, _HALF = 0.085, 0.30, 0.20  # of an em: an arrow's stroke, its head's length and half its width
_SHIFT = 4  # fractional bits of cv2's drawing


def stroke(frame: Bytes, start: Point, end: Point, colour: Colour, thick: float) -> None:
    """A straight stroke between two points of the frame."""
    way = np.subtract(end, start)
    long = float(np.linalg.norm(way))
    if long == 0:
        return
    aside = np.array([-way[1], way[0]]) / long * max(1.0, thick) / 2
    _fill(frame, np.array([start + aside, end + aside, end - aside, start - aside]), colour)


def _fill(frame: Bytes, corners: NDArray[np.float64], colour: Colour) -> None:
    points = np.round((corners - 0.5) * 2**_SHIFT).astype(np.int32)  # from edges of pixels to their middles
    cv2.fillConvexPoly(frame, points, colour, cv2.LINE_AA, _SHIFT)


def measuring_line(frame: Bytes, start: Point, end: Point, gap: float) -> None:
    """A line with a bar at each end, without ``gap`` pixels in its middle."""
    size = frame.shape[0]
    thick, way = size / 375, np.subtract(end, start)
    long = float(np.linalg.norm(way))
    if long < 1:
        return
    across = np.array([-way[1], way[0]]) / long * size * _BAR
    share = max(0.0, (1 - gap / long) / 2)
    pieces = [(start, start + way * share), (end, end - way * share)] if share > 0 else []
    for a, b in (*pieces, (start - across, start + across), (end - across, end + across)):
        stroke(frame, (float(a[0]), float(a[1])), (float(b[0]), float(b[1])), INK, thick)


def measuring_arrow(frame: Bytes, start: Point, end: Point, em: float) -> None:
    """An arrow with a head at each end, as bold as figures of ``em`` pixels."""
    way = np.subtract(end, start)
    along = way / np.linalg.norm(way)
    across = np.array([-along[1], along[0]]) * _HALF * em
    bases = []
    for tip, inwards in ((start, along), (end, -along)):
        base = tip + inwards * _HEAD * em
        _fill(frame, np.array([tip, base + across, base - across]), INK)
        bases.append((float(base[0]), float(base[1])))
    stroke(frame, bases[0], bases[1], INK, _THICK * em)
