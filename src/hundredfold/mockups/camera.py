"""A pinhole camera: pixels to rays and points to pixels. Millimetres; z is up.

Pixel (0, 0) is the square from 0 to 1 at the top left of the frame, so its centre is (0.5, 0.5).
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Camera:
    """Where the picture is taken from: eye and target, the frame's full angle, the upward direction."""

    eye: tuple[float, float, float]
    target: tuple[float, float, float]
    fov_deg: float
    up: tuple[float, float, float] = (0.0, 0.0, 1.0)

    def axes(self) -> tuple[Floats, Floats, Floats]:
        """Unit vectors forward, right and down."""
        forward = np.subtract(self.target, self.eye)
        forward = forward / np.linalg.norm(forward)
        right = np.cross(forward, self.up)
        right = right / np.linalg.norm(right)
        return forward, right, np.cross(forward, right)

    @property
    def half(self) -> float:
        """Half the frame at distance 1."""
        return float(np.tan(np.radians(self.fov_deg) / 2))

    def rays(self, x: ArrayLike, y: ArrayLike, size_px: int) -> Floats:
        """Directions (not of unit length: depth 1) through frame points ``x``, ``y`` in pixels."""
        forward, right, down = self.axes()
        across = (2 * np.asarray(x, dtype=np.float64) / size_px - 1) * self.half
        below = (2 * np.asarray(y, dtype=np.float64) / size_px - 1) * self.half
        ways = forward + across[..., None] * right + below[..., None] * down
        return np.asarray(ways, dtype=np.float64)

    def project(self, points: ArrayLike, size_px: int) -> tuple[Floats, Floats]:
        """Frame points of places in space, last axis x, y, z."""
        forward, right, down = self.axes()
        away = np.asarray(points, dtype=np.float64) - np.asarray(self.eye)
        depth = away @ forward
        x = (away @ right / depth / self.half + 1) * size_px / 2
        y = (away @ down / depth / self.half + 1) * size_px / 2
        return x, y
