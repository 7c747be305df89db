"""Art on goods against references made another way: direct renders, a dense supersampling, a ruler."""

import json
import zipfile
from dataclasses import replace
from importlib.resources import files
from pathlib import Path

import cv2
import numpy as np
import pytest
from numpy.typing import NDArray
from pictureblanks import a_mug

from hundredfold.catalogue.blanks import Blank, BlankColour, Body, Cone, PrintArea
from hundredfold.catalogue.processes import Process
from hundredfold.designs.facts import Box
from hundredfold.kernel.colour import Srgb, to_linear
from hundredfold.mockups.compose import base_of, mock_up, still_and_light
from hundredfold.mockups.ink import Ink
from hundredfold.mockups.registry import PLATES, PlateEntry
from hundredfold.mockups.surface import ClothSheet, Side
from hundredfold.mockups.warp import fetch_for, seen_art
from hundredfold.placement.place import Placement
from hundredfold.workshop.steps.plates import load_plate

Bytes = NDArray[np.uint8]
Floats = NDArray[np.float64]
DATA = Path(__file__).parent / "direct_renders"
COLOURS = {"white": "#f7f6f2", "black": "#1d1d1f", "red": "#b3282d", "teal": "#1f6f78", "mustard": "#d6a02c"}
GOODS = {
    "mug-445": (PrintArea("wrap", 2693, 1181, 300), Body(diameter_mm=87, height_mm=118, rim_clearance_mm=10)),
    "enamel-mug": (PrintArea("wrap", 2362, 768, 300), Body(diameter_mm=86, height_mm=80, rim_clearance_mm=9)),
    "tumbler-600": (
        PrintArea("wrap", 3253, 2053, 300, cone=Cone(88, 72, 165)),
        Body(diameter_mm=88, height_mm=178, rim_clearance_mm=12),
    ),
    "t-shirt": (PrintArea("front", 3543, 4724, 300), Body(width_mm=530, height_mm=720)),
}


def loaded(name: str, order: int) -> NDArray[np.generic]:
    """A stored reference in RGB(A)."""
    image = cv2.imread(str(DATA / name), cv2.IMREAD_UNCHANGED)
    assert image is not None
    return np.asarray(cv2.cvtColor(image, order))


def psnr(first: NDArray[np.generic], second: NDArray[np.generic], peak: float) -> float:
    """Peak signal to noise, dB."""
    error = np.mean((first.astype(np.float64) - second.astype(np.float64)) ** 2)
    return float(10 * np.log10(peak**2 / error))


def ssim(first: Floats, second: Floats) -> float:
    """Mean structural similarity: Wang, Bovik, Sheikh, Simoncelli, IEEE TIP 13(4), 2004, sigma 1.5."""

    def blur(value: Floats) -> Floats:
        return np.asarray(cv2.GaussianBlur(value, (11, 11), 1.5), np.float64)

    a, b = blur(first), blur(second)
    var_a, var_b = blur(first * first) - a * a, blur(second * second) - b * b
    both = blur(first * second) - a * b
    c1, c2 = (0.01 * 255) ** 2, (0.03 * 255) ** 2
    score = (2 * a * b + c1) * (2 * both + c2) / ((a * a + b * b + c1) * (var_a + var_b + c2))
    return float(score[6:-6, 6:-6].mean())


@pytest.mark.parametrize("colour", COLOURS)
@pytest.mark.parametrize("name", GOODS)
def test_composite_equals_a_direct_render_of_the_same_art(name: str, colour: str) -> None:
    """The reference has the art as its wall's or cloth's texture, 768 samples or more, denoised alike."""
    about = json.loads((DATA / "about.json").read_text())[name]
    left, top, right, bottom = about["box"]
    art = loaded("art.webp", cv2.COLOR_BGRA2RGBA)
    plate = load_plate(name, about["view"])
    area, body = GOODS[name]
    fetch = fetch_for(plate, area, body)
    x, y, wide, high = about["placed"]
    placed = Placement(area, Box(0, 0, art.shape[1], art.shape[0]), x, y, wide, high, 300.0)
    seen = seen_art(Ink(np.asarray(art, np.uint8)), (placed,), fetch)
    coat = BlankColour(colour, colour, Srgb.parse(COLOURS[colour]), underbase=True)
    ours = mock_up(base_of(plate, coat, Process.UV), seen)[top:bottom, left:right]
    truth = loaded(f"{name}.{colour}.webp", cv2.COLOR_BGR2RGB)
    likeness = np.mean([ssim(ours[..., k].astype(float), truth[..., k].astype(float)) for k in range(3)])
    assert psnr(ours, truth, 255) >= 38
    assert likeness >= 0.98


def test_light_adds_up_at_albedos_no_plate_was_made_from() -> None:
    """The bare mug at 0.2, 0.6 and 0.86, rendered directly, a quarter of the size."""
    plate = load_plate("mug-445", "handle-right")
    with zipfile.ZipFile(str(files("hundredfold") / "plates" / "mug-445.handle-right.plate")) as archive:
        gain = json.loads(archive.read("meta.json"))["gain"]
    lit = plate.planes.keys() & plate.peaks.keys() - {"shade", "glow"}
    planes = {name: plate.linear(name) for name in sorted(lit)}
    albedo = np.array([0.2, 0.6, 0.86], np.float32)
    still, light = still_and_light(planes, albedo, albedo)
    ours = np.zeros((1500, 1500, 3), np.float32)
    box = plate.box
    ours[box.top : box.bottom, box.left : box.right] = still + albedo * light
    solid = np.zeros((1500, 1500), np.float32)
    solid[box.top : box.bottom, box.left : box.right] = plate.planes["cover"] == 255
    inside = cv2.resize(solid, (375, 375), interpolation=cv2.INTER_AREA) == 1
    ours = np.asarray(cv2.resize(ours, (375, 375), interpolation=cv2.INTER_AREA))
    coded = loaded("albedos.png", cv2.COLOR_BGR2RGB).astype(np.float64)
    truth = (coded / 65535.0) ** 2 * 2 * gain
    error = np.abs(ours - truth)[inside] / (truth[inside] + 0.01)
    assert np.median(error) < 0.01
    assert np.percentile(error, 99) < 0.08


def reference(art: Bytes, placed: Placement, plate_name: str, blank: Blank) -> tuple[Floats, Floats]:
    """16 x 16 point samples a pixel of the full-size art, and our fetch; linear grey 0-1.

    Of 420 x 300 pixels, four strips of 420 x 20.
    """
    plate = load_plate(plate_name, "handle-right")
    area = blank.areas[0]
    fetch = fetch_for(plate, area, blank.body)
    linear = to_linear(art[..., 0] / 255.0)
    seen = seen_art(Ink(art), (placed,), fetch).ink.astype(np.float64)
    strips = []
    for top in (240, 333, 427, 520):
        left, above = fetch.box.left + 60, fetch.box.top + top
        strip = Box(left, above, left + 420, above + 20)
        x, y = plate.area_map(area, blank.body, strip, 16)
        ours = seen[top : top + 20, 60:480]
        at_x = (x - placed.left_px) * art.shape[1] / placed.width_px - 0.5
        at_y = (y - placed.top_px) * art.shape[0] / placed.height_px - 0.5
        places = at_x.astype(np.float32), at_y.astype(np.float32)
        dense = cv2.remap(linear.astype(np.float32), *places, cv2.INTER_LINEAR)
        truth = dense.reshape(20, 16, 420, 16).mean((1, 3)).astype(np.float64)
        # Cover less what is taken is the colour.
        strips.append((truth, (ours[..., 3] - ours[..., 0]) / 65535.0))
    truths, fetched = zip(*strips, strict=True)
    return np.concatenate(truths), np.concatenate(fetched)


def zone_plate(size: int) -> Bytes:
    """Rings of rising frequency, up to a quarter of the art's own sampling at the edge."""
    y, x = np.mgrid[0:size, 0:size] - size / 2
    grey = 127.5 + 127.5 * np.cos(np.pi / (4 * size) * (x * x + y * y) * 2)
    art = np.full((size, size, 4), 255, np.uint8)
    art[..., :3] = np.round(grey)[..., None]
    return art


def fine_text(size: int) -> Bytes:
    """Rows of small lettering, about 2 mm high on the goods."""
    art = np.full((size, size, 4), 255, np.uint8)
    for row, y in enumerate(range(30, size, 34)):
        text = "the quick brown fox jumps over the lazy dog 0123456789 " * 3
        cv2.putText(
            art, text[row % 7 :], (10, y), cv2.FONT_HERSHEY_SIMPLEX, 0.75, (0, 0, 0, 255), 2, cv2.LINE_AA
        )
    art[..., 3] = 255
    return art


@pytest.mark.parametrize(("make", "least_db"), [(zone_plate, 35.0), (fine_text, 35.0)])
def test_fine_detail_shows_no_moire(make: object, least_db: float) -> None:
    assert callable(make)
    art = make(1600)
    blank = a_mug()
    area = blank.areas[0]
    # Centred on the face seen with the handle right, 800 area pixels (68 mm) wide.
    left = round(area.width_px / 2 + np.pi * 82 / 4 * 300 / 25.4 - 400)
    placed = Placement(area, Box(0, 0, 1600, 1600), left, 70, 800, 800, 600.0)
    truth, ours = reference(art, placed, "mug-325", blank)
    found = psnr(ours, truth, 1.0)
    naive = ours * 0 + truth.mean()
    assert psnr(naive, truth, 1.0) < 25  # there is detail to lose
    assert found >= least_db, found


VESSELS = [e for e in PLATES if e.views[0] != "front" or e.wide_mm < 200]
CLOTH = [e for e in PLATES if e not in VESSELS]


@pytest.mark.parametrize("entry", VESSELS, ids=lambda e: e.name)
def test_a_ruler_in_the_art_measures_right(entry: PlateEntry) -> None:
    """Ticks 5 mm left and right of the face's middle, against the pinhole's own scale at that depth."""
    plate = load_plate(entry.name, entry.views[0])
    side = plate.surface
    assert isinstance(side, Side)
    blank = replace(a_mug(), body=Body(), areas=(PrintArea("side", 3000, 1000, 300),))
    area = blank.areas[0]
    face = np.arctan2(plate.camera.eye[1], plate.camera.eye[0]) - np.radians(side.middle_deg)
    face = float(np.mod(face + np.pi, 2 * np.pi) - np.pi)
    art = np.zeros((1000, 400, 4), np.uint8)
    step = 300 / 25.4 * 5
    for offset in (-step, 0.0, step):
        centre = 200 + offset
        xs = np.arange(400) + 0.5
        share = np.clip(4.5 - np.abs(xs - centre), 0, 1)
        art[460:540, :, 3] = np.maximum(art[460:540, :, 3], np.round(share * 255))
    middle_px = area.width_px / 2 + face * side.frustum.middle_mm * 300 / 25.4
    left = round(middle_px - 200)
    placed = Placement(area, Box(0, 0, 400, 1000), left, 0, 400, 1000, 300.0)
    fetch = fetch_for(plate, area, blank.body)
    alpha = seen_art(Ink(art), (placed,), fetch).ink[..., 3].astype(np.float64)
    spot = side.at(face, 0.0)
    row = alpha[int(plate.camera.project(spot, plate.size_px)[1]) - fetch.box.top]
    columns = np.arange(len(row)) + 0.5
    bright = row > 0
    groups = np.split(np.flatnonzero(bright), np.flatnonzero(np.diff(np.flatnonzero(bright)) > 1) + 1)
    assert len(groups) == 3
    found = [float((columns[g] * row[g]).sum() / row[g].sum()) for g in groups]
    forward = np.subtract(plate.camera.target, plate.camera.eye)
    forward = forward / np.linalg.norm(forward)
    depth = float((spot - np.array(plate.camera.eye)) @ forward)
    scale = plate.size_px / 2 / np.tan(np.radians(plate.camera.fov_deg) / 2) / depth
    measured_mm = (found[2] - found[0]) / scale
    # On a round body 10 mm of arc are a chord of 2 r sin(5 / r).
    expected = 2 * side.frustum.middle_mm * np.sin(5 / side.frustum.middle_mm)
    assert measured_mm == pytest.approx(expected, abs=0.03)


def tangent_plane(name: str, view: str, rest: Floats) -> tuple[Floats, Floats]:
    """Place and normal of cloth at a rest point, from the plate's own known points about it (quadratic)."""
    with zipfile.ZipFile(str(files("hundredfold") / "plates" / f"{name}.{view}.plate")) as archive:
        probe = np.array(json.loads(archive.read("meta.json"))["probe"])
    away = probe[:, :2] - rest
    near = np.argsort(np.linalg.norm(away, axis=1))[:16]
    x, y = away[near].T
    terms = np.stack([np.ones_like(x), x, y, x * x, x * y, y * y], 1)
    fit, *_ = np.linalg.lstsq(terms, probe[near, 2:], rcond=None)
    normal = np.cross(fit[1], fit[2])
    return fit[0], normal / np.linalg.norm(normal)


def dots(step_px: float, across: bool) -> Bytes:
    """Three dots of 2.4 mm in a row, ``step_px`` apart, on a clear square of 400 pixels."""
    y, x = np.mgrid[0:400, 0:400] + 0.5
    art = np.zeros((400, 400, 4), np.uint8)
    for offset in (-step_px, 0.0, step_px):
        far = np.hypot(x - 200 - offset * across, y - 200 - offset * (not across))
        art[..., 3] = np.maximum(art[..., 3], np.round(np.clip(14.5 - far, 0, 1) * 255))
    return art


@pytest.mark.parametrize("across", [True, False], ids=["across", "down"])
@pytest.mark.parametrize("entry", CLOTH, ids=lambda e: e.name)
def test_a_ruler_on_cloth_measures_right(entry: PlateEntry, across: bool) -> None:
    """10 mm in the art at the area's middle, measured by rays in the plane tangent to the cloth there."""
    for view in entry.views:
        plate = load_plate(entry.name, view)
        sheet = plate.surface
        assert isinstance(sheet, ClothSheet)
        area = PrintArea("front", 3000, 3000, 300)
        fetch = fetch_for(plate, area, Body())
        placed = Placement(area, Box(0, 0, 400, 400), 1300, 1300, 400, 400, 300.0)
        alpha = seen_art(Ink(dots(300 / 25.4 * 5, across)), (placed,), fetch).ink[..., 3].astype(np.float64)
        _, marks = cv2.connectedComponents((alpha > 0).astype(np.uint8))
        rows, columns = np.mgrid[0 : alpha.shape[0], 0 : alpha.shape[1]] + 0.5
        found = [
            [(v * alpha)[marks == k].sum() / alpha[marks == k].sum() for v in (columns, rows)]
            for k in range(1, marks.max() + 1)
        ]
        assert len(found) == 3
        ends = np.array(sorted(found, key=lambda spot: spot[not across]))[[0, 2]]
        ways = plate.camera.rays(fetch.box.left + ends[:, 0], fetch.box.top + ends[:, 1], plate.size_px)
        middle_y = sheet.anchor_y_mm - (area.height_mm / 2 if sheet.from_top else 0)
        spot, normal = tangent_plane(entry.name, view, np.array([sheet.anchor_x_mm, middle_y]))
        eye = np.array(plate.camera.eye)
        places = eye + ways * (((spot - eye) @ normal) / (ways @ normal))[:, None]
        assert np.linalg.norm(places[1] - places[0]) == pytest.approx(10, abs=0.15), view
