"""A print area's sheet: every placement where it lies, at full size and reduced."""

import numpy as np
from numpy.typing import NDArray

from hundredfold.catalogue.blanks import PrintArea
from hundredfold.designs.facts import Box
from hundredfold.placement.layout import AreaLayout
from hundredfold.placement.place import Placement
from hundredfold.placement.sheet import sheet_of

AREA = PrintArea("wrap", 120, 40, 300)
CROP = Box(0, 0, 10, 10)


def blue(crop: Box, width_px: int, height_px: int) -> NDArray[np.uint8]:
    return np.full((height_px, width_px, 4), (0, 0, 200, 128), np.uint8)


def at(left: int, top: int, size: int = 20) -> Placement:
    return Placement(AREA, CROP, left, top, size, size, 300.0)


def test_art_lies_on_both_faces_and_nowhere_else() -> None:
    sheet = sheet_of(AreaLayout(AREA, (at(10, 5), at(80, 5))), blue)
    assert sheet.shape == (40, 120, 4)
    inked = np.flatnonzero(sheet[:, :, 3].any(axis=0))
    assert [int(inked[0]), int(inked[-1])] == [10, 99]
    assert not sheet[:, 30:80, 3].any()


def test_a_reduced_sheet_keeps_the_places() -> None:
    sheet = sheet_of(AreaLayout(AREA, (at(80, 10),)), blue, width_px=60)
    rows, columns = np.nonzero(sheet[:, :, 3])
    assert sheet.shape == (20, 60, 4)
    assert (rows.min(), columns.min(), columns.max()) == (5, 40, 49)


def test_what_hangs_over_is_cut() -> None:
    sheet = sheet_of(AreaLayout(AREA, (at(-5, -5), at(110, 30), at(300, 300))), blue)
    assert sheet[0, 0, 3] == 128
    assert sheet[14, 14, 3] == 128
    assert sheet[15, 15, 3] == 0
    assert sheet[39, 119, 3] == 128


def test_half_covering_art_over_half_covering_art_covers_three_quarters() -> None:
    """Porter and Duff, Compositing Digital Images, 1984: ``over`` of two alphas of 128/255 is 0.75196."""
    sheet = sheet_of(AreaLayout(AREA, (at(10, 5), at(10, 5))), blue)
    assert tuple(sheet[10, 15]) == (0, 0, 200, 192)
