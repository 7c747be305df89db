"""What part of a print area may carry art: bleed, safe margin, keep-outs, and the shape of a cone's side."""

from dataclasses import dataclass
from functools import lru_cache
from math import ceil

import numpy as np

from hundredfold.catalogue.blanks import PrintArea
from hundredfold.designs.facts import Box
from hundredfold.kernel.errors import ShopError
from hundredfold.kernel.units import mm_to_px
from hundredfold.placement.frustum import Frustum


@dataclass(frozen=True)
class KeepOuts:
    """Bands that stay free, millimetres inside the trimmed print area; 0 turns a band off.

    ``seam_mm`` left and right, where the two ends of a wrap meet; ``handle_mm`` beside a handle (the
    ends of a wrap whose middle is opposite the handle); ``rim_mm`` below a drinking rim, measured
    from the rim itself.
    """

    seam_mm: float = 0.0
    handle_mm: float = 0.0
    rim_mm: float = 0.0


NONE = KeepOuts()


def safe_box(area: PrintArea, keep: KeepOuts = NONE, rim_clearance_mm: float = 0.0) -> Box:
    """The part of the area inside bleed, safe margin and keep-outs, in whole pixels.

    Raises ShopError ``no-room-for-art`` when nothing is left.
    """
    inset = area.bleed_mm + area.safe_margin_mm
    side = area.bleed_mm + max(area.safe_margin_mm, keep.seam_mm, keep.handle_mm)
    across, below = (round(mm_to_px(v, area.dpi)) for v in (side, inset))
    down = max(below, rim_band_px(area, keep, rim_clearance_mm))
    box = Box(across, down, area.width_px - across, area.height_px - below)
    if box.empty:
        raise ShopError(
            "no-room-for-art",
            f"print area {area.name!r} is {area.width_mm:.0f} x {area.height_mm:.0f} mm; margins and "
            "keep-outs leave nothing of it",
            "make the bleed, the safe margin or the keep-outs smaller",
        )
    return box


def bleed_box(area: PrintArea, keep: KeepOuts = NONE, rim_clearance_mm: float = 0.0) -> Box:
    """The whole area below a rim's band: art that runs off the edge must reach its last pixel."""
    return Box(0, rim_band_px(area, keep, rim_clearance_mm), area.width_px, area.height_px)


def rim_band_px(area: PrintArea, keep: KeepOuts, rim_clearance_mm: float) -> int:
    """Rows at the area's top that a drinking rim's band keeps free; 0 where it ends above the area."""
    return max(0, ceil(mm_to_px(keep.rim_mm - rim_clearance_mm, area.dpi)))


@dataclass(frozen=True)
class ConeArea:
    """How a print area lies on a cone: the turn it covers and its band along the slant.

    The flat plane has its origin at the area's middle. A "rectangle" file has equal angles across and
    equal slant lengths down; a "sector" file is the flat side itself, its widest arc touching the
    file's edges.
    """

    frustum: Frustum
    turn: float  # radians round the body
    top_mm: float  # upper end of the band, along the slant from the middle line of the side
    bottom_mm: float

    @property
    def middle_up_mm(self) -> float:
        """The middle of the band along the slant."""
        return (self.top_mm + self.bottom_mm) / 2

    @property
    def band(self) -> Frustum:
        """The printed band as a frustum of its own, so that its middle line is the origin."""
        taper, rise = self.frustum.taper, self.frustum.height_mm / self.frustum.slant_mm
        radius = self.frustum.middle_mm
        return Frustum(
            radius + taper * self.top_mm,
            radius + taper * self.bottom_mm,
            (self.top_mm - self.bottom_mm) * rise,
        )


@lru_cache(maxsize=64)
def cone_area(area: PrintArea) -> ConeArea:
    """Where the area's file lies on its cone, the band centred on the side.

    A rectangle's width is the arc half-way up; a sector's width is its chord and its height includes
    the arc's sag. Raises ValueError when the area has no cone.
    """
    if area.cone is None:
        raise ValueError(f"print area {area.name} has no cone")
    whole = Frustum.of(area.cone)
    if area.cone.file == "rectangle":
        half = min(area.height_mm, whole.slant_mm) / 2
        return ConeArea(whole, min(area.width_mm / whole.middle_mm, 2 * np.pi), half, -half)
    return _sector(whole, area.width_mm, area.height_mm)


def _sector(whole: Frustum, width_mm: float, height_mm: float) -> ConeArea:
    """Turn and band whose flat outline has this width and height; a few fixed-point steps settle it."""
    turn, half = 2 * np.pi, min(height_mm, whole.slant_mm) / 2
    for _ in range(60):
        band = ConeArea(whole, turn, half, -half).band
        wide = max(band.top_mm, band.bottom_mm)
        sine = width_mm / 2 * abs(band.taper) / wide
        swing = np.arcsin(min(sine, 1.0))
        turn = min(2 * swing / abs(band.taper) if abs(band.taper) > 1e-9 else width_mm / wide, 2 * np.pi)
        sag = _sag(band, turn)
        half = min(max((height_mm - sag) / 2, 1e-3), whole.slant_mm / 2)
    return ConeArea(whole, float(turn), float(half), -float(half))


def _sag(band: Frustum, turn: float) -> float:
    """How much taller the flat outline is than the band itself: the sag of its inner arc."""
    inner_up = -band.slant_mm / 2 if band.taper >= 0 else band.slant_mm / 2
    _, low = band.to_flat(turn / 2, inner_up)
    return abs(float(low) - inner_up)


def sector_origin(area: PrintArea, on: ConeArea) -> tuple[float, float]:
    """Where the flat plane's origin lies in a sector file, pixels from its left and top edges.

    The outline's box is centred in the file, so partner and art agree on it whatever was rounded.
    """
    band = on.band
    half = band.slant_mm / 2
    ends = [band.to_flat(t, u)[1] for t in (0.0, on.turn / 2) for u in (half, -half)]
    top, bottom = max(float(e) for e in ends), min(float(e) for e in ends)
    middle = (top + bottom) / 2
    return area.width_px / 2, area.height_px / 2 + mm_to_px(middle, area.dpi)
