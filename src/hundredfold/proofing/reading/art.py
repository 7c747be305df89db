"""Art made small enough to measure, and how it looks on a blank at thumbnail size.

Two shortcuts keep a colour's cost at the thumbnail's few pixels. Opaque ink: area-averaging sRGB values of
``art over blank`` equals adding ``(1 - coverage) * blank`` to the averaged, premultiplied art, exactly where
alpha is 0 or 1. Transparent ink: ``substrate * (1 - a + a * ink)`` is a product in linear light, and sRGB's
curve is close to a power, so the product holds for encoded values too (within 3 of 255 levels).
"""

from dataclasses import dataclass

import cv2
import numpy as np
from numpy.typing import NDArray

from hundredfold.kernel.colour import Srgb, to_linear

Bytes = NDArray[np.uint8]
Floats = NDArray[np.float32]
WORK_WIDTH = 480  # pixels: twice the widest thumbnail judged
TALLEST = 2.5  # times the width; taller art is kept, at a smaller width
LINEAR = to_linear(np.arange(256) / 255.0).astype(np.float32)


@dataclass(frozen=True)
class SmallArt:
    """Art cut to its ink and reduced: premultiplied sRGB-encoded RGBA, 8 bits, ``WORK_WIDTH`` or less."""

    pixels: Bytes

    @property
    def width(self) -> int:
        """Pixels across."""
        return int(self.pixels.shape[1])


def reduced(rgba: Bytes) -> SmallArt | None:
    """Cut straight-alpha RGBA (HxWx4, 8 bits) to its ink and shrink it; None when nothing is inked."""
    ys, xs = inked_span(np.asarray(cv2.extractChannel(rgba, 3), np.uint8))
    if ys is None or xs is None:
        return None
    art = rgba[ys, xs]
    height, width = art.shape[:2]
    across = min(WORK_WIDTH, WORK_WIDTH * TALLEST * width / height)
    whole = cv2.cvtColor(art, cv2.COLOR_RGBA2mRGBA)
    size = (max(1, round(across)), max(1, round(height * across / width)))
    enlarge = size[0] > whole.shape[1]
    small = cv2.resize(whole, size, interpolation=cv2.INTER_LINEAR if enlarge else cv2.INTER_AREA)
    return SmallArt(np.asarray(small, np.uint8))


def inked_span(alpha: Bytes) -> tuple[slice | None, slice | None]:
    """Rows and columns from the first to the last inked one (alpha over 8 %)."""
    rows = np.flatnonzero(alpha.max(1) > 20)
    columns = np.flatnonzero(alpha.max(0) > 20)
    if rows.size == 0:
        return None, None
    return slice(int(rows[0]), int(rows[-1]) + 1), slice(int(columns[0]), int(columns[-1]) + 1)


def at_width(art: SmallArt, width_px: int) -> Floats:
    """The art at a thumbnail's width: premultiplied sRGB-encoded RGBA, 0-255, area averaged."""
    height = max(1, round(art.pixels.shape[0] * width_px / art.width))
    whole = art.pixels.astype(np.float32)
    how = cv2.INTER_AREA if width_px < art.width else cv2.INTER_LINEAR
    return np.asarray(cv2.resize(whole, (width_px, height), interpolation=how), np.float32)


def shown(small: Floats, blank: Srgb, transparent_ink: bool) -> Floats:
    """The art on a blank colour: sRGB-encoded RGB, 0-255."""
    base = np.asarray(blank, np.float32)
    bare = 255 - small[..., 3:]
    if transparent_ink:
        return np.asarray(base * (small[..., :3] + bare) / 255, np.float32)
    return np.asarray(small[..., :3] + base * bare / 255, np.float32)
