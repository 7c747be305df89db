"""Finished pictures as files: JPEG, WebP or PNG, tagged sRGB, nothing else inside."""

import io

import cv2
import numpy as np
from numpy.typing import NDArray
from PIL import Image

from hundredfold.designs.vips import SRGB_PROFILE

Bytes = NDArray[np.uint8]

QUALITY = 90
_LEAST = 60  # common practice, no source: below, blocks show round lettering


def as_jpeg(picture: Bytes, quality: int = QUALITY, max_bytes: int | None = None) -> bytes:
    """A JPEG no larger than ``max_bytes`` if any quality from 60 up allows; else the smallest of those."""
    data = _jpeg(picture, quality)
    if max_bytes is None or len(data) <= max_bytes:
        return data
    low, high, best = _LEAST, quality - 1, _jpeg(picture, _LEAST)
    while low <= high:
        middle = (low + high) // 2
        tried = _jpeg(picture, middle)
        if len(tried) <= max_bytes:
            low, best = middle + 1, tried
        else:
            high = middle - 1
    return best


def _jpeg(picture: Bytes, quality: int) -> bytes:
    out = io.BytesIO()
    height, width = picture.shape[:2]
    four = np.asarray(cv2.cvtColor(picture, cv2.COLOR_RGB2RGBA))  # as Pillow holds it: no copy is made
    image = Image.frombuffer("RGBX", (width, height), four, "raw", "RGBX", 0, 1)
    image.save(out, "JPEG", quality=quality, icc_profile=SRGB_PROFILE)
    return out.getvalue()


def as_png(picture: Bytes) -> bytes:
    """A lossless PNG."""
    out = io.BytesIO()
    Image.fromarray(picture).save(out, "PNG", compress_level=6, icc_profile=SRGB_PROFILE)
    return out.getvalue()
