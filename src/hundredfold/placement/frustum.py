"""The unrolled side of a tapered body: an annular sector, isometric to the cone. Millimetres, radians.

Formulas: slant s = sqrt(h^2 + (r2 - r1)^2); outer radius R2 = s r2 / (r2 - r1); inner R1 = R2 - s; angle
2 pi (r2 - r1) / s. Published example: "The Net of a Frustum" (ceemrr.com, Geometry 2): diameters 5 and
8 in, 4 in apart, give R1 7.12, R2 11.39 and 126.4 degrees.

Everything is written in the curvature ``k = (r2 - r1) / (s r)`` of the sector's middle line instead of
its radius, so a cylinder is the case k = 0 and a nearly straight side loses no digits.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from hundredfold.catalogue.blanks import Cone
from hundredfold.kernel.errors import ShopError

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Frustum:
    """A tapered side between two circles, ``top_mm`` and ``bottom_mm`` in radius, ``height_mm`` apart."""

    top_mm: float
    bottom_mm: float
    height_mm: float

    def __post_init__(self) -> None:
        if min(self.top_mm, self.bottom_mm, self.height_mm) <= 0:
            raise ShopError(
                "bad-cone",
                f"a tapered side of diameters {2 * self.top_mm:g} and {2 * self.bottom_mm:g} mm, "
                f"{self.height_mm:g} mm high, does not exist",
                "give the cone's diameters and height in millimetres, all above 0",
            )

    @classmethod
    def of(cls, cone: Cone) -> "Frustum":
        """From a blank's cone (diameters). Raises ShopError ``bad-cone`` for measures of 0 or less."""
        return cls(cone.top_diameter_mm / 2, cone.bottom_diameter_mm / 2, cone.height_mm)

    @property
    def slant_mm(self) -> float:
        """Length of the side from rim to foot, along the surface."""
        return float(np.hypot(self.height_mm, self.top_mm - self.bottom_mm))

    @property
    def middle_mm(self) -> float:
        """Radius of the body half-way up."""
        return (self.top_mm + self.bottom_mm) / 2

    @property
    def taper(self) -> float:
        """Sine of the half-angle of the cone; above 0 when the top is the wider end."""
        return (self.top_mm - self.bottom_mm) / self.slant_mm

    @property
    def curvature(self) -> float:
        """1 / (sector radius of the middle line), per millimetre; 0 for a cylinder."""
        return self.taper / self.middle_mm

    @property
    def sector_radii_mm(self) -> tuple[float, float]:
        """Inner and outer radius of the sector; infinite for a cylinder."""
        if self.taper == 0:
            return float("inf"), float("inf")
        top, bottom = abs(self.top_mm / self.taper), abs(self.bottom_mm / self.taper)
        return min(top, bottom), max(top, bottom)

    def to_flat(self, angle: ArrayLike, up_mm: ArrayLike) -> tuple[Floats, Floats]:
        """Flat coordinates (right, up) of a point on the side.

        ``angle`` is radians round the axis from the middle of the layout, growing to the right as seen
        from outside; ``up_mm`` is along the slant from the middle line, up. The flat origin is the
        middle line at angle 0.
        """
        turn, up = np.asarray(angle, dtype=np.float64), np.asarray(up_mm, dtype=np.float64)
        along = self.middle_mm + self.taper * up  # body radius there
        swing = self.taper * turn
        right = along * turn * np.sinc(swing / np.pi)
        # along * (1 - cos) / taper, written so that taper 0 is no division
        sag = along * turn * np.sin(swing / 2) * np.sinc(swing / 2 / np.pi)
        return right, up - sag

    def from_flat(self, right_mm: ArrayLike, up_mm: ArrayLike) -> tuple[Floats, Floats]:
        """The inverse: (angle, up along the slant) of a flat point."""
        x, y = np.asarray(right_mm, dtype=np.float64), np.asarray(up_mm, dtype=np.float64)
        k = self.curvature
        along = 1.0 + k * y
        swing = np.arctan2(k * x, along)
        # hypot(along, k x) - 1 over k, without cancellation
        length = np.hypot(along, k * x)
        up = (2 * y + k * (x * x + y * y)) / (length + 1.0)
        ratio = np.divide(swing, self.taper, out=np.asarray(x / self.middle_mm), where=abs(k * x) > 1e-12)
        straight = x / (self.middle_mm * along)
        return np.where(abs(k * x) > 1e-12, ratio, straight), up

    def to_body(self, angle: ArrayLike, up_mm: ArrayLike) -> tuple[Floats, Floats, Floats]:
        """The point in space: x right, y towards the viewer, z up, from the middle of the axis."""
        turn, up = np.asarray(angle, dtype=np.float64), np.asarray(up_mm, dtype=np.float64)
        radius = self.middle_mm + self.taper * up
        rise = self.height_mm / self.slant_mm
        return radius * np.sin(turn), radius * np.cos(turn), up * rise
