"""A small copy of each design's art, for its pictures, in the colours that inks can print.

No picture shows more of the art than ``SMALL_SIDE_PX`` across, and reading the large file again for each
blank would cost more than all the rest.
"""

import numpy as np
import pyvips
from numpy.typing import NDArray

from hundredfold.designs.facts import Box, DesignFacts
from hundredfold.designs.vips import as_array
from hundredfold.kernel.errors import ShopError
from hundredfold.mockups.printable import as_printed
from hundredfold.placement.encode import png
from hundredfold.placement.printfile import resized

Bytes = NDArray[np.uint8]

SMALL_SIDE_PX = 1600  # plates are 1,500 pixels wide, and art covers less than the whole of one


def small_art(pixels: Bytes) -> bytes:
    """PNG of the art (RGBA, straight alpha, sRGB-encoded) as printed, at most ``SMALL_SIDE_PX`` a side."""
    height, width = pixels.shape[:2]
    scale = SMALL_SIDE_PX / max(height, width)
    if scale < 1:
        pixels = resized(pixels, max(1, round(width * scale)), max(1, round(height * scale)))
    return png(as_printed(pixels), 72)


def read_small_art(data: bytes) -> Bytes:
    """The pixels again, RGBA. Raises ShopError ``art-missing``."""
    try:
        return as_array(pyvips.Image.new_from_buffer(data, ""))
    except pyvips.Error as problem:
        raise ShopError(
            "art-missing", "the small copy of the art cannot be read", "run the command again"
        ) from problem


def crop_in_small(crop: Box, facts: DesignFacts) -> Box:
    """Where a crop of the full art lies on the small copy, in whole pixels."""
    scale = min(1.0, SMALL_SIDE_PX / max(facts.width_px, facts.height_px))
    left, top = round(crop.left * scale), round(crop.top * scale)
    right, bottom = round(crop.right * scale), round(crop.bottom * scale)
    return Box(left, top, max(left + 1, right), max(top + 1, bottom))
