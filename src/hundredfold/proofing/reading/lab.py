"""Encoded sRGB to CIE L*a*b* (D65) on float pictures."""

import cv2
import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float32]


def lab(rgb: Floats) -> Floats:
    """L* 0-100, a*, b* of sRGB-encoded RGB 0-255 (CIE 1976, white point D65)."""
    return np.asarray(
        cv2.cvtColor(np.ascontiguousarray(rgb, np.float32) / 255, cv2.COLOR_RGB2Lab), np.float32
    )
