"""Straight and premultiplied alpha, 8 bits a channel."""

import numpy as np
from numpy.typing import NDArray

Bytes = NDArray[np.uint8]
_ALL_SOFT = 0.25  # above this share of half-transparent pixels the dense way is the faster one


def clear_hidden(pixels: Bytes) -> None:
    """Zero, in place, the colour of fully transparent pixels: it is invisible and must not leak or differ."""
    words = pixels.view(np.uint32)[:, :, 0]
    np.multiply(words, pixels[:, :, 3] != 0, out=words)


def premultiply(pixels: Bytes) -> Bytes:
    """Colour times alpha, rounded; the argument is left alone and must have cleared hidden colour."""
    result = np.ascontiguousarray(pixels).copy()
    where = _soft(result)
    rows = result.reshape(-1, 4) if where is None else result.reshape(-1, 4)[where]
    rows[:, :3] = _by_255(rows[:, :3].astype(np.uint16) * rows[:, 3:])
    if where is not None:
        result.reshape(-1, 4)[where] = rows
    return result


def unpremultiply(pixels: Bytes) -> None:
    """The inverse, in place; colour of fully transparent pixels becomes zero."""
    flat = pixels.reshape(-1, 4)
    where = _soft(pixels)
    rows = flat if where is None else flat[where]
    alpha = rows[:, 3:].astype(np.uint32)
    colour = (rows[:, :3] * np.uint32(255) + alpha // 2) // np.maximum(alpha, 1)
    rows[:, :3] = np.minimum(colour, 255)
    if where is not None:
        flat[where] = rows


def over(pixels: Bytes, background: tuple[int, int, int]) -> Bytes:
    """Height x width x 3: straight-alpha art laid over an opaque colour, on the encoded values.

    Porter and Duff, Compositing Digital Images, 1984: the ``over`` operator.
    """
    result = premultiply(pixels)
    rest = np.uint16(255) - result[:, :, 3]
    for channel, value in enumerate(background):
        result[:, :, channel] += _by_255(rest * np.uint16(value)).astype(np.uint8)
    return np.ascontiguousarray(result[:, :, :3])


def _by_255(product: NDArray[np.uint16]) -> NDArray[np.uint16]:
    """Products of two bytes divided by 255 and rounded, exactly, without dividing."""
    raised = product + np.uint16(128)
    raised += raised >> np.uint16(8)
    raised >>= np.uint16(8)
    return raised


def _soft(pixels: Bytes) -> NDArray[np.intp] | None:
    """Flat positions of half-transparent pixels, or None when there are so many that all may be done."""
    alpha = np.ascontiguousarray(pixels[:, :, 3]).reshape(-1)
    # 1..254 become 0..253 after the subtraction wraps 0 round to 255.
    where = np.flatnonzero((alpha - np.uint8(1)) < 254)
    return None if where.size > _ALL_SOFT * alpha.size else where
