"""The print file: the art at the area's exact pixels and dpi, as the partner's area asks for it."""

import cv2
import numpy as np
from numpy.typing import NDArray
from PIL import Image

from hundredfold.catalogue.blanks import FileKind, PrintArea
from hundredfold.designs.alpha import over, premultiply, unpremultiply
from hundredfold.designs.decode import Picture
from hundredfold.designs.vips import as_array, as_image
from hundredfold.placement.encode import encode
from hundredfold.placement.place import Placement

Bytes = NDArray[np.uint8]

PRINT_VERSION = 1
_WHITE = (255, 255, 255)  # a flattened file has no ink where the art has none


def print_file(picture: Picture, placement: Placement) -> bytes:
    """The bytes to hand over; the same bytes for the same input.

    Art is enlarged when the placement asks for it: ``Placement.effective_dpi`` tells, and a check warns.
    Raises ShopError ``print-file-too-large`` when the area's byte limit cannot be met.
    """
    return print_file_of(placed_art(picture, placement), placement.area, placement.left_px, placement.top_px)


def placed_art(picture: Picture, placement: Placement) -> Bytes:
    """The placement's crop of the picture at its printed size, height x width x 4, straight alpha."""
    crop = placement.crop
    art = picture.pixels[crop.top : crop.bottom, crop.left : crop.right]
    return resized(art, placement.width_px, placement.height_px)


def print_file_of(art: Bytes, area: PrintArea, left_px: int, top_px: int) -> bytes:
    """Art already at its printed size, laid on the area with its corner at (left, top), and encoded.

    What lies outside the area is cut off.
    """
    canvas = laid_on(art, area.width_px, area.height_px, left_px, top_px)
    if area.file_kind is FileKind.JPEG or not area.transparent:
        canvas = over(canvas, _WHITE)
    if area.mirrored:
        canvas = cv2.flip(canvas, 1).astype(np.uint8, copy=False)
    return encode(canvas, area)


def resized(art: Bytes, width_px: int, height_px: int) -> Bytes:
    """Straight-alpha art by a three-lobed Lanczos on premultiplied values, support widened when shrinking.

    libvips where both sides shrink (twice as fast); Pillow otherwise, because libvips enlarges by a bicubic.
    """
    height, width = art.shape[:2]
    if (width, height) == (width_px, height_px):
        return np.ascontiguousarray(art)
    weighted = premultiply(art)
    if width_px <= width and height_px <= height:
        across, down = width_px / width, height_px / height
        result = as_array(as_image(weighted).resize(across, vscale=down, kernel="lanczos3", gap=0))
    else:
        source = Image.frombuffer("RGBa", (width, height), weighted.tobytes(), "raw", "RGBa", 0, 1)
        enlarged = source.resize((width_px, height_px), Image.Resampling.LANCZOS)
        rows = np.frombuffer(bytearray(enlarged.tobytes("raw", "RGBa")), np.uint8)
        result = rows.reshape(height_px, width_px, 4)
    unpremultiply(result)  # Lanczos overshoots: it also brings back colour above its alpha
    return result


def laid_on(art: Bytes, width_px: int, height_px: int, left_px: int, top_px: int) -> Bytes:
    """A transparent sheet with the art on it, its corner at (left, top); cut at the sheet's borders."""
    if art.shape[:2] == (height_px, width_px) and left_px == 0 and top_px == 0:
        return art
    sheet = np.zeros((height_px, width_px, 4), np.uint8)
    top, left = max(top_px, 0), max(left_px, 0)
    bottom = min(top_px + art.shape[0], height_px)
    right = min(left_px + art.shape[1], width_px)
    if bottom > top and right > left:
        sheet[top:bottom, left:right] = art[top - top_px : bottom - top_px, left - left_px : right - left_px]
    return sheet
