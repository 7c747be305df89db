"""Where each pixel of a plate lies on the goods: a vessel's side by geometry, cloth by its stored map."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from hundredfold.catalogue.blanks import Body, PrintArea
from hundredfold.kernel.units import mm_to_px
from hundredfold.mockups.camera import Camera
from hundredfold.mockups.splines import between
from hundredfold.placement.area import cone_area
from hundredfold.placement.frustum import Frustum
from hundredfold.placement.onto_cone import flat_origin_px

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Side:
    """The printable side of a body of revolution about the z axis; radii and heights in mm.

    ``middle_deg`` is the direction (counterclockwise from +x, seen from above) of the layout's middle.
    """

    top_mm: float
    bottom_mm: float
    height_mm: float
    foot_mm: float
    middle_deg: float

    @property
    def frustum(self) -> Frustum:
        """The side as a frustum."""
        return Frustum(self.top_mm, self.bottom_mm, self.height_mm)

    def facing(self, camera: Camera) -> float:
        """The angle from the layout's middle to where the side faces the eye."""
        angle = np.arctan2(camera.eye[1], camera.eye[0]) - np.radians(self.middle_deg)
        return float(np.mod(angle + np.pi, 2 * np.pi) - np.pi)

    def seen(
        self, camera: Camera, x: ArrayLike, y: ArrayLike, size_px: int, about: float = 0.0
    ) -> tuple[Floats, Floats]:
        """(angle from the layout's middle, height along the slant from the side's middle) of frame points.

        Angles lie within half a turn of ``about``. Beyond the outline the nearest tangent point is given, so
        that the map stays smooth there.
        """
        way = camera.rays(x, y, size_px)
        eye = np.asarray(camera.eye)
        taper = (self.top_mm - self.bottom_mm) / self.height_mm
        radius = self.bottom_mm + taper * (eye[2] - self.foot_mm)  # of the cone at the eye's height
        grow = taper * way[..., 2]
        a = way[..., 0] ** 2 + way[..., 1] ** 2 - grow**2
        b = eye[0] * way[..., 0] + eye[1] * way[..., 1] - radius * grow
        c = eye[0] ** 2 + eye[1] ** 2 - radius**2
        far = (-b - np.sqrt(np.maximum(b * b - a * c, 0.0))) / a
        spot = eye + far[..., None] * way
        angle = np.arctan2(spot[..., 1], spot[..., 0]) - np.radians(self.middle_deg) - about
        angle = np.mod(angle + np.pi, 2 * np.pi) - np.pi + about
        slant = self.frustum.slant_mm / self.height_mm
        return angle, (spot[..., 2] - self.foot_mm - self.height_mm / 2) * slant

    def at(self, angle: ArrayLike, up_mm: ArrayLike) -> Floats:
        """The place in space of a point of the side; the inverse of ``seen`` for visible points."""
        x, y, z = self.frustum.to_body(angle, up_mm)
        turn = np.radians(self.middle_deg)
        # to_body looks from outside: right is counterclockwise, the middle lies on its y axis.
        out = np.stack([y * np.cos(turn) - x * np.sin(turn), y * np.sin(turn) + x * np.cos(turn)], -1)
        return np.concatenate([out, (z + self.foot_mm + self.height_mm / 2)[..., None]], -1)

    def on_area(self, angle: Floats, up_mm: Floats, area: PrintArea, body: Body) -> tuple[Floats, Floats]:
        """Pixels (x, y) of the area's flat canvas for points of the side."""
        if area.cone is not None:
            on = cone_area(area)
            right, up = on.band.to_flat(angle, up_mm - on.middle_up_mm)
            left, top = flat_origin_px(area)
            return left + mm_to_px(1, area.dpi) * right, top - mm_to_px(1, area.dpi) * up
        middle = self.area_middle_mm(area, body)
        right = angle * self.frustum.middle_mm
        return (
            area.width_px / 2 + mm_to_px(1, area.dpi) * right,
            area.height_px / 2 - mm_to_px(1, area.dpi) * (up_mm - middle),
        )

    def area_middle_mm(self, area: PrintArea, body: Body) -> float:
        """Height of the area's middle above the side's middle; from the rim where that is known."""
        if body.rim_clearance_mm is None or body.height_mm is None:
            return 0.0
        middle = body.height_mm - body.rim_clearance_mm - area.height_mm / 2
        return middle - self.foot_mm - self.height_mm / 2


@dataclass(frozen=True)
class ClothSheet:
    """A printed sheet of cloth: its rest coordinates (mm) at every ``stride``-th pixel corner.

    ``anchor_y_mm`` is where the print area's middle, or its top edge when ``from_top``, lies.
    """

    places: NDArray[np.float32]  # rows x columns x 2
    stride: float
    anchor_x_mm: float
    anchor_y_mm: float
    from_top: bool

    def seen(self, x: Floats, y: Floats) -> tuple[Floats, Floats]:
        """Rest coordinates (right, up) on the grid of points ``y`` x ``x``, bicubic in the stored map."""
        rows, columns = (np.arange(n, dtype=np.float64) * self.stride for n in self.places.shape[:2])
        places = between(self.places.astype(np.float64), (rows, columns), (y, x))
        return places[..., 0], places[..., 1]

    def on_area(self, right: Floats, up: Floats, area: PrintArea) -> tuple[Floats, Floats]:
        """Pixels (x, y) of the area for rest coordinates."""
        top = self.anchor_y_mm if self.from_top else self.anchor_y_mm + area.height_mm / 2
        return (
            area.width_px / 2 + mm_to_px(1, area.dpi) * (right - self.anchor_x_mm),
            mm_to_px(1, area.dpi) * (top - up),
        )
