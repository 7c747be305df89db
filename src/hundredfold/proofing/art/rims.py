"""The half-transparent rim of art: how wide it is, and whether it is a pale fringe of an old background."""

from typing import Any

import cv2
import numpy as np
from numpy.typing import NDArray

from hundredfold.designs.tiles import tiles

Bytes = NDArray[Any]  # uint8; OpenCV promises no more
_FAINT, _SOLID = 5, 250
_NEAR_PX = 7  # a rim is no further than this from solid ink
_NEAR = np.ones((2 * _NEAR_PX + 1, 2 * _NEAR_PX + 1), np.uint8)
_SAMPLES = 40_000
_PALER = 40  # levels of luma (0-255) by which a rim must exceed the ink beside it to count as a fringe


def rim(art: Bytes, alpha: Bytes) -> tuple[float, float]:
    """Mean width of the rim in pixels, and the share of it that is much paler than the ink it surrounds.

    ``art`` is height x width x RGBA, straight alpha, and ``alpha`` that of it as a plane. Plain
    anti-aliasing gives a width of about 1 and no fringe.
    """
    solid = cv2.threshold(alpha, _SOLID - 1, 1, cv2.THRESH_BINARY)[1]
    soft, both_sides = np.zeros(alpha.shape, np.bool_), 0
    for tile in tiles(alpha.shape, _NEAR_PX):
        near = solid[tile.near]
        if 0 < cv2.countNonZero(near) < near.size:
            beside = cv2.dilate(near, _NEAR)[tile.inner]
            soft[tile.own] = cv2.bitwise_and(cv2.inRange(alpha[tile.own], _FAINT + 1, _SOLID - 1), beside)
            edge = cv2.morphologyEx(near, cv2.MORPH_GRADIENT, np.ones((3, 3), np.uint8))
            both_sides += cv2.countNonZero(edge[tile.inner])
    places = np.flatnonzero(soft)
    if not places.size or not both_sides:
        return 0.0, 0.0
    return round(2 * places.size / both_sides, 3), round(_fringe(art, places, solid), 4)


def _fringe(art: Bytes, places: NDArray[np.intp], solid: Bytes) -> float:
    rows, columns = np.divmod(places[:: max(1, len(places) // _SAMPLES)], art.shape[1])
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
