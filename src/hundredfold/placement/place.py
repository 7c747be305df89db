"""Where the art lies on a print area. Pure; pixels of the area, millimetres derived."""

from dataclasses import dataclass

from hundredfold.catalogue.blanks import PrintArea
from hundredfold.designs.facts import Box
from hundredfold.kernel.units import mm_to_px


@dataclass(frozen=True)
class Placement:
    """The art's ink box laid on a print area.

    ``crop`` is the part of the art used, in the art's own pixels. ``left_px`` to ``height_px`` are whole
    pixels on the print area. ``effective_dpi`` is what the art really offers there; below the
    area's dpi it would have to be enlarged.
    """

    area: PrintArea
    crop: Box
    left_px: int
    top_px: int
    width_px: int
    height_px: int
    effective_dpi: float

    @property
    def scale(self) -> float:
        """Print pixels per art pixel."""
        return self.width_px / self.crop.width

    @property
    def width_mm(self) -> float:
        """Printed width of the art."""
        return self.area.width_mm * self.width_px / self.area.width_px

    @property
    def height_mm(self) -> float:
        """Printed height of the art."""
        return self.area.height_mm * self.height_px / self.area.height_px


def safe_box(area: PrintArea) -> Box:
    """The part of the area inside bleed and safe margin, in whole pixels."""
    inset = round(mm_to_px(area.bleed_mm + area.safe_margin_mm, area.dpi))
    return Box(inset, inset, area.width_px - inset, area.height_px - inset)


def fit(ink: Box, area: PrintArea) -> Placement:
    """The largest placement of the ink box inside the safe area, centred, proportions kept."""
    room = safe_box(area)
    scale = min(room.width / ink.width, room.height / ink.height)
    width, height = max(1, round(ink.width * scale)), max(1, round(ink.height * scale))
    return Placement(
        area=area,
        crop=ink,
        left_px=room.left + (room.width - width) // 2,
        top_px=room.top + (room.height - height) // 2,
        width_px=width,
        height_px=height,
        effective_dpi=area.dpi / scale,
    )
