"""The print file: the art at the area's exact pixels and dpi, as the partner's area asks for it."""

from dataclasses import dataclass
from functools import cached_property

import cv2
import numpy as np
from numpy.typing import NDArray
from PIL import Image

from hundredfold.catalogue.blanks import FileKind, PrintArea
from hundredfold.designs.alpha import over, premultiply, unpremultiply
from hundredfold.designs.decode import Picture
from hundredfold.designs.facts import Box
from hundredfold.designs.vips import as_array, as_image
from hundredfold.placement.encode import encode, packed
from hundredfold.placement.layout import AreaLayout
from hundredfold.placement.onto_cone import prewarp
from hundredfold.placement.sheet import ArtAt, sheet_of

Bytes = NDArray[np.uint8]

_STRIP_ROWS = 256
_WHITE = (255, 255, 255)  # a flattened file has no ink where the art has none


def print_file(picture: Picture, layout: AreaLayout) -> bytes:
    """The bytes to hand over; the same bytes for the same input.

    Art is enlarged when a placement asks for it: ``Placement.effective_dpi`` tells, and a check warns.
    Raises ShopError ``print-file-too-large`` when the area's byte limit cannot be met.
    """
    return print_file_of(sheet_of(layout, cropped(picture)), layout.area)


def cropped(picture: Picture) -> ArtAt:
    """Gives crops of the picture at any size, height x width x 4, straight alpha.

    One design nearly always has one crop, so only the last is kept ready.
    """
    ready: dict[Box, Resizable] = {}

    def art_at(crop: Box, width_px: int, height_px: int) -> Bytes:
        if crop not in ready:
            ready.clear()
            ready[crop] = Resizable(picture.pixels[crop.top : crop.bottom, crop.left : crop.right])
        return ready[crop].at(width_px, height_px)

    return art_at


def print_file_of(sheet: Bytes, area: PrintArea) -> bytes:
    """The area's flat sheet as the partner wants it: bent for a cone, flattened, mirrored, encoded."""
    canvas = _canvas(sheet, area)
    del sheet  # a large JPEG needs its room
    return encode(canvas, area)


def print_bytes_of(sheet: Bytes, area: PrintArea) -> int:
    """How many bytes that file has, whether the area takes so many or not."""
    canvas = _canvas(sheet, area)
    del sheet
    return len(packed(canvas, area))


def _canvas(sheet: Bytes, area: PrintArea) -> Bytes:
    canvas = prewarp(sheet, area)
    if area.file_kind is FileKind.JPEG or not area.transparent:
        canvas = over(canvas, _WHITE)
    if area.mirrored:
        canvas = cv2.flip(canvas, 1).astype(np.uint8, copy=False)
    return canvas


def resized(art: Bytes, width_px: int, height_px: int) -> Bytes:
    """Straight-alpha art at another size; see ``Resizable`` for many sizes of one piece."""
    return Resizable(art).at(width_px, height_px)


@dataclass(frozen=True)
class Resizable:
    """Art to be resized: three-lobed Lanczos on premultiplied values, support widened when shrinking."""

    art: Bytes  # straight alpha

    @cached_property
    def _weighted(self) -> Bytes:
        return premultiply(self.art)

    def at(self, width_px: int, height_px: int) -> Bytes:
        """Height x width x 4, straight alpha; the art itself when that is its size.

        libvips where both sides shrink (twice as fast), else Pillow: libvips enlarges by a bicubic.
        """
        height, width = self.art.shape[:2]
        if (width, height) == (width_px, height_px):
            return np.ascontiguousarray(self.art)
        if width_px <= width and height_px <= height:
            across, down = width_px / width, height_px / height
            shrunk = as_image(self._weighted).resize(across, vscale=down, kernel="lanczos3", gap=0)
            result = as_array(shrunk)
        else:
            # Four plain bands to Pillow: told of the alpha, it would multiply by it once more.
            source = Image.frombuffer("RGBX", (width, height), self._weighted, "raw", "RGBX", 0, 1)
            result = _pixels_of(source.resize((width_px, height_px), Image.Resampling.LANCZOS))
        unpremultiply(result)  # Lanczos overshoots: it also brings back colour above its alpha
        return result


def _pixels_of(image: Image.Image) -> Bytes:
    """Four bands of Pillow's as an array, strip by strip: asked for at once, three copies stand at a time."""
    width, height = image.size
    pixels = np.empty((height, width, 4), np.uint8)
    for top in range(0, height, _STRIP_ROWS):
        bottom = min(top + _STRIP_ROWS, height)
        pixels[top:bottom] = np.asarray(image.crop((0, top, width, bottom)))
    return pixels
