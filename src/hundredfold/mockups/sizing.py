"""The size picture: the goods smaller on white, with their measures drawn on in millimetres."""

from collections.abc import Sequence
from dataclasses import dataclass

import cv2
import numpy as np
from numpy.typing import NDArray

from hundredfold.catalogue.blanks import Blank, Cone, Form, PrintArea
from hundredfold.designs.typesetting.fonts import Font
from hundredfold.designs.typesetting.outline import as_cubics
from hundredfold.designs.typesetting.setting import set_line
from hundredfold.designs.typesetting.shaping import shape
from hundredfold.mockups.plate import Plate
from hundredfold.mockups.rules import resized
from hundredfold.mockups.surface import Side

Bytes = NDArray[np.uint8]
Floats = NDArray[np.float64]

SIZING_VERSION = 2  # of the lines and figures; raise it when their pixels change
_INK = (70, 70, 74)
_SHIFT = 4  # fractional bits of cv2's drawing
_SHARE = 0.80  # of the frame the goods keep; the rest is for lines and figures


@dataclass(frozen=True)
class Measures:
    """What is written beside the goods; empty where it is not known."""

    wide: str
    high: str


@dataclass(frozen=True)
class Outline:
    """What the measuring lines span, in frame pixels."""

    left: float
    top: float
    right: float
    bottom: float


def measures_of(blank: Blank, area: PrintArea) -> Measures:
    """The goods' measures, rounded to whole millimetres; empty where the blank gives none.

    A blank tells one body; a tapered area of another size tells its own diameter alone: of its height only
    the printed side's part is known, which a buyer would take for the whole.
    """
    body, cone = blank.body, area.cone
    across, high, sign = body.diameter_mm or body.width_mm, body.height_mm, "Ø " if body.diameter_mm else ""
    if cone is not None and _body_cone(blank) != cone:
        across, high, sign = cone.top_diameter_mm, None, "Ø "
    return Measures(f"{sign}{across:.0f} mm" if across else "", f"{high:.0f} mm" if high else "")


def _body_cone(blank: Blank) -> Cone | None:
    """The tapered side that the blank's own body has: the nearest in diameter and height."""
    body, cones = blank.body, [area.cone for area in blank.areas if area.cone is not None]
    if not cones:
        return None
    wide, high = body.diameter_mm or 0.0, body.height_mm or 0.0
    return min(cones, key=lambda c: abs(c.top_diameter_mm - wide) + abs(c.height_mm - high))


def size_picture(picture: Bytes, plate: Plate, blank: Blank, area: PrintArea, fonts: Sequence[Font]) -> Bytes:
    """The finished picture with width and height lines at the body's outline.

    Lines span the body itself: a handle is not part of a diameter, nor a bag's handles or a towel's loop
    of its height.
    """
    size = plate.size_px
    words = measures_of(blank, area)
    spans = spans_of(plate, blank.form)
    kept = round(size * _SHARE)
    small = resized(picture, (kept, kept))
    frame = np.full((size, size, 3), 255, np.uint8)
    off_x, off_y = round(size * 0.15), round(size * 0.04)
    frame[off_y : off_y + kept, off_x : off_x + kept] = small
    left, right = (off_x + v * _SHARE for v in (spans.left, spans.right))
    top, bottom = (off_y + v * _SHARE for v in (spans.top, spans.bottom))
    gap = size * 0.035
    if words.high:
        goods = plate.planes["cover"].any(0)
        edge = off_x + (plate.box.left + int(np.flatnonzero(goods)[0])) * _SHARE
        x = max(min(left, edge) - gap, size * 0.13)
        _line(frame, (x, top), (x, bottom), size)
        _words(frame, words.high, x - size * 0.012, (top + bottom) / 2, size, fonts, "end")
    if words.wide:
        below = plate.box.top + int(np.flatnonzero(plate.planes["cover"].any(1))[-1]) + 1
        y = min(off_y + below * _SHARE + gap * 1.3, size * 0.93)
        _line(frame, (left, y), (right, y), size)
        _words(frame, words.wide, (left + right) / 2, y + size * 0.040, size, fonts, "middle")
    return frame


def spans_of(plate: Plate, form: Form) -> Outline:
    """The spans of width and height: from a vessel's geometry, from the outline of cloth."""
    if isinstance(plate.surface, Side):
        return _vessel_spans(plate, plate.surface)
    cover = plate.planes["cover"] > 127
    rows, columns = np.flatnonzero(cover.any(1)), np.flatnonzero(cover.any(0))
    if form in (Form.TOTE_BAG, Form.TEA_TOWEL):  # rows of straps or of a loop are covered far less
        rows = np.flatnonzero(cover.sum(1) > 0.6 * cover.sum(1).max())
    if form is Form.T_SHIRT:  # a shirt's width is taken below the sleeves
        columns = np.flatnonzero(cover[rows[0] + 2 * len(rows) // 3 : rows[-1]].any(0))
    left, top = plate.box.left, plate.box.top
    return Outline(
        float(left + columns[0]),
        float(top + rows[0]),
        float(left + columns[-1] + 1),
        float(top + rows[-1] + 1),
    )


def _vessel_spans(plate: Plate, side: Side) -> Outline:
    """Width across the rim; height along the axis, so that both are at one distance from the camera.

    The rim's height is where the circle's far point meets the outline's uppermost row.
    """
    eye = np.asarray(plate.camera.eye)[:2]
    away = -eye / np.linalg.norm(eye)
    taper = (side.top_mm - side.bottom_mm) / side.height_mm

    def radius(z: Floats) -> Floats:
        return side.bottom_mm + taper * (z - side.foot_mm)

    z = np.linspace(0, 2 * (side.foot_mm + side.height_mm), 4001)
    far = np.column_stack([radius(z)[:, None] * away, z])
    uppermost = plate.box.top + int(np.flatnonzero((plate.planes["cover"] > 127).any(1))[0])
    rim = float(z[np.abs(plate.camera.project(far, plate.size_px)[1] - uppermost).argmin()])
    turn = np.linspace(0, 2 * np.pi, 721)
    wide = radius(np.array(rim))
    circle = np.column_stack([wide * np.cos(turn), wide * np.sin(turn), np.full(721, rim)])
    x, _ = plate.camera.project(circle, plate.size_px)
    _, y = plate.camera.project([[0.0, 0.0, 0.0], [0.0, 0.0, rim]], plate.size_px)
    return Outline(float(x.min()), float(y[1]), float(x.max()), float(y[0]))


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
    mask = _wound([ring - np.array([left, top], np.int32) * 4 for ring in rings], bottom - top, right - left)
    share = cv2.resize(mask, (right - left, bottom - top), interpolation=cv2.INTER_AREA)
    alpha = share.astype(np.float32)[..., None] / 255
    part = frame[top:bottom, left:right]
    part[:] = np.round(part * (1 - alpha) + np.array(_INK, np.float32) * alpha).astype(np.uint8)


def _wound(rings: Sequence[NDArray[np.int32]], height: int, width: int) -> Bytes:
    """Rings filled by the nonzero rule, four samples a pixel each way: strokes of a letter may cross."""
    winding = np.zeros((height * 4, width * 4), np.int16)
    for ring in rings:
        x, y = ring[:, 0].astype(np.int64), ring[:, 1].astype(np.int64)
        turn = np.sign((x * np.roll(y, -1) - np.roll(x, -1) * y).sum())
        inside = cv2.fillPoly(np.zeros(winding.shape, np.uint8), [ring], 1)
        winding += inside.astype(np.int16) * np.int16(turn)
    return np.where(winding != 0, np.uint8(255), np.uint8(0))
