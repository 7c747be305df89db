"""Where each pixel of a plate lies on the goods: a vessel's side by geometry, cloth by its stored map."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from hundredfold.catalogue.blanks import Body, PrintArea
from hundredfold.kernel.units import mm_to_px, px_to_mm
from hundredfold.mockups.camera import Camera
from hundredfold.mockups.splines import between
from hundredfold.placement.area import cone_area
from hundredfold.placement.frustum import Frustum
from hundredfold.placement.onto_cone import flat_origin_px

Floats = NDArray[np.float64]

_HAIR_MM = 0.3  # by so much a partner's area may be higher than the side that takes it


@dataclass(frozen=True)
class Side:
    """The printable side of a body of revolution about the z axis; radii and heights in mm.

    ``middle_deg`` is the direction (counterclockwise from +x, seen from above) of the layout's middle.
    ``wide_mm`` and ``high_mm`` are the whole body; a blank of other measures is drawn as it is, at the same
    shares of them. Without them it is taken to be as large as this body.
    """

    top_mm: float
    bottom_mm: float
    height_mm: float
    foot_mm: float
    middle_deg: float
    wide_mm: float | None = None
    high_mm: float | None = None

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
        away = self._goods_mm(up_mm, area, body)
        if area.cone is not None:
            band = cone_area(area).band
            right, up = band.to_flat(angle, away * band.slant_mm / band.height_mm)
            left, top = flat_origin_px(area)
            return left + mm_to_px(1, area.dpi) * right, top - mm_to_px(1, area.dpi) * up
        right = angle * self._radius_mm(body)
        return (
            area.width_px / 2 + mm_to_px(1, area.dpi) * right,
            area.height_px / 2 - mm_to_px(1, area.dpi) * away,
        )

    def shows(self, x: Floats, y: Floats, area: PrintArea, body: Body) -> NDArray[np.bool_]:
        """Whether pixels of the area's flat canvas lie on the printed side, from wherever it is seen."""
        along, down = px_to_mm(1, area.dpi) * x, px_to_mm(1, area.dpi) * y
        away = area.height_mm / 2 - down
        if area.cone is not None:
            band, (left, top) = cone_area(area).band, flat_origin_px(area)
            left, top = px_to_mm(left, area.dpi), px_to_mm(top, area.dpi)
            away = band.from_flat(along - left, top - down)[1] * band.height_mm / band.slant_mm
        z = (away + self._area_middle_mm(area, body)) * self._scale(body)
        slack = _HAIR_MM * self._scale(body)
        return np.asarray((z >= self.foot_mm - slack) & (z <= self.foot_mm + self.height_mm + slack))

    def _goods_mm(self, up_mm: Floats, area: PrintArea, body: Body) -> Floats:
        """Heights on the goods above the area's middle, along the axis, for heights along this slant."""
        rise = self.height_mm / self.frustum.slant_mm
        z = up_mm * rise + self.foot_mm + self.height_mm / 2
        return np.asarray(z / self._scale(body) - self._area_middle_mm(area, body))

    def _area_middle_mm(self, area: PrintArea, body: Body) -> float:
        """Height of the area's middle above the table, on the goods: below the rim where that is known."""
        if body.rim_clearance_mm is None or body.height_mm is None:
            return (self.foot_mm + self.height_mm / 2) / self._scale(body)
        tall = area.height_mm if area.cone is None else cone_area(area).band.height_mm
        return body.height_mm - body.rim_clearance_mm - tall / 2

    def _scale(self, body: Body) -> float:
        """Millimetres of this body's height for one of the goods'."""
        return self.high_mm / body.height_mm if self.high_mm and body.height_mm else 1.0

    def _radius_mm(self, body: Body) -> float:
        """Radius of straight goods where they are printed."""
        wide = body.diameter_mm / self.wide_mm if self.wide_mm and body.diameter_mm else 1.0
        return self.frustum.middle_mm * wide


@dataclass(frozen=True)
class ClothSheet:
    """A printed sheet of cloth: its rest coordinates (mm) at every ``stride``-th pixel corner.

    ``anchor_y_mm`` is where the print area's middle, or its top edge when ``from_top``, lies. ``wide_mm`` and
    ``high_mm`` as for a ``Side``.
    """

    places: NDArray[np.float32]  # rows x columns x 2
    stride: float
    anchor_x_mm: float
    anchor_y_mm: float
    from_top: bool
    wide_mm: float | None = None
    high_mm: float | None = None

    def seen(self, x: Floats, y: Floats) -> tuple[Floats, Floats]:
        """Rest coordinates (right, up) on the grid of points ``y`` x ``x``, bicubic in the stored map."""
        rows, columns = (np.arange(n, dtype=np.float64) * self.stride for n in self.places.shape[:2])
        places = between(self.places.astype(np.float64), (rows, columns), (y, x))
        return places[..., 0], places[..., 1]

    def on_area(self, right: Floats, up: Floats, area: PrintArea, body: Body) -> tuple[Floats, Floats]:
        """Pixels (x, y) of the area for rest coordinates."""
        wide = body.width_mm / self.wide_mm if self.wide_mm and body.width_mm else 1.0
        high = body.height_mm / self.high_mm if self.high_mm and body.height_mm else 1.0
        above = 0.0 if self.from_top else area.height_mm / 2
        return (
            area.width_px / 2 + mm_to_px(1, area.dpi) * (right - self.anchor_x_mm) * wide,
            mm_to_px(1, area.dpi) * (above - (up - self.anchor_y_mm) * high),
        )
