"""Colour: sRGB-encoded triples 0-255 at the edges, linear light 0-1 for arithmetic."""

import re
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from hundredfold.kernel.errors import ShopError

Floats = NDArray[np.float64]


class Srgb(NamedTuple):
    """An sRGB-encoded colour, 8 bits a channel."""

    red: int
    green: int
    blue: int

    @classmethod
    def parse(cls, text: str) -> "Srgb":
        """Read ``#rrggbb``. Raises ShopError ``bad-colour`` for anything else."""
        if not isinstance(text, str) or not re.fullmatch(r"#[0-9a-fA-F]{6}", text):
            raise ShopError(
                "bad-colour", f"{text!r} is not a colour", 'write it as "#rrggbb", like "#1b2a4e"'
            )
        return cls(int(text[1:3], 16), int(text[3:5], 16), int(text[5:7], 16))

    @property
    def hex(self) -> str:
        """``#rrggbb``, lower case."""
        return f"#{self.red:02x}{self.green:02x}{self.blue:02x}"


def to_linear(encoded: ArrayLike) -> Floats:
    """Linear light from sRGB-encoded values 0-1 (IEC 61966-2-1)."""
    value = np.asarray(encoded, dtype=np.float64)
    return np.where(value <= 0.04045, value / 12.92, ((value + 0.055) / 1.055) ** 2.4)


def from_linear(linear: ArrayLike) -> Floats:
    """sRGB-encoded values 0-1 from linear light 0-1 (IEC 61966-2-1)."""
    value = np.clip(np.asarray(linear, dtype=np.float64), 0.0, None)
    return np.where(value <= 0.0031308, value * 12.92, 1.055 * value ** (1 / 2.4) - 0.055)


def linear_of(colour: Srgb) -> Floats:
    """The three linear-light values 0-1 of a colour."""
    return to_linear(np.asarray(colour, dtype=np.float64) / 255.0)


LUMINANCE_WEIGHTS = np.array([0.2126, 0.7152, 0.0722])


def relative_luminance(linear: ArrayLike) -> Floats:
    """WCAG 2.2 relative luminance of linear-light RGB in the last axis."""
    return np.asarray(np.asarray(linear, dtype=np.float64) @ LUMINANCE_WEIGHTS)


def contrast_ratio(first_luminance: ArrayLike, second_luminance: ArrayLike) -> Floats:
    """WCAG 2.2 contrast, 1 to 21, of two relative luminances; order does not matter."""
    first = np.asarray(first_luminance, dtype=np.float64)
    second = np.asarray(second_luminance, dtype=np.float64)
    return (np.maximum(first, second) + 0.05) / (np.minimum(first, second) + 0.05)
