"""Words drawn on a picture: set in outlines, filled with four-times supersampling."""

from collections.abc import Sequence

import cv2
import numpy as np
from numpy.typing import NDArray

from hundredfold.designs.typesetting.fonts import Font
from hundredfold.designs.typesetting.outline import as_cubics
from hundredfold.designs.typesetting.setting import set_line
from hundredfold.designs.typesetting.shaping import shape

Bytes = NDArray[np.uint8]
Colour = tuple[int, int, int]


def width_of(text: str, fonts: Sequence[Font]) -> float:
    """Width of the ink in em. Raises ShopError ``missing-glyph``."""
    ink = shape(text, fonts).ink
    return ink.right - ink.left


def write(
    frame: Bytes, text: str, spot: tuple[float, float], em: float, fonts: Sequence[Font], colour: Colour
) -> None:
    """Draw the text centred on a spot across, the middle of its capitals' height there; ``em`` in pixels.

    Every text of one size shares a baseline: figures and capitals are measured, whatever else hangs below.
    """
    line, capitals = shape(text, fonts), shape("H", fonts).ink
    outline = set_line(line, em, spot[0], spot[1] + (capitals.top + capitals.bottom) / 2 * em, "middle")
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
    part[:] = np.round(part * (1 - alpha) + np.array(colour, np.float32) * alpha).astype(np.uint8)


def _wound(rings: Sequence[NDArray[np.int32]], height: int, width: int) -> Bytes:
    """Rings filled by the nonzero rule, four samples a pixel each way: strokes of a letter may cross."""
    winding = np.zeros((height * 4, width * 4), np.int16)
    for ring in rings:
        x, y = ring[:, 0].astype(np.int64), ring[:, 1].astype(np.int64)
        turn = np.sign((x * np.roll(y, -1) - np.roll(x, -1) * y).sum())
        inside = cv2.fillPoly(np.zeros(winding.shape, np.uint8), [ring], 1)
        winding += inside.astype(np.int16) * np.int16(turn)
    return np.where(winding != 0, np.uint8(255), np.uint8(0))
