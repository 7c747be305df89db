"""A contact sheet: many pictures on one, in rows, on white."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from hundredfold.mockups.resizing import resized

Bytes = NDArray[np.uint8]


def contact_sheet(pictures: Sequence[Bytes], columns: int, cell_px: int, gap_px: int = 8) -> Bytes:
    """Pictures (RGB) brought to cells of ``cell_px``, row by row; empty cells stay white."""
    rows = -(-len(pictures) // columns)
    step = cell_px + gap_px
    sheet = np.full((rows * step + gap_px, columns * step + gap_px, 3), 255, np.uint8)
    for k, picture in enumerate(pictures):
        scale = cell_px / max(picture.shape[:2])
        wide, high = (max(1, round(n * scale)) for n in (picture.shape[1], picture.shape[0]))
        top = gap_px + (k // columns) * step + (cell_px - high) // 2
        left = gap_px + (k % columns) * step + (cell_px - wide) // 2
        sheet[top : top + high, left : left + wide] = resized(picture, (wide, high))
    return sheet
