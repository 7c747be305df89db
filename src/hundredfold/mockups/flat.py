"""The flat preview: a print area as a softly lit panel in the blank's colour, with the art in its place.

Honest about what it is: right colour, right proportions, the ink behaving as its process does, and no
pretence of being the object.
"""

import functools
from dataclasses import dataclass
from typing import Any

import cv2
import numpy as np
from numpy.typing import NDArray

from hundredfold.catalogue.blanks import BlankColour, FileKind, PrintArea
from hundredfold.catalogue.processes import Process
from hundredfold.kernel.colour import LUMINANCE_WEIGHTS, Srgb, from_linear, to_linear
from hundredfold.placement.encode import picture_jpeg

Bytes = NDArray[np.uint8]
Light = NDArray[np.float32]
Floats = NDArray[Any]

PREVIEW_VERSION = 2
_FILL = 0.80  # of the picture's width or height taken by the panel
_ROUND = 0.018  # corner radius, of the panel's longer side
_BACKDROP = Srgb(233, 230, 225)
_BARE_METAL = Srgb(196, 197, 199)
_STEPS = 4095

_TO_LINEAR: Light = to_linear(np.arange(256) / 255).astype(np.float32)
# From linear light times _STEPS, cut to an integer: each entry stands for the middle of its step. It goes
# past full light because the panel's lit side is a little brighter than its colour.
_TO_SRGB: Bytes = np.rint(
    from_linear(np.minimum((np.arange(round(_STEPS * 1.2)) + 0.5) / _STEPS, 1)) * 255
).astype(np.uint8)


@dataclass(frozen=True)
class Panel:
    """Where the print area lies in the preview, in its pixels."""

    left: int
    top: int
    width: int
    height: int


def panel_of(area: PrintArea, width_px: int, height_px: int) -> Panel:
    """The print area, proportions kept, centred a little above the middle."""
    scale = min(width_px * _FILL / area.width_px, height_px * _FILL / area.height_px)
    width, height = max(1, round(area.width_px * scale)), max(1, round(area.height_px * scale))
    return Panel((width_px - width) // 2, round((height_px - height) * 0.46), width, height)


@dataclass(frozen=True)
class Ink:
    """Art ready for any blank colour: linear light of the ink times alpha, and what alpha leaves."""

    colour: Light  # 3 x height x width
    rest: Light  # height x width

    @classmethod
    def of(cls, art: Bytes) -> "Ink":
        """From straight-alpha sRGB-encoded RGBA, height x width x 4."""
        alpha = art[:, :, 3] * np.float32(1 / 255)
        channels = (np.ascontiguousarray(art[:, :, channel]) for channel in range(3))
        return cls(np.stack([np.take(_TO_LINEAR, channel) * alpha for channel in channels]), 1 - alpha)

    def on(self, cloth: Light, process: Process, *, underbase: bool) -> Light:
        """3 x height x width, linear light 0-1 coming back from the print on one colour, evenly lit.

        Transparent ink (sublimation, and direct printing without a white underbase) filters the light of the
        surface, so white ink does nothing. Over an underbase, ink covers. A laser bares the metal where the
        art is dark.
        """
        seen = np.empty_like(self.colour)
        if process is Process.ENGRAVING:
            # Summed in a fixed order: matrix routines round differently from one processor to the next.
            kept = self.rest.copy()
            for weight, channel in zip(LUMINANCE_WEIGHTS, self.colour, strict=True):
                kept += np.float32(weight) * channel
        for place, surface in enumerate(cloth):
            if process is Process.ENGRAVING:
                metal = _TO_LINEAR[_BARE_METAL[place]]
                seen[place] = metal + kept * (surface - metal)
            elif process is Process.DTF or underbase:
                np.multiply(self.rest, surface, out=seen[place])
                seen[place] += self.colour[place]
            else:
                np.add(self.colour[place], self.rest, out=seen[place])
                seen[place] *= surface
        return seen


def flat_preview(
    sheet: Bytes | Ink, area: PrintArea, colour: BlankColour, width_px: int, height_px: int, process: Process
) -> bytes:
    """JPEG of the preview.

    ``sheet`` is the area's straight-alpha RGBA, as wide as its panel, or the ``Ink`` of it to use it often.
    """
    return picture_jpeg(preview_pixels(sheet, area, colour, width_px, height_px, process))


def preview_pixels(
    sheet: Bytes | Ink, area: PrintArea, colour: BlankColour, width_px: int, height_px: int, process: Process
) -> Bytes:
    """Height x width x 3, sRGB-encoded; mixed in linear light."""
    panel = panel_of(area, width_px, height_px)
    ink = sheet if isinstance(sheet, Ink) else Ink.of(laid_on(sheet, panel))
    if area.file_kind is FileKind.JPEG or not area.transparent:
        ink = Ink(ink.colour + ink.rest, np.zeros_like(ink.rest))
    cloth = _TO_LINEAR[np.array(colour.srgb)]
    lit = ink.on(cloth, process, underbase=colour.underbase)
    lit *= _light(panel.width, panel.height)
    picture = _backdrop(width_px, height_px, panel).copy()
    _set_panel(picture, panel, cv2.merge(list(_encoded(lit))).astype(np.uint8, copy=False))
    return picture


def laid_on(sheet: Bytes, panel: Panel) -> Bytes:
    """The sheet with a row or column more or less, where rounding made it differ from the panel."""
    if sheet.shape[:2] == (panel.height, panel.width):
        return sheet
    laid = np.zeros((panel.height, panel.width, 4), np.uint8)
    part = sheet[: panel.height, : panel.width]
    laid[: part.shape[0], : part.shape[1]] = part
    return laid


def _encoded(light: Light) -> Bytes:
    """sRGB from linear light times _STEPS."""
    return np.take(_TO_SRGB, light.astype(np.uint16))


def _smooth(value: Floats) -> Floats:
    """A cubic ease from 0 to 1: products and sums only, so that every processor rounds alike."""
    clipped = np.clip(value, 0.0, 1.0)
    eased: Floats = clipped * clipped * (3 - 2 * clipped)
    return eased


@functools.lru_cache(maxsize=16)
def _light(width: int, height: int) -> Light:
    """Height x width, times _STEPS: a window up on the left, fading to the right, with a fine tooth."""
    across = np.linspace(0, 1, width)[np.newaxis, :]
    down = np.linspace(0, 1, height)[:, np.newaxis]
    far = np.sqrt((across - 0.28) ** 2 + (down - 0.2) ** 2)
    field = 1.04 - 0.26 * _smooth(far / 1.15)
    edge = np.minimum(np.minimum(across, 1 - across) * width, np.minimum(down, 1 - down) * height)
    field = field * (0.9 + 0.1 * _smooth(edge / (0.02 * max(width, height) + 1)))
    tooth = np.random.default_rng(7).integers(-128, 128, (height, width)) / 128
    tooth = tooth + np.roll(tooth, 1, 0) + np.roll(tooth, 1, 1)
    lit: Light = (field * (1 + 0.006 * tooth) * _STEPS).astype(np.float32)
    return lit


@functools.lru_cache(maxsize=16)
def _backdrop(width: int, height: int, panel: Panel) -> Bytes:
    """A pale table in soft light, with the panel's shadow on it."""
    across, down = np.arange(width)[np.newaxis, :] + 0.5, np.arange(height)[:, np.newaxis] + 0.5
    far = np.sqrt((across / width - 0.3) ** 2 + (down / height - 0.15) ** 2)
    field = 1.05 - 0.30 * _smooth(far / 1.2)
    size = max(panel.width, panel.height)
    for reach, shift, depth in ((0.012, 0.006, 0.30), (0.07, 0.035, 0.34)):
        field = field * (1 - depth * _shadow(across, down, panel, reach * size, shift * size))
    lit = field[:, :, np.newaxis] * (_TO_LINEAR[np.array(_BACKDROP)] * _STEPS)
    picture = _encoded(lit.astype(np.float32))
    picture.setflags(write=False)
    return picture


def _shadow(across: Floats, down: Floats, panel: Panel, reach: float, shift: float) -> Floats:
    left, top = panel.left + shift * 0.5, panel.top + shift
    sides = np.minimum(across - left, left + panel.width - across)
    ends = np.minimum(down - top, top + panel.height - down)
    return _smooth((sides + reach) / (2 * reach)) * _smooth((ends + reach) / (2 * reach))


def _set_panel(picture: Bytes, panel: Panel, face: Bytes) -> None:
    """The face laid in with round, smooth corners."""
    radius = max(2, round(_ROUND * max(panel.width, panel.height)))
    whole = picture[panel.top : panel.top + panel.height, panel.left : panel.left + panel.width]
    corners = [
        (rows, columns)
        for rows in (slice(0, radius), slice(-radius, None))
        for columns in (slice(0, radius), slice(-radius, None))
    ]
    saved = [whole[corner].copy() for corner in corners]
    whole[:] = face
    if min(panel.width, panel.height) < 2 * radius:
        return
    for corner, under, cover in zip(corners, saved, _corner_covers(radius), strict=True):
        mixed = under + (whole[corner].astype(np.float32) - under) * cover
        whole[corner] = np.rint(mixed).astype(np.uint8)


def _corner_covers(radius: int) -> list[Light]:
    at = np.arange(radius) + 0.5
    far = np.sqrt((radius - at[:, np.newaxis]) ** 2 + (radius - at[np.newaxis, :]) ** 2)
    cover = np.clip(radius - far + 0.5, 0, 1).astype(np.float32)[:, :, np.newaxis]
    return [cover, cover[:, ::-1], cover[::-1], cover[::-1, ::-1]]
