"""Straight and premultiplied alpha, 8 bits a channel.

Work goes in bands of rows that fit the processor's cache. In drawn art few pixels are half transparent, and
only those need arithmetic; a band where many are is done whole.
"""

import sys
from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

Bytes = NDArray[np.uint8]
Words = NDArray[np.uint32]

_BAND_PIXELS = 1 << 18
_MANY = 0.2  # share of half-transparent pixels above which the whole band is the faster way
# Where alpha stands in a pixel read as one 32-bit number.
_ALPHA_SHIFT = 24 if sys.byteorder == "little" else 0
_OPAQUE = np.uint32(255 << _ALPHA_SHIFT)


def clear_hidden(pixels: Bytes) -> None:
    """Zero, in place, the colour of fully transparent pixels: it is invisible and must not leak or differ."""
    for band in _bands(pixels):
        words = _words(band)
        words *= (words & _OPAQUE) != 0


def premultiply(pixels: Bytes) -> Bytes:
    """Colour times alpha, rounded; the argument is left alone and must have its hidden colour cleared."""
    result = np.ascontiguousarray(pixels).copy()
    for band in _bands(result):
        where = _soft(band)
        rows = band if where is None else band[where]
        rows[:, :3] = _by_255(rows[:, :3].astype(np.uint16) * rows[:, 3:])
        if where is not None:
            band[where] = rows
    return result


def unpremultiply(pixels: Bytes) -> None:
    """The inverse, in place: hidden colour becomes zero, colour above its alpha becomes full."""
    for band in _bands(pixels):
        where = _soft(band)
        rows = band if where is None else band[where]
        # Single precision is exact here: quotients of 16-bit by 8-bit numbers lie further from an integer.
        alpha = np.maximum(rows[:, 3:], 1).astype(np.float32)
        whole = rows[:, :3] * np.float32(255) + np.float32(0.5) * alpha
        rows[:, :3] = np.minimum(whole / alpha, 255)
        if where is not None:
            band[where] = rows


def over(pixels: Bytes, background: tuple[int, int, int]) -> Bytes:
    """Height x width x 3: straight-alpha art laid over an opaque colour, on the encoded values.

    Porter and Duff, Compositing Digital Images, 1984: the ``over`` operator.
    """
    height, width = pixels.shape[:2]
    result = np.empty((height, width, 3), np.uint8)
    flat = result.reshape(-1, 3)
    ground = np.array(background, np.uint16)
    start = 0
    for band in _bands(np.ascontiguousarray(pixels)):
        alpha = band[:, 3:].astype(np.uint16)
        mixed = band[:, :3] * alpha
        mixed += (np.uint16(255) - alpha) * ground
        flat[start : start + len(band)] = _by_255(mixed)
        start += len(band)
    return result


def _bands(pixels: Bytes) -> Iterator[Bytes]:
    """Views of N x 4 pixels on the picture, which must be contiguous."""
    flat = pixels.reshape(-1, 4)
    for start in range(0, len(flat), _BAND_PIXELS):
        yield flat[start : start + _BAND_PIXELS]


def _words(band: Bytes) -> Words:
    words: Words = band.view(np.uint32)[:, 0]
    return words


def _soft(band: Bytes) -> NDArray[np.intp] | None:
    """Positions that are neither clear and colourless nor opaque, or None when there are so many that all may
    be done."""
    words = _words(band)
    if _ALPHA_SHIFT:
        # 0 wraps round to the largest number; opaque pixels are the largest ones already.
        where = np.flatnonzero(words - np.uint32(1) < _OPAQUE - np.uint32(1))
    else:
        where = np.flatnonzero((words != 0) & ((words & _OPAQUE) != _OPAQUE))
    return None if where.size > _MANY * len(band) else where


def _by_255(product: NDArray[np.uint16]) -> NDArray[np.uint16]:
    """Products of two bytes divided by 255 and rounded, exactly, without dividing."""
    raised = product + np.uint16(128)
    raised += raised >> np.uint16(8)
    raised >>= np.uint16(8)
    return raised
