"""The size picture: the goods smaller on white, with their measures drawn on in millimetres."""

from collections.abc import Sequence
from dataclasses import dataclass

import cv2
import numpy as np
from numpy.typing import NDArray

from hundredfold.catalogue.blanks import Blank, Form
from hundredfold.designs.typesetting.fonts import Font
from hundredfold.designs.typesetting.outline import as_cubics
from hundredfold.designs.typesetting.setting import set_line
from hundredfold.designs.typesetting.shaping import shape
from hundredfold.mockups.plate import Plate
from hundredfold.mockups.rules import resized

Bytes = NDArray[np.uint8]

_INK = (70, 70, 74)
_SHIFT = 4  # fractional bits of cv2's drawing
_SHARE = 0.80  # of the frame the goods keep; the rest is for lines and figures


@dataclass(frozen=True)
class Measures:
    """What is written beside the goods."""

    wide: str
    high: str


def measures_of(blank: Blank) -> Measures:
    """The blank's own measures, rounded to whole millimetres; empty where the blank gives none."""
    body = blank.body
    across = body.diameter_mm or body.width_mm
    sign = "Ø " if body.diameter_mm else ""
    return Measures(
        f"{sign}{across:.0f} mm" if across else "", f"{body.height_mm:.0f} mm" if body.height_mm else ""
    )


def size_picture(picture: Bytes, plate: Plate, blank: Blank, fonts: Sequence[Font]) -> Bytes:
    """The finished picture with width and height lines at the body's outline.

    Lines span the body itself: a handle is not part of a diameter, nor handles of a bag's height.
    """
    size = plate.size_px
    left, top, right, bottom = body_box(plate, blank)
    kept = round(size * _SHARE)
    small = resized(picture, (kept, kept))
    frame = np.full((size, size, 3), 255, np.uint8)
    off_x, off_y = round(size * 0.15), round(size * 0.04)
    frame[off_y : off_y + kept, off_x : off_x + kept] = small
    left, right = (off_x + v * _SHARE for v in (left, right))
    top, bottom = (off_y + v * _SHARE for v in (top, bottom))
    words = measures_of(blank)
    gap = size * 0.035
    if words.high:
        goods = plate.planes["cover"].any(0)
        edge = off_x + (plate.box.left + int(np.flatnonzero(goods)[0])) * _SHARE
        x = max(min(left, edge) - gap, size * 0.13)
        _line(frame, (x, top), (x, bottom), size)
        _words(frame, words.high, x - size * 0.012, (top + bottom) / 2, size, fonts, "end")
    if words.wide:
        y = min(bottom + gap * 1.3, size * 0.93)
        _line(frame, (left, y), (right, y), size)
        _words(frame, words.wide, (left + right) / 2, y + size * 0.040, size, fonts, "middle")
    return frame


def body_box(plate: Plate, blank: Blank) -> tuple[float, float, float, float]:
    """The body's outline in frame pixels: of the cover, less a handle's columns or a bag's straps."""
    cover = plate.planes["cover"] > 127
    rows = np.flatnonzero(cover.any(1))
    # A handle is where a column is covered far less than the body's middle; the same for rows of straps.
    deep = cover.sum(0) > 0.62 * cover.sum(0).max()
    columns = np.flatnonzero(deep if blank.body.diameter_mm else cover.any(0))
    if blank.form is Form.TOTE_BAG:
        rows = np.flatnonzero(cover.sum(1) > 0.6 * cover.sum(1).max())
    if blank.form is Form.T_SHIRT:  # a shirt's width is taken below the sleeves
        columns = np.flatnonzero(cover[rows[0] + 2 * len(rows) // 3 : rows[-1]].any(0))
    return (
        float(plate.box.left + columns[0]),
        float(plate.box.top + rows[0]),
        float(plate.box.left + columns[-1] + 1),
        float(plate.box.top + rows[-1] + 1),
    )


def _line(frame: Bytes, start: tuple[float, float], end: tuple[float, float], size: int) -> None:
    """A measuring line with a short bar at each end."""
    thick = max(1, round(size / 500))
    way = np.subtract(end, start)
    bar = np.array([-way[1], way[0]]) / max(float(np.linalg.norm(way)), 1e-9) * size * 0.010
    for a, b in ((start, end), (start - bar, start + bar), (end - bar, end + bar)):
        p, q = (tuple(round(float(v) * 2**_SHIFT) for v in point) for point in (a, b))
        cv2.line(frame, p, q, _INK, thick, cv2.LINE_AA, _SHIFT)


def _words(
    frame: Bytes, text: str, x: float, y: float, size: int, fonts: Sequence[Font], anchor: str
) -> None:
    """Figures set in outlines and filled with four-times supersampling, middle of their height at ``y``."""
    em = size * 0.034
    line = shape(text, fonts)
    box = line.ink
    outline = set_line(line, em, x, y + (box.top + box.bottom) / 2 * em, anchor)
    pieces, starts = as_cubics(outline, em)
    t = np.linspace(0, 1, 9)[:, None, None]
    p0, p1, p2, p3 = (pieces[:, k] for k in range(4))
    curve = (1 - t) ** 3 * p0 + 3 * (1 - t) ** 2 * t * p1 + 3 * (1 - t) * t * t * p2 + t**3 * p3
    ends = [*starts[1:], len(pieces)]
    rings = [
        np.round(curve[:, a:b].transpose(1, 0, 2).reshape(-1, 2) * 4).astype(np.int32)
        for a, b in zip(starts, ends, strict=True)
    ]
    every = np.concatenate(rings)
    left, top = np.maximum(every.min(0) // 4, 0)
    right, bottom = np.minimum(every.max(0) // 4 + 1, (frame.shape[1], frame.shape[0]))
    mask = np.zeros(((bottom - top) * 4, (right - left) * 4), np.uint8)
    cv2.fillPoly(mask, [ring - np.array([left, top], np.int32) * 4 for ring in rings], 255)
    share = cv2.resize(mask, (right - left, bottom - top), interpolation=cv2.INTER_AREA)
    alpha = share.astype(np.float32)[..., None] / 255
    part = frame[top:bottom, left:right]
    part[:] = np.round(part * (1 - alpha) + np.array(_INK, np.float32) * alpha).astype(np.uint8)
