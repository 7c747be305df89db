"""Many pictures on one, in rows, on white."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from hundredfold.designs.facts import Box
from hundredfold.mockups.resizing import faded, resized

Bytes = NDArray[np.uint8]

_AIR = 0.03  # of a picture's side, round the goods
_FILLED = 0.94  # of the frame's room


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


def side_by_side(pictures: Sequence[Bytes], goods: Box) -> Bytes:
    """Square pictures (RGB) of the same goods in several colours as one of the same size.

    ``goods`` is where they stand in each. All are drawn at one scale, in the rows that let them be largest.
    """
    size, air = len(pictures[0]), _AIR * len(pictures[0])
    count = len(pictures)
    left, top = max(0, round(goods.left - air)), max(0, round(goods.top - air))
    right, bottom = min(size, round(goods.right + air)), min(size, round(goods.bottom + air))
    wide, high = right - left, bottom - top
    scale, columns = max(
        (min(size / (n * wide), size / (-(-count // n) * high)), n) for n in range(1, count + 1)
    )
    scale *= _FILLED
    cell = max(1, round(wide * scale)), max(1, round(high * scale))
    rows, edge = -(-count // columns), max(1, round(_AIR * size * scale))
    sheet = np.full((size, size, 3), 255, np.uint8)
    for k, picture in enumerate(pictures):
        row, column = divmod(k, columns)
        in_row = (
            columns if row < rows - 1 else count - columns * (rows - 1)
        )  # the last row stands in the middle
        x = (size - in_row * cell[0]) // 2 + column * cell[0]
        y = (size - rows * cell[1]) // 2 + row * cell[1]
        part = np.s_[y : y + cell[1], x : x + cell[0]]
        sheet[part] = np.minimum(sheet[part], faded(resized(picture[top:bottom, left:right], cell), edge))
    return sheet
