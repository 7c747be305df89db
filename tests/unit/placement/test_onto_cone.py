"""Art on tapered sides, re-measured from the print file's pixels."""

import numpy as np
import pytest

from hundredfold.catalogue.blanks import Cone, PrintArea
from hundredfold.designs.facts import Box
from hundredfold.kernel.units import px_to_mm
from hundredfold.placement.area import cone_area
from hundredfold.placement.frustum import Frustum
from hundredfold.placement.onto_cone import flat_origin_px, prewarp
from hundredfold.placement.place import fit

SECTOR = PrintArea("side", 3290, 1925, 300, safe_margin_mm=2, cone=Cone(90, 65, 150, "sector"))
RECTANGLE = PrintArea("side", 2700, 1181, 300, safe_margin_mm=2, cone=Cone(90, 65, 150, "rectangle"))
TALL = Box(0, 0, 500, 800)


@pytest.mark.parametrize("area", [SECTOR, RECTANGLE])
@pytest.mark.parametrize("ink", [TALL, Box(0, 0, 1600, 500)])
def test_art_stays_on_the_side(area: PrintArea, ink: Box) -> None:
    placed = fit(ink, area)
    on = cone_area(area)
    x = np.array([0, 1, 0, 1, 0.5, 0.5]) * placed.width_px + placed.left_px
    y = np.array([0, 0, 1, 1, 0, 1]) * placed.height_px + placed.top_px
    centre_x, centre_y = flat_origin_px(area)
    angle, up = on.band.from_flat(px_to_mm(1, 300) * (x - centre_x), px_to_mm(1, 300) * (centre_y - y))
    assert np.abs(up).max() <= on.band.slant_mm / 2 - 2 + 0.1
    assert np.abs(angle).max() <= on.turn / 2
    # It could not be much larger: some edge touches the margin.
    assert placed.width_px > 0.3 * area.width_px or np.abs(up).max() > on.band.slant_mm / 2 - 4


def test_the_sector_fills_its_file() -> None:
    on = cone_area(SECTOR)
    turns = np.linspace(-on.turn / 2, on.turn / 2, 2001)
    half = on.band.slant_mm / 2
    x, y = on.band.to_flat(np.concatenate([turns, turns]), np.repeat([half, -half], 2001))
    assert x.max() - x.min() == pytest.approx(SECTOR.width_mm, abs=0.05)
    assert y.max() - y.min() == pytest.approx(SECTOR.height_mm, abs=0.05)


def test_prewarped_file_rolls_back_to_undistorted_art() -> None:
    """Dots 10 mm apart on the flat art are found in the file and measured on the cone."""
    canvas = np.zeros((RECTANGLE.height_px, RECTANGLE.width_px, 4), np.uint8)
    centre_x, centre_y = flat_origin_px(RECTANGLE)
    step = 300 / 25.4 * 10
    spots = [(i, j) for i in range(-5, 6) for j in range(-3, 4)]
    ys, xs = np.mgrid[0 : RECTANGLE.height_px, 0 : RECTANGLE.width_px] + 0.5
    for i, j in spots:
        far = np.hypot(xs - centre_x - i * step, ys - centre_y + j * step)
        canvas[..., 3] = np.maximum(canvas[..., 3], np.clip((12.5 - far) * 255, 0, 255).astype(np.uint8))
    flat = prewarp(canvas, RECTANGLE)[..., 3].astype(float)
    side = Frustum(45, 32.5, 150)  # independent of the code under test: rows are slants, columns angles
    turn = RECTANGLE.width_mm / side.middle_mm
    errors = []
    for i, j in spots:
        expected_angle, expected_up = side.from_flat(10.0 * i, 10.0 * j)
        column = (float(expected_angle) / turn + 0.5) * RECTANGLE.width_px
        row = RECTANGLE.height_px / 2 - float(expected_up) * 300 / 25.4
        x0, y0 = int(column) - 30, int(row) - 30
        window = flat[y0 : y0 + 60, x0 : x0 + 60]
        wy, wx = np.mgrid[y0 : y0 + 60, x0 : x0 + 60] + 0.5
        found_x, found_y = (window * wx).sum() / window.sum(), (window * wy).sum() / window.sum()
        x, y = side.to_flat(
            (found_x / RECTANGLE.width_px - 0.5) * turn,
            (RECTANGLE.height_px / 2 - found_y) * 25.4 / 300,
        )
        errors.append(np.hypot(float(x) - 10 * i, float(y) - 10 * j))
    assert max(errors) < 0.01
    assert len(errors) == 77


def test_a_flat_sector_is_left_alone() -> None:
    canvas = np.full((4, 4, 4), 7, np.uint8)
    assert prewarp(canvas, SECTOR) is canvas
