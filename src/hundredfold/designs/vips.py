"""libvips as this program uses it: one thread a process, no memory of earlier files, arrays in and out."""

import logging
from typing import Any

import cv2
import numpy as np
import pyvips
from numpy.typing import NDArray

Bytes = NDArray[np.uint8]

# The operation cache once gave back the old pixels of a replaced file. Work is spread over processes, so
# threads inside one would only compete.
pyvips.cache_set_max(0)
pyvips.concurrency_set(1)
cv2.setNumThreads(1)
# What the libraries grumble about while they cope is no news for a seller; what they cannot read raises.
logging.getLogger("pyvips").setLevel(logging.ERROR)
logging.getLogger("PIL.TiffImagePlugin").setLevel(logging.CRITICAL)

SRGB_PROFILE: bytes = pyvips.Image.profile_load("srgb")  # fixed bytes that ship inside libvips, CC0


def as_image(pixels: NDArray[Any]) -> Any:
    """A libvips image over an array of height x width (x bands); tagged sRGB when it has 3 or 4 bands."""
    image = pyvips.Image.new_from_array(np.ascontiguousarray(pixels))
    return image.copy(interpretation="srgb") if image.bands >= 3 else image


def as_array(image: Any) -> NDArray[Any]:
    """Height x width x bands, writable, in the image's own sample format."""
    array: NDArray[Any] = image.numpy()
    if array.ndim == 2:
        array = array[:, :, np.newaxis]
    return array if array.flags.writeable else array.copy()
