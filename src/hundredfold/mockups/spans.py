"""What of a plate's goods the measuring lines span."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hundredfold.catalogue.forms import Form
from hundredfold.mockups.plate import Plate
from hundredfold.mockups.surface import Side

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class SpannedOutline:
    """What the measuring lines span, in frame pixels."""

    left: float
    top: float
    right: float
    bottom: float


def spans_of(plate: Plate, form: Form) -> SpannedOutline:
    """The spans of width and height: from a vessel's geometry, from the outline of cloth.

    Lines span the body itself: a handle is not part of a diameter, nor a bag's handles or a towel's loop
    of its height. A diameter is taken where the plate's body has the one that it was made of.
    """
    if isinstance(plate.surface, Side):
        return _vessel_spans(plate, plate.surface)
    cover = plate.planes["cover"] > 127
    rows, columns = np.flatnonzero(cover.any(1)), np.flatnonzero(cover.any(0))
    if form.traits.loops:  # rows of straps or of a loop are covered far less
        covered = cover.sum(1)
        rows = rows[rows >= (covered > 0.6 * covered.max()).argmax()]
    if form.traits.sleeves:  # a shirt's width is taken below the sleeves
        columns = np.flatnonzero(cover[rows[0] + 2 * len(rows) // 3 : rows[-1]].any(0))
    left, top = plate.box.left, plate.box.top
    return SpannedOutline(
        float(left + columns[0]),
        float(top + rows[0]),
        float(left + columns[-1] + 1),
        float(top + rows[-1] + 1),
    )


def _vessel_spans(plate: Plate, side: Side) -> SpannedOutline:
    """Width across the body; height along the axis, so that both are at one distance from the camera.

    In the picture that is the height of the outline's left edge, which the light lines lead to. From the far
    rim to the near foot, seen from above, would be up to a quarter more at the width's scale. The rim's
    height is where the circle's far point meets the outline's uppermost row.
    """
    eye = np.asarray(plate.camera.eye)[:2]
    away = -eye / np.linalg.norm(eye)
    taper = (side.top_mm - side.bottom_mm) / side.height_mm

    def radius(z: Floats) -> Floats:
        return side.bottom_mm + taper * (z - side.foot_mm)

    z = np.linspace(0, 2 * (side.foot_mm + side.height_mm), 4001)
    far = np.column_stack([radius(z)[:, None] * away, z])
    uppermost = plate.box.top + int(np.flatnonzero((plate.planes["cover"] > 127).any(1))[0])
    rim = float(z[np.abs(plate.camera.project(far, plate.size_px)[1] - uppermost).argmin()])
    turn = np.linspace(0, 2 * np.pi, 721)
    wide, at = radius(np.array(rim)), rim
    if side.wide_mm is not None and taper > 0:
        wide = min(wide, np.array(side.wide_mm / 2))
        at = float((wide - side.bottom_mm) / taper + side.foot_mm)
    circle = np.column_stack([wide * np.cos(turn), wide * np.sin(turn), np.full(721, at)])
    x, _ = plate.camera.project(circle, plate.size_px)
    _, y = plate.camera.project([[0.0, 0.0, 0.0], [0.0, 0.0, rim]], plate.size_px)
    return SpannedOutline(float(x.min()), float(y[1]), float(x.max()), float(y[0]))
