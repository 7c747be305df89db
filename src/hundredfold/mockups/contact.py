"""A contact sheet: many pictures on one, in rows, on white."""

from collections.abc import Sequence

import cv2
import numpy as np
from numpy.typing import NDArray

Bytes = NDArray[np.uint8]


def contact_sheet(pictures: Sequence[Bytes], columns: int, cell_px: int, gap_px: int = 8) -> Bytes:
    """Pictures (RGB) reduced by area to cells of ``cell_px``, row by row; empty cells stay white."""
    rows = -(-len(pictures) // columns)
    step = cell_px + gap_px
    sheet = np.full((rows * step + gap_px, columns * step + gap_px, 3), 255, np.uint8)
    for k, picture in enumerate(pictures):
        scale = cell_px / max(picture.shape[:2])
        wide, high = (max(1, round(n * scale)) for n in (picture.shape[1], picture.shape[0]))
        how = cv2.INTER_AREA if scale < 1 else cv2.INTER_CUBIC
        small = cv2.resize(picture, (wide, high), interpolation=how)
        top = gap_px + (k // columns) * step + (cell_px - high) // 2
        left = gap_px + (k % columns) * step + (cell_px - wide) // 2
        sheet[top : top + high, left : left + wide] = small
    return sheet
