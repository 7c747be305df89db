"""The flat preview: the ink model of each process, proportions, and the same bytes every time."""

import dataclasses
import io

import numpy as np
import pytest
from numpy.typing import NDArray
from PIL import Image

from hundredfold.catalogue.blanks import BlankColour, PrintArea
from hundredfold.catalogue.processes import Process
from hundredfold.kernel.colour import Srgb, from_linear, to_linear
from hundredfold.mockups.flat import Ink, flat_preview, panel_of, preview_pixels

NAVY = BlankColour("navy", "Navy", Srgb(27, 42, 78))
WHITE = BlankColour("white", "White", Srgb(255, 255, 255))
AREA = PrintArea("front", 300, 400, 300)


def ink(*rgba: int) -> NDArray[np.uint8]:
    return np.full((4, 4, 4), rgba, np.uint8)


def seen(
    art: NDArray[np.uint8], cloth: Srgb, process: Process, *, underbase: bool = False
) -> tuple[int, ...]:
    surface = to_linear(np.array(cloth) / 255).astype(np.float32)
    linear = Ink.of(art).on(surface, process, underbase=underbase)
    return tuple(round(float(v) * 255) for v in from_linear(linear[:, 0, 0]))


def test_transparent_ink_filters_the_light_of_the_blank() -> None:
    """Linear light multiplies: sRGB 188 is 0.50289 of the light, its square 0.2529, which is sRGB 138."""
    assert seen(ink(188, 188, 188, 255), Srgb(188, 188, 188), Process.SUBLIMATION) == (138, 138, 138)
    assert seen(ink(255, 255, 255, 255), NAVY.srgb, Process.SUBLIMATION) == tuple(NAVY.srgb)  # no white ink
    assert seen(ink(255, 230, 0, 255), NAVY.srgb, Process.SUBLIMATION)[2] == 0
    assert seen(ink(200, 30, 40, 255), WHITE.srgb, Process.SUBLIMATION) == (200, 30, 40)


def test_an_underbase_makes_ink_cover() -> None:
    yellow = ink(255, 230, 0, 255)
    assert seen(yellow, NAVY.srgb, Process.DTG, underbase=True) == (255, 230, 0)
    assert seen(yellow, NAVY.srgb, Process.DTG) == seen(yellow, NAVY.srgb, Process.SUBLIMATION)
    assert seen(yellow, NAVY.srgb, Process.DTF) == (255, 230, 0)  # film always has one


def test_half_covering_ink_mixes_in_linear_light() -> None:
    """Half white over black is half the light, which is sRGB 188 (IEC 61966-2-1), not 128."""
    assert seen(ink(255, 255, 255, 128), Srgb(0, 0, 0), Process.DTF) == (188, 188, 188)


def test_a_laser_bares_metal_where_the_art_is_dark() -> None:
    black, white = ink(0, 0, 0, 255), ink(255, 255, 255, 255)
    assert seen(white, NAVY.srgb, Process.ENGRAVING) == tuple(NAVY.srgb)
    assert min(seen(black, NAVY.srgb, Process.ENGRAVING)) > 180


@pytest.mark.parametrize("size", [(300, 300), (400, 300), (300, 500)])
def test_proportions_are_kept(size: tuple[int, int]) -> None:
    panel = panel_of(AREA, *size)
    assert panel.width / panel.height == pytest.approx(3 / 4, rel=0.02)
    assert panel.left >= 0
    assert panel.top >= 0


def red_sheet(width_px: int, height_px: int) -> NDArray[np.uint8]:
    """A third of the width, a quarter of the height, an eighth down."""
    panel = panel_of(AREA, width_px, height_px)
    sheet = np.zeros((panel.height, panel.width, 4), np.uint8)
    top, left = panel.height // 8, panel.width // 3
    sheet[top : top + panel.height // 4, left : left + panel.width // 3] = (200, 30, 40, 255)
    return sheet


def preview(colour: BlankColour, process: Process = Process.DTF, size: int = 300) -> NDArray[np.uint8]:
    return preview_pixels(red_sheet(size, size), AREA, colour, size, size, process)


def test_the_art_lies_where_the_sheet_has_it() -> None:
    picture, panel = preview(WHITE).astype(int), panel_of(AREA, 300, 300)
    red = (picture[:, :, 0] - picture[:, :, 1]) > 80
    rows, columns = np.flatnonzero(red.any(axis=1)), np.flatnonzero(red.any(axis=0))
    assert (columns[0] - panel.left) / panel.width == pytest.approx(1 / 3, abs=0.02)
    assert (rows[0] - panel.top) / panel.height == pytest.approx(50 / 400, abs=0.02)


def test_the_panel_shows_the_blank_s_colour() -> None:
    panel = panel_of(AREA, 300, 300)
    for colour in (NAVY, WHITE):
        patch = preview(colour)[panel.top + 20 : panel.top + 40, panel.left + 10 : panel.left + 30]
        assert np.abs(patch.reshape(-1, 3).mean(axis=0) - np.array(colour.srgb)).max() < 12


def test_a_flattened_area_shows_its_white_box_on_cloth_with_an_underbase() -> None:
    flattened = dataclasses.replace(AREA, transparent=False)
    panel = panel_of(flattened, 300, 300)
    clear = np.zeros((panel.height, panel.width, 4), np.uint8)
    picture = preview_pixels(clear, flattened, NAVY, 300, 300, Process.DTF)
    assert picture[panel.top + 60, panel.left + 60].min() > 200


def test_a_sheet_rounded_otherwise_still_fits() -> None:
    panel = panel_of(AREA, 300, 300)
    longer = np.full((panel.height + 1, panel.width, 4), (200, 30, 40, 255), np.uint8)
    assert preview_pixels(longer, AREA, WHITE, 300, 300, Process.DTF).shape == (300, 300, 3)


def test_the_same_bytes_and_a_readable_jpeg() -> None:
    sheet = red_sheet(300, 200)
    data = flat_preview(sheet, AREA, NAVY, 300, 200, Process.SUBLIMATION)
    assert data == flat_preview(sheet, AREA, NAVY, 300, 200, Process.SUBLIMATION)
    with Image.open(io.BytesIO(data)) as image:
        assert (image.size, image.format) == ((300, 200), "JPEG")
