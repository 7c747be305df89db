"""Finished pictures at another size, keen and without halos."""

import cv2
import numpy as np
from numpy.typing import NDArray

Bytes = NDArray[np.uint8]

_BAND_ROWS = 64  # worked on at a time: they stay in the cache
_NEIGHBOURS = np.ones((3, 3), np.uint8)


def resized(picture: Bytes, size: tuple[int, int]) -> Bytes:
    """The picture at another size (width, height), without halos where ink or goods end.

    Shrunk by less than a third it is sampled bilinearly: an average over parts of pixels costs six times as
    much and shows the same.
    """
    if (picture.shape[1], picture.shape[0]) == size:
        return picture
    if size[0] > picture.shape[1]:
        return _enlarged(picture, size)
    how = cv2.INTER_AREA if size[0] < picture.shape[1] * 2 / 3 else cv2.INTER_LINEAR
    return np.asarray(cv2.resize(picture, size, interpolation=how), np.uint8)


def faded(picture: Bytes, deep: int) -> Bytes:
    """The picture with shadows that reach its border run out to white, over ``deep`` pixels."""
    made = picture.copy()
    t = np.arange(deep, dtype=np.float32) / np.float32(deep)
    weights = (t * t * (3 - 2 * t))[:, None, None]
    for side in (made, made[::-1], made.transpose(1, 0, 2), made[:, ::-1].transpose(1, 0, 2)):
        side[:deep] = np.round(255 - (255 - side[:deep].astype(np.float32)) * weights).astype(np.uint8)
    return made


def _enlarged(picture: Bytes, size: tuple[int, int]) -> Bytes:
    """Keen by bicubic samples, which overshoot, each held between the bilinear samples round it."""
    keen = cv2.resize(picture, size, interpolation=cv2.INTER_CUBIC)
    mild = cv2.resize(picture, size, interpolation=cv2.INTER_LINEAR)
    for top in range(0, size[1], _BAND_ROWS):
        above = min(top, 1)
        beside, rows = mild[top - above : top + _BAND_ROWS + 1], keen[top : top + _BAND_ROWS]
        inner = slice(above, above + len(rows))
        least, most = cv2.erode(beside, _NEIGHBOURS)[inner], cv2.dilate(beside, _NEIGHBOURS)[inner]
        cv2.min(cv2.max(rows, least, rows), most, rows)
    return np.asarray(keen, np.uint8)
