"""Edges to coverage: how much each directed edge adds to the pixels it crosses, exactly.

The signed area to the right of an edge within each row (as font rasterisers do it): summed along a row from
the left, the additions of a closed shape give its winding number at every pixel, in fractions at its rim.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Whole = NDArray[np.int64]
Shorts = NDArray[np.uint16]  # sheets are far narrower than 65,535 pixels

# Areas are counted in whole units of this share of a pixel: sums of whole numbers are the same in any order.
UNIT = 2.0**-24


@dataclass(frozen=True, eq=False)
class Cells:
    """Additions to pixels, in no order, some more than once: ``here`` to the pixel itself, ``next`` to the
    one right of it. Both in UNITs, whole numbers. ``owners`` says whose edges they come from.
    """

    owners: Shorts
    rows: Shorts
    columns: Shorts
    here: Floats
    next: Floats


def cells_of(edges: Floats, owners: Shorts, width: int, height: int) -> Cells:
    """The additions of directed edges, shape (n, 4): x0, y0, x1, y1 in pixels, which close their shapes."""
    kept = edges[:, 1] != edges[:, 3]
    (x0, y0, x1, y1), owners = edges[kept].T, owners[kept]
    down = y1 > y0
    sign = np.where(down, 1.0, -1.0)
    slope = (x1 - x0) / (y1 - y0)
    x0, high, low = np.where(down, x0, x1), np.minimum(y0, y1), np.maximum(y0, y1)
    # One piece for each row an edge crosses.
    first = np.clip(np.floor(high), 0, height).astype(np.int64)
    end = np.clip(np.ceil(low), 0, height).astype(np.int64)
    which, row = counted(first, np.maximum(end - first, 0))
    edge = np.stack([high, low, slope, x0 - high * slope, sign])[:, which]
    top, bottom = np.maximum(edge[0], row), np.minimum(edge[1], row + 1)
    a, b = edge[3] + top * edge[2], edge[3] + bottom * edge[2]
    left, right = np.minimum(a, b), np.maximum(a, b)
    return _by_column(left, right, (bottom - top) * edge[4], row, owners[which], width)


def _by_column(left: Floats, right: Floats, tall: Floats, row: Whole, owners: Shorts, width: int) -> Cells:
    """Pieces within one row, cut where they cross from column to column; beside the sheet all is one column.

    What lies left of the sheet still covers its first column; what lies right of it covers nothing.
    """
    first = np.clip(np.floor(left), -1, width)
    columns = np.maximum(np.clip(np.ceil(right) - 1, -1, width) - first + 1, 1).astype(np.int64)
    wide = np.flatnonzero(columns > 1)
    which, column = counted(first[wide].astype(np.int64), columns[wide])
    which = wide[which]
    start, end = left[which], right[which]
    share_from = np.where(column < 0, start, np.maximum(start, column))
    share_to = np.where(column >= width, end, np.minimum(end, column + 1))
    narrow = np.flatnonzero(columns == 1)
    column = np.concatenate([first[narrow], column])
    middle = np.concatenate([(left[narrow] + right[narrow]) / 2, (share_from + share_to) / 2]) - column
    height = np.concatenate([tall[narrow], tall[which] * ((share_to - share_from) / (end - start))])
    whole = np.rint(height / UNIT)
    here = np.rint(height * (1 - middle) / UNIT)
    after = whole - here
    # Beside the sheet nothing is shared out: it all goes to the first column, or to what ends the row.
    beside = np.flatnonzero((column < 0) | (column >= width))
    here[beside], after[beside] = whole[beside], 0.0
    column = np.clip(column, 0, width)
    row = np.concatenate([row[narrow], row[which]])
    owners = np.concatenate([owners[narrow], owners[which]])
    return Cells(owners, row.astype(np.uint16), column.astype(np.uint16), here, after)


def counted(first: Whole, count: Whole) -> tuple[Whole, Whole]:
    """For each index i, ``count[i]`` entries: i itself, and the numbers from ``first[i]``."""
    which = np.repeat(np.arange(len(first)), count)
    shift = first - (np.cumsum(count) - count)
    return which, np.arange(len(which)) + shift[which]
