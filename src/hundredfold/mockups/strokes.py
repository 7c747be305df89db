"""Strokes of a size picture: fine lines with bars at their ends."""

import cv2
import numpy as np

from hundredfold.mockups.lettering import Bytes, Colour

Point = tuple[float, float]
INK: Colour = (64, 64, 68)
LIGHT: Colour = (176, 176, 180)
_SHIFT = 4  # fractional bits of cv2's drawing


def stroke(frame: Bytes, start: Point, end: Point, colour: Colour, thick: float) -> None:
    """A straight stroke between two points of the frame."""
    way = np.subtract(end, start)
    long = float(np.linalg.norm(way))
    if long == 0:
        return
    aside = np.array([-way[1], way[0]]) / long * max(1.0, thick) / 2
    corners = np.array([start + aside, end + aside, end - aside, start - aside])
    points = np.round((corners - 0.5) * 2**_SHIFT).astype(np.int32)  # from edges of pixels to their middles
    cv2.fillConvexPoly(frame, points, colour, cv2.LINE_AA, _SHIFT)


def measuring_line(frame: Bytes, start: Point, end: Point, gap: float, bar: float = 0.012) -> None:
    """A line with a bar at each end, without ``gap`` pixels in its middle; ``bar`` is of the frame's side."""
    size = frame.shape[0]
    thick, way = size / 375, np.subtract(end, start)
    long = float(np.linalg.norm(way))
    if long < 1:
        return
    across = np.array([-way[1], way[0]]) / long * size * bar
    share = max(0.0, (1 - gap / long) / 2)
    pieces = [(start, start + way * share), (end, end - way * share)] if share > 0 else []
    for a, b in (*pieces, (start - across, start + across), (end - across, end + across)):
        stroke(frame, (float(a[0]), float(a[1])), (float(b[0]), float(b[1])), INK, thick)
