"""Pictures: ink as the process prints it, pure white backdrops, roles, a channel's rules, a true ruler."""

import io
from dataclasses import replace

import cv2
import numpy as np
import pytest
from numpy.typing import NDArray
from pictureblanks import NAVY, TWO_TONE, WHITE, a_mug, a_shirt, solid
from PIL import Image

from hundredfold.catalogue.blanks import Blank, BlankColour, PrintArea
from hundredfold.catalogue.channels import PictureRules
from hundredfold.catalogue.forms import Form
from hundredfold.catalogue.processes import Process
from hundredfold.designs.facts import Box
from hundredfold.kernel.errors import ShopError
from hundredfold.mockups.compose import base_of, mock_up
from hundredfold.mockups.files import as_jpeg, as_png
from hundredfold.mockups.ink import Ink
from hundredfold.mockups.plate import read_plate
from hundredfold.mockups.registry import PLATES, PlateEntry, Role, plate_for, roles_of
from hundredfold.mockups.resizing import resized
from hundredfold.mockups.rules import broken_rules, fitted, measured
from hundredfold.mockups.warp import fetch_for, seen_art
from hundredfold.placement.layout import ArtSpot, Wish, lay_out
from hundredfold.placement.place import Placement, fit
from hundredfold.workshop.steps.plates import Pictures, Shot, load_plate, picture

Bytes = NDArray[np.uint8]
RULES = PictureRules(width_px=1200, height_px=1500, max_bytes=400_000, max_count=6)
FACE = Wish(where=ArtSpot.HANDLE_RIGHT)


@pytest.fixture
def mug() -> Blank:
    return a_mug()


@pytest.fixture
def shirt() -> Blank:
    return a_shirt()


def shot(blank: Blank, colour: BlankColour, role: Role = Role.MAIN) -> Shot:
    return Shot(blank, blank.areas[0], colour, role)


def taken(art: Bytes, blank: Blank, colour: BlankColour) -> Bytes:
    layout = lay_out(Box(0, 0, art.shape[1], art.shape[0]), blank, blank.areas[0], FACE)
    return Pictures(art).picture(shot(blank, colour), layout.placements)


def bare(blank: Blank, colour: BlankColour) -> Bytes:
    return base_of(load_plate("mug-325", "handle-right"), colour).picture


def test_white_art_on_a_sublimation_blank_is_bare_blank(mug: Blank) -> None:
    cream = BlankColour("cream", "Cream", WHITE.srgb._replace(blue=200))
    assert np.array_equal(taken(solid((255, 255, 255, 255)), mug, cream), bare(mug, cream))


def test_white_art_with_an_underbase_is_white_on_navy(mug: Blank) -> None:
    uv = replace(mug, process=Process.UV)
    plain, printed = bare(uv, NAVY), taken(solid((255, 255, 255, 255)), uv, NAVY)
    changed = np.abs(printed.astype(int) - plain).max(2) > 40
    assert changed.mean() > 0.05
    assert printed[changed].mean() > 200
    no_base = replace(NAVY, underbase=False)
    assert np.array_equal(taken(solid((255, 255, 255, 255)), uv, no_base), plain)


@pytest.mark.parametrize("process", [Process.SUBLIMATION, Process.UV, Process.ENGRAVING])
def test_where_ink_ends_no_pixel_is_darker_or_lighter_than_ink_and_blank(
    mug: Blank, process: Process
) -> None:
    blank, colour = replace(mug, process=process), WHITE if process is Process.SUBLIMATION else NAVY
    brown = solid((74, 44, 30, 255), 1600, 1600)
    ringed = brown.copy()
    y, x = np.mgrid[: brown.shape[0], : brown.shape[1]]
    waves = np.sin(np.hypot(x - brown.shape[1] / 2, y - brown.shape[0] / 2) / 12)
    ringed[..., 3] = np.clip(127.5 + waves * 1500, 0, 255)  # rings, their edges smooth
    clear, full, rings = (
        base_of(load_plate("mug-325", "handle-right"), colour, process).picture,
        taken(brown, blank, colour),
        taken(ringed, blank, colour),
    )
    least, most = np.minimum(clear, full).astype(int), np.maximum(clear, full).astype(int)
    assert (np.abs(most - least).max(2) > 8).mean() > 0.05
    assert (rings >= least - 2).all()
    assert (rings <= most + 2).all()


@pytest.mark.parametrize("size", [700, 1020, 1200, 1600])
def test_another_size_has_no_halos_and_is_as_keen_as_can_be(size: int) -> None:
    y, x = np.mgrid[:1500, :1500]
    grey = np.where(np.sin(np.hypot(x - 700, y - 650) / 9) > 0.3, 40, 210).astype(np.uint8)
    made = resized(np.dstack([grey] * 3), (size, size))
    assert made.shape == (size, size, 3)
    assert made.min() == 40
    assert made.max() == 210
    how = cv2.INTER_AREA if size < 1500 else cv2.INTER_LINEAR  # the true average; the soft way
    other = np.asarray(cv2.resize(grey, (size, size), interpolation=how))
    steps = [np.abs(np.diff(one.astype(float), axis=1)).max(1).mean() for one in (made[..., 0], other)]
    assert steps[0] >= steps[1] * (1 if size < 1500 else 1.05)


def test_the_second_colour_shows_inside_and_on_the_handle_only(mug: Blank) -> None:
    one, two = bare(mug, WHITE).astype(int), bare(mug, TWO_TONE).astype(int)
    redder = (two[..., 0] - two[..., 1]) - (one[..., 0] - one[..., 1]) > 60
    assert redder[:400].sum() > 20_000
    assert redder[500:1200, :900].mean() < 0.002  # the outside stays white


@pytest.mark.parametrize("entry", PLATES, ids=lambda e: e.name)
def test_main_pictures_stand_on_pure_white_and_fill_the_frame(entry: PlateEntry) -> None:
    plate = load_plate(entry.name, entry.views[0])
    for colour in (WHITE, NAVY):
        got = measured(base_of(plate, colour).picture)
        assert got.border_white
        assert got.share >= 0.80


def test_black_is_black_and_white_is_not_burnt() -> None:
    plate = load_plate("mug-445", "handle-right")
    black = base_of(plate, BlankColour("b", "Black", NAVY.srgb._replace(red=29, green=29, blue=31))).picture
    white = base_of(plate, WHITE).picture
    printable = np.zeros((1500, 1500), bool)
    box = plate.box
    printable[box.top : box.bottom, box.left : box.right] = plate.planes["printable"] == 255
    assert np.percentile(black[printable], 50) < 62
    assert 218 < np.percentile(white[printable], 50) < 246
    assert np.percentile(white[printable], 99.5) < 254


def test_what_is_usual_of_main_pictures_is_kept_and_what_breaks_it_named(mug: Blank) -> None:
    art = solid((200, 30, 30, 255))
    layout = lay_out(Box(0, 0, 400, 400), mug, mug.areas[0], Wish(where=ArtSpot.BOTH))
    assert list(roles_of(plate_for(mug, mug.areas[0]))) == list(Role)
    made = Pictures(art).picture(shot(mug, WHITE), layout.placements)
    for rules in (RULES, replace(RULES, width_px=120, height_px=120)):
        file = io.BytesIO(as_jpeg(fitted(made, rules)))
        assert broken_rules(measured(np.asarray(Image.open(file))), "MUG") == ()
    grey, white = np.full((100, 100, 3), 240, np.uint8), np.full((100, 100, 3), 255, np.uint8)
    assert [f.code for f in broken_rules(measured(grey), "MUG")] == ["backdrop"]
    assert [f.code for f in broken_rules(measured(white), "MUG")] == ["share"]
    touching = white.copy()
    touching[:, 10:] = 90
    assert [f.code for f in broken_rules(measured(touching), "MUG")] == ["backdrop"]
    small = white.copy()
    small[30:70, 40:60] = 90
    (found,) = broken_rules(measured(small), "MUG")
    assert (found.code, found.what) == ("share", "the goods fill 40% of it, below 80%")
    large = fitted(made, replace(RULES, width_px=1600, height_px=1800))
    (found,) = broken_rules(measured(large), "MUG")
    assert (found.code, found.what) == ("enlarged", "it is enlarged from 1,500 to 1,600 px, 7% more")


@pytest.mark.parametrize("process", [Process.SUBLIMATION, Process.UV, Process.ENGRAVING])
@pytest.mark.parametrize(("name", "view"), [(entry.name, view) for entry in PLATES for view in entry.views])
def test_every_view_takes_ink_of_every_process(name: str, view: str, process: Process) -> None:
    plate = load_plate(name, view)
    area = PrintArea("side", 1500, 1500, 300)
    fetch = fetch_for(plate, area, a_mug().body)
    placed = Placement(area, Box(0, 0, 400, 400), 0, 0, 1500, 1500, 300.0)
    base = base_of(plate, NAVY if process is Process.UV else WHITE, process)
    seen = seen_art(Ink(solid((150, 60, 60, 255))), (placed,), fetch)
    made = mock_up(base, seen)
    changed = (made != base.picture).any(2)
    inked = np.zeros_like(changed)
    box = seen.box
    inked[box.top : box.bottom, box.left : box.right] = seen.ink[..., 3] > 0
    assert changed.sum() > 10_000
    assert not changed[~inked].any()  # the rest is the bare blank, bit by bit


def test_files_are_repeatable_tagged_and_small_enough(mug: Blank) -> None:
    art = solid((30, 90, 30, 255))
    layout = lay_out(Box(0, 0, 400, 400), mug, mug.areas[0], FACE)
    first = picture(art, shot(mug, WHITE), layout.placements, RULES)
    assert first == picture(art, shot(mug, WHITE), layout.placements, RULES)
    assert len(first) <= RULES.max_bytes
    assert b"ICC_PROFILE" in first[:4000]
    pixels = np.full((40, 40, 3), 128, np.uint8)
    assert b"iCCP" in as_png(pixels)[:64]


def test_a_damaged_plate_says_so() -> None:
    with pytest.raises(ShopError, match="cannot be read"):
        read_plate(b"not a plate")
    with pytest.raises(ShopError, match="no picture plate"):
        load_plate("teapot", "front")


def test_a_form_without_plates_is_told(mug: Blank) -> None:
    assert plate_for(replace(mug, body=replace(mug.body, height_mm=120)), mug.areas[0]).name == "mug-445"
    assert plate_for(replace(mug, form=Form.CUSHION), mug.areas[0]).name == "cushion"


def test_fit_on_a_shirt_lands_on_the_chest(shirt: Blank) -> None:
    art = solid((10, 10, 10, 255))
    placed = fit(Box(0, 0, 400, 400), shirt.areas[0])
    made = Pictures(art).picture(shot(shirt, WHITE), (placed,))
    dark = np.asarray((made < 70).all(2))
    rows, columns = np.flatnonzero(dark.any(1)), np.flatnonzero(dark.any(0))
    assert 380 < rows[0] < rows[-1] < 1150
    assert abs((columns[0] + columns[-1]) / 2 - 750) < 30
