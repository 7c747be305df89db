"""The fast map of frame pixels against the exact geometry, on every plate."""

import numpy as np
import pytest

from hundredfold.catalogue.blanks import Body, PrintArea
from hundredfold.mockups.mapping import pixel_map
from hundredfold.mockups.registry import PLATES
from hundredfold.mockups.surface import Side
from hundredfold.workshop.steps.plates import load_plate

ALL = [(entry.name, view) for entry in PLATES for view in entry.views]


@pytest.mark.parametrize(("name", "view"), ALL)
def test_printable_pixels_lie_where_exact_geometry_says(name: str, view: str) -> None:
    plate = load_plate(name, view)
    # Wider than a turn of any of these: its seam is in sight beside a handle.
    area, body = PrintArea("wrap", 3700, 945, 300), Body()
    x, y = pixel_map(plate, area, body)
    exact_x, exact_y = plate.area_map(area, body, plate.box, 1)
    on = plate.planes["printable"] > 0
    if not isinstance(plate.surface, Side):
        assert np.abs(x - exact_x)[on].max() < 0.01
        return
    # Area pixels through the map's own slope: pixels of the frame.
    for found, exact, axis in ((x, exact_x, 1), (y, exact_y, 0)):
        slope = np.abs(np.gradient(exact, axis=axis))
        error = (np.abs(found - exact) / slope)[on]
        assert error.max() < 0.02
