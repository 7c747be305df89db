"""How far apart two colours look: CIE L*a*b* and the CIEDE2000 difference."""

import numpy as np
from numpy.typing import ArrayLike

from hundredfold.kernel.colour import Floats

# IEC 61966-2-1: linear sRGB to CIE XYZ, D65 white.
SRGB_TO_XYZ = np.array(
    [
        [0.4123907992659595, 0.3575843393838780, 0.1804807884018343],
        [0.2126390058715104, 0.7151686787677559, 0.0721923153607337],
        [0.0193308187155918, 0.1191947797946260, 0.9505321522496608],
    ]
)
D65 = SRGB_TO_XYZ.sum(axis=1)
_DELTA = 6.0 / 29.0
_25_TO_7 = 25.0**7


def lab(linear: ArrayLike) -> Floats:
    """CIE 1976 L*a*b*, D65, of linear-light sRGB in the last axis (CIE 15)."""
    ratio = np.asarray(linear, dtype=np.float64) @ SRGB_TO_XYZ.T / D65
    f = np.where(ratio > _DELTA**3, np.cbrt(ratio), ratio / (3 * _DELTA**2) + 4.0 / 29.0)
    x, y, z = f[..., 0], f[..., 1], f[..., 2]
    return np.stack([116.0 * y - 16.0, 500.0 * (x - y), 200.0 * (y - z)], axis=-1)


def ciede2000(first: ArrayLike, second: ArrayLike) -> Floats:
    """CIEDE2000 of L*a*b* colours in the last axis, with kL = kC = kH = 1.

    Sharma, Wu, Dalal, Color Research and Application 30(1), 21-30, 2005; names follow their equations.
    """
    one, other = np.asarray(first, dtype=np.float64), np.asarray(second, dtype=np.float64)
    L1, a1, b1 = one[..., 0], one[..., 1], one[..., 2]
    L2, a2, b2 = other[..., 0], other[..., 1], other[..., 2]
    mean_c7 = ((np.hypot(a1, b1) + np.hypot(a2, b2)) / 2.0) ** 7
    stretch = 1.0 + 0.5 * (1.0 - np.sqrt(mean_c7 / (mean_c7 + _25_TO_7)))
    a1, a2 = a1 * stretch, a2 * stretch
    C1, C2 = np.hypot(a1, b1), np.hypot(a2, b2)
    h1 = np.degrees(np.arctan2(b1, a1)) % 360.0
    h2 = np.degrees(np.arctan2(b2, a2)) % 360.0
    grey = C1 * C2 == 0.0

    turn = h2 - h1
    turn = np.where(turn > 180.0, turn - 360.0, np.where(turn < -180.0, turn + 360.0, turn))
    dH = 2.0 * np.sqrt(C1 * C2) * np.sin(np.radians(np.where(grey, 0.0, turn)) / 2.0)
    dL, dC = L2 - L1, C2 - C1

    total = h1 + h2
    wrapped = np.where(total < 360.0, total + 360.0, total - 360.0)
    mean_h = np.where(grey, total, np.where(np.abs(h1 - h2) > 180.0, wrapped, total) / 2.0)
    mean_L, mean_C = (L1 + L2) / 2.0, (C1 + C2) / 2.0
    T = (
        1.0
        - 0.17 * np.cos(np.radians(mean_h - 30.0))
        + 0.24 * np.cos(np.radians(2.0 * mean_h))
        + 0.32 * np.cos(np.radians(3.0 * mean_h + 6.0))
        - 0.20 * np.cos(np.radians(4.0 * mean_h - 63.0))
    )
    S_L = 1.0 + 0.015 * (mean_L - 50.0) ** 2 / np.sqrt(20.0 + (mean_L - 50.0) ** 2)
    S_C, S_H = 1.0 + 0.045 * mean_C, 1.0 + 0.015 * mean_C * T
    mean_C7 = mean_C**7
    R_C = 2.0 * np.sqrt(mean_C7 / (mean_C7 + _25_TO_7))
    R_T = -np.sin(np.radians(60.0 * np.exp(-(((mean_h - 275.0) / 25.0) ** 2)))) * R_C
    light, chroma, hue = dL / S_L, dC / S_C, dH / S_H
    return np.asarray(np.sqrt(light**2 + chroma**2 + hue**2 + R_T * chroma * hue))


def colour_difference(first_linear: ArrayLike, second_linear: ArrayLike) -> Floats:
    """CIEDE2000 between linear-light sRGB colours in the last axis."""
    return ciede2000(lab(first_linear), lab(second_linear))
