"""Known points of every plate, projected by hand, against the map that art is fetched through."""

import json
import zipfile
from importlib.resources import files

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.ndimage import map_coordinates

from hundredfold.catalogue.blanks import Body, PrintArea
from hundredfold.designs.facts import Box
from hundredfold.mockups.plate import Plate
from hundredfold.mockups.registry import PLATES
from hundredfold.mockups.surface import ClothSheet, Side
from hundredfold.workshop.steps.plates import load_plate

Floats = NDArray[np.float64]
ALL = [(entry.name, view) for entry in PLATES for view in entry.views]


def projected(plate: Plate, points: Floats) -> tuple[Floats, Floats]:
    """A pinhole written out anew: similar triangles along the camera's axes."""
    eye, target = np.array(plate.camera.eye), np.array(plate.camera.target)
    forward = (target - eye) / np.sqrt(((target - eye) ** 2).sum())
    right = np.cross(forward, np.array(plate.camera.up))
    right /= np.sqrt((right**2).sum())
    up = np.cross(right, forward)
    depth = (points - eye) @ forward
    focal = plate.size_px / 2 / np.tan(np.radians(plate.camera.fov_deg) / 2)
    x = plate.size_px / 2 + focal * ((points - eye) @ right) / depth
    y = plate.size_px / 2 - focal * ((points - eye) @ up) / depth
    return x, y


def known_points(name: str, view: str, plate: Plate) -> tuple[Floats, Floats]:
    """Points in space and their surface coordinates (mm along the surface)."""
    if isinstance(plate.surface, ClothSheet):
        file = files("hundredfold") / "plates" / f"{name}.{view}.plate"
        with zipfile.ZipFile(str(file)) as archive:
            probe = np.array(json.loads(archive.read("meta.json"))["probe"])
        return probe[:, 2:], probe[:, :2]
    side = plate.surface
    assert isinstance(side, Side)
    rng = np.random.default_rng(4)
    facing = np.arctan2(plate.camera.eye[1], plate.camera.eye[0])
    world = facing + rng.uniform(-1.2, 1.2, 200)
    share = rng.uniform(0.02, 0.98, 200)
    radius = side.bottom_mm + (side.top_mm - side.bottom_mm) * share
    height = side.foot_mm + side.height_mm * share
    points = np.stack([radius * np.cos(world), radius * np.sin(world), height], 1)
    angle = np.mod(world - np.radians(side.middle_deg) + np.pi, 2 * np.pi) - np.pi
    slant = np.hypot(side.height_mm, side.top_mm - side.bottom_mm)
    return points, np.stack([angle, (share - 0.5) * slant], 1)


def surface_map(plate: Plate) -> Floats:
    """Surface coordinates at every pixel's centre, the whole frame."""
    centres = np.arange(plate.size_px, dtype=np.float64) + np.float64(0.5)
    if isinstance(plate.surface, ClothSheet):
        return np.stack(plate.surface.seen(centres, centres), -1)
    x, y = np.meshgrid(centres, centres)
    return np.stack(plate.surface.seen(plate.camera, x, y, plate.size_px), -1)


@pytest.mark.parametrize(("name", "view"), ALL)
def test_200_points_land_where_geometry_says(name: str, view: str) -> None:
    plate = load_plate(name, view)
    points, expected = known_points(name, view, plate)
    x, y = projected(plate, points)
    field = surface_map(plate)
    inside = (x > 8) & (x < plate.size_px - 8) & (y > 8) & (y < plate.size_px - 8)
    assert inside.sum() >= 60
    x, y, expected = x[inside], y[inside], expected[inside]
    at = np.stack([y - 0.5, x - 0.5])
    found, across, down = (
        np.stack([map_coordinates(layer[..., k], at, order=1, mode="nearest") for k in (0, 1)], 1)
        for layer in (field, np.gradient(field, axis=1), np.gradient(field, axis=0))
    )
    # The surface error in pixels, through the map's own slope there.
    slope = np.stack([across, down], 2)
    error = np.linalg.norm(np.linalg.solve(slope, (found - expected)[..., None])[..., 0], axis=1)
    assert error.mean() < 0.02
    assert error.max() < 0.1


def test_a_closer_plate_keeps_its_geometry() -> None:
    plate = load_plate("mug-325", "handle-right")
    near = plate.closer((600.0, 700.0), 2.0)
    whole = Box(0, 0, 1500, 1500)
    area, body = PrintArea("wrap", 2480, 945, 300), Body(diameter_mm=82, height_mm=95, rim_clearance_mm=8)
    x, y = plate.area_map(area, body, whole, 1)
    near_x, near_y = near.area_map(area, body, whole, 1)
    # The centre of frame pixel (n, m) of the closer plate lies at (225, 325) + (n + 0.5, m + 0.5) / 2.
    at = np.array([[325 + 250.25 - 0.5], [225 + 250.25 - 0.5]])
    assert near_x[500, 500] == pytest.approx(map_coordinates(x, at, order=1)[0], abs=0.01)
    assert near_y[500, 500] == pytest.approx(map_coordinates(y, at, order=1)[0], abs=0.01)
