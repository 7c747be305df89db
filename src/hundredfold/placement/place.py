"""Where the art lies on a print area. Pure; pixels of the area, millimetres derived."""

from dataclasses import dataclass

from hundredfold.catalogue.blanks import PrintArea
from hundredfold.designs.facts import Box
from hundredfold.kernel.errors import ShopError
from hundredfold.placement.area import safe_box
from hundredfold.placement.onto_cone import roomiest


@dataclass(frozen=True)
class Placement:
    """The art's ink box laid on a print area.

    ``crop`` is the part of the art used, in the art's own pixels. ``left_px`` to ``height_px`` are whole
    pixels on the print area; on a cone, of its flat side (a pre-warped file is made from that).
    ``effective_dpi`` is what the art really offers there; below the area's dpi it would have to be
    enlarged.
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


def fit_in(ink: Box, area: PrintArea, room: Box) -> Placement:
    """The largest placement of the ink box inside ``room``, centred, proportions kept.

    Raises ShopError ``no-ink`` for an empty ink box.
    """
    inked(ink)
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


def fill_in(ink: Box, area: PrintArea, room: Box) -> Placement:
    """The smallest placement that covers ``room``; what overhangs is cropped off evenly.

    Raises ShopError ``no-ink`` for an empty ink box.
    """
    inked(ink)
    scale = max(room.width / ink.width, room.height / ink.height)
    width = min(ink.width, max(1, round(room.width / scale)))
    height = min(ink.height, max(1, round(room.height / scale)))
    left = ink.left + (ink.width - width) // 2
    top = ink.top + (ink.height - height) // 2
    return Placement(
        area=area,
        crop=Box(left, top, left + width, top + height),
        left_px=room.left,
        top_px=room.top,
        width_px=room.width,
        height_px=room.height,
        effective_dpi=area.dpi / scale,
    )


def span_in(ink: Box, area: PrintArea, room: Box) -> Placement:
    """The full width of ``room``, centred in its height; what overhangs above and below is cropped.

    Raises ShopError ``no-ink`` for an empty ink box.
    """
    inked(ink)
    scale = room.width / ink.width
    height = max(1, round(ink.height * scale))
    if height > room.height:
        return fill_in(ink, area, room)
    return Placement(
        area=area,
        crop=ink,
        left_px=room.left,
        top_px=room.top + (room.height - height) // 2,
        width_px=room.width,
        height_px=height,
        effective_dpi=area.dpi / scale,
    )


def inked(ink: Box) -> None:
    """Raise ShopError ``no-ink`` when the art has no ink at all."""
    if ink.empty:
        raise ShopError("no-ink", "the art is empty: no pixel is inked", "check the file, or leave it out")


def fit(ink: Box, area: PrintArea) -> Placement:
    """The largest placement of the ink box inside the safe area, centred, proportions kept.

    On a tapered side the whole outline stays on the unrolled band. Raises ShopError ``no-ink``.
    """
    inked(ink)
    return fit_in(ink, area, roomiest(ink, area, safe_box(area)))
