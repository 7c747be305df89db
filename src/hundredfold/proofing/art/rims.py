"""The half-transparent rim of art: how wide it is, and whether it is a pale fringe of an old background."""

from typing import Any

import cv2
import numpy as np
from numpy.typing import NDArray

Bytes = NDArray[Any]  # uint8; OpenCV promises no more
_FAINT, _SOLID = 5, 250
_SAMPLES = 40_000
_PALER = 40  # levels of luma (0-255) by which a rim must exceed the ink beside it to count as a fringe


def rim(art: Bytes, alpha: Bytes) -> tuple[float, float]:
    """Mean width of the rim in pixels, and the share of it that is much paler than the ink it surrounds.

    ``art`` is height x width x RGBA, straight alpha, and ``alpha`` that of it as a plane. Plain
    anti-aliasing gives a width of about 1 and no fringe.
    """
    soft = cv2.inRange(alpha, _FAINT + 1, _SOLID - 1)
    solid = cv2.inRange(alpha, _SOLID, 255)
    near = cv2.dilate(solid, np.ones((15, 15), np.uint8))
    soft = cv2.bitwise_and(soft, near)
    count = cv2.countNonZero(soft)
    border = cv2.countNonZero(cv2.morphologyEx(solid, cv2.MORPH_GRADIENT, np.ones((3, 3), np.uint8))) / 2
    if not count or not border:
        return 0.0, 0.0
    return round(count / border, 3), round(_fringe(art, soft, solid), 4)


def _fringe(art: Bytes, soft: Bytes, solid: Bytes) -> float:
    places = cv2.findNonZero(soft).reshape(-1, 2)  # there are some: the caller counted
    places = places[:: max(1, len(places) // _SAMPLES)]
    columns, rows = places[:, 0].astype(np.intp), places[:, 1].astype(np.intp)
    rim_luma = _luma(art[rows, columns])
    ink_luma = np.full(rows.size, np.nan)
    left = np.arange(rows.size)  # places whose ink is not found yet
    for radius in (3, 5, 8):
        for angle in np.arange(8) * (np.pi / 4):
            y = np.clip(rows[left] + round(radius * np.sin(angle)), 0, art.shape[0] - 1)
            x = np.clip(columns[left] + round(radius * np.cos(angle)), 0, art.shape[1] - 1)
            inked = solid[y, x] > 0
            ink_luma[left[inked]] = _luma(art[y[inked], x[inked]])
            left = left[~inked]
    known = ~np.isnan(ink_luma)
    return float((rim_luma[known] - ink_luma[known] > _PALER).mean()) if known.any() else 0.0


def _luma(colours: Bytes) -> NDArray[np.float64]:
    return np.asarray(colours[:, :3] @ np.array([0.2126, 0.7152, 0.0722]))
