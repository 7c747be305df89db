"""Spans as the pixels they stand for."""

import numpy as np
from numpy.typing import NDArray

from hundredfold.designs.flatart.spans import Spans


def as_pixels(spans: Spans) -> NDArray[np.uint8]:
    """Height x width x 4."""
    return np.repeat(spans.packed, spans.lengths).view(np.uint8).reshape(spans.height, spans.width, 4)
