"""The size picture: lines at one scale with what they measure, true figures, every size of a listing."""

from dataclasses import replace

import cv2
import numpy as np
import pytest
from numpy.typing import NDArray
from pictureblanks import WHITE, a_mug, a_shirt

from hundredfold.catalogue.blanks import Blank, BlankVariant, Body, Cone, PrintArea, SizeMeasures
from hundredfold.catalogue.channels import LengthUnit
from hundredfold.catalogue.forms import Form
from hundredfold.kernel.money import Money
from hundredfold.mockups.compose import base_of
from hundredfold.mockups.measures import SizeColumn, measures_of, written
from hundredfold.mockups.plate import Plate
from hundredfold.mockups.registry import PLATES, PlateEntry
from hundredfold.mockups.sizing import Sizing, size_picture, sizing_of
from hundredfold.mockups.spans import spans_of
from hundredfold.mockups.strokes import LIGHT, measuring_arrow
from hundredfold.mockups.surface import ClothSheet
from hundredfold.workshop.shop.typefaces import find_font
from hundredfold.workshop.steps.plates import load_plate

Bytes = NDArray[np.uint8]
MM, CM, INCH = LengthUnit
SIZES = (SizeMeasures("S", width_mm=480, height_mm=700), SizeMeasures("M", width_mm=530, height_mm=720))


def in_sizes(blank: Blank, *sizes: str) -> Blank:
    cost = Money.parse("5.00", "GBP")
    return replace(blank, variants=tuple(BlankVariant("white", size, size, cost) for size in sizes))


def plate_named(name: str) -> Plate:
    return load_plate(name, next(entry.views[0] for entry in PLATES if entry.name == name))


def sized(blank: Blank, name: str, unit: LengthUnit = MM) -> Sizing:
    return sizing_of(plate_named(name), blank, blank.areas[0], (find_font("Oswald"),), unit)


def drawn(blank: Blank, name: str, unit: LengthUnit = MM) -> Bytes:
    return size_picture(base_of(plate_named(name), WHITE).picture, sized(blank, name, unit))


def one_of(entry: PlateEntry) -> Blank:
    """A blank as large as the body that plates were made of."""
    wide, high = float(entry.wide_mm), WHOLE.get(entry.name, float(entry.high_mm))
    vessel = entry.form in {form for _, form, *_ in VESSELS}
    body = Body(diameter_mm=wide if vessel else None, width_mm=None if vessel else wide, height_mm=high)
    return replace(a_mug(), form=entry.form, body=body)


def light_lines(drawing: Bytes) -> list[NDArray[np.intp]]:
    """The pixels (row, column) of every light line."""
    mask = np.asarray((drawing == LIGHT).all(2), np.uint8)
    count, found = cv2.connectedComponents(mask)
    return [np.argwhere(found == n) for n in range(1, count) if (found == n).sum() > 20]


def broken_line(dark: NDArray[np.bool_]) -> int:
    """How long two equal dark stretches of a row are with the gap between them; 0 where there are no such."""
    steps = np.flatnonzero(np.diff(np.concatenate([[0], dark.astype(np.int8), [0]])))
    long = [(int(a), int(b)) for a, b in zip(steps[::2], steps[1::2], strict=True) if b - a > 60]
    if len(long) != 2 or abs((long[0][1] - long[0][0]) - (long[1][1] - long[1][0])) > 4:
        return 0
    return long[1][1] - long[0][0]


def shortened(plate: Plate) -> float:
    """Seen from above, heights shrink by the cosine of the camera's elevation."""
    way = np.array(plate.camera.target) - np.array(plate.camera.eye)
    return float(np.cos(np.arcsin(-way[2] / np.linalg.norm(way))))


VESSELS = [  # plate, form, diameter at the rim and whole height it was made of
    ("mug-325", Form.MUG, 82.0, 95.0), ("mug-445", Form.MUG, 87.0, 118.0),
    ("enamel-mug", Form.ENAMEL_MUG, 86.0, 80.0), ("travel-mug", Form.TRAVEL_MUG, 80.0, 170.0),
    ("tumbler-600", Form.TUMBLER, 88.0, 178.0), ("tumbler-880", Form.TUMBLER, 98.0, 206.0),
    ("shot-glass", Form.SHOT_GLASS, 60.0, 58.0),
]  # fmt: skip


@pytest.mark.parametrize(("name", "form", "wide", "high"), VESSELS, ids=lambda v: v if "-" in str(v) else "")
def test_measuring_lines_span_their_millimetres(name: str, form: Form, wide: float, high: float) -> None:
    """Both lines are at one scale."""
    plate = load_plate(name, next(e.views[0] for e in PLATES if e.name == name))
    spans = spans_of(plate, form)
    across = (spans.right - spans.left) / wide
    upright = (spans.bottom - spans.top) / high / shortened(plate)
    assert upright == pytest.approx(across, rel=0.03)


def test_measuring_lines_leave_out_loops_and_handles() -> None:
    """A towel is 500 x 700 mm and a bag 380 x 420 mm without what hangs on them."""
    for name, form, wide, high in (
        ("tea-towel", Form.TEA_TOWEL, 500, 700), ("tote-bag", Form.TOTE_BAG, 380, 420)
    ):  # fmt: skip
        plate = load_plate(name, "front")
        spans = spans_of(plate, form)
        shape = (spans.bottom - spans.top) / (spans.right - spans.left)
        assert shape == pytest.approx(high / wide, rel=0.04)
        lowest = np.flatnonzero((plate.planes["cover"] > 127).any(1))[-1]
        assert spans.bottom == plate.box.top + lowest + 1  # corners that hang down are not left out


WHOLE = {name: high for name, _, _, high in VESSELS}


@pytest.mark.parametrize("name", ["cushion", "tea-towel", "tote-bag"])
def test_art_on_cloth_is_as_large_as_the_lines_beside_it_say(name: str) -> None:
    """Millimetres a pixel at the print area's middle, by the cloth's own map and by the lines."""
    (entry,) = (e for e in PLATES if e.name == name)
    plate = load_plate(name, entry.views[0])
    assert isinstance(plate.surface, ClothSheet)
    spans = spans_of(plate, entry.form)
    centres = np.arange(plate.size_px, dtype=np.float64) + np.float64(0.5)
    right, up = plate.surface.seen(centres, centres)
    middle = np.hypot(right - plate.surface.anchor_x_mm, up - plate.surface.anchor_y_mm) < 60
    across = np.gradient(right, axis=1)[middle].mean()
    down = -np.gradient(up, axis=0)[middle].mean()
    assert across == pytest.approx(entry.wide_mm / (spans.right - spans.left), rel=0.05)
    assert down == pytest.approx(entry.high_mm / (spans.bottom - spans.top), rel=0.05)


@pytest.mark.parametrize("entry", PLATES, ids=lambda e: e.name)
def test_lines_as_drawn_are_at_one_scale_and_the_border_stays_white(entry: PlateEntry) -> None:
    """Found in the pixels: the longest dark line each way outside the goods, its gap for figures included."""
    blank, picture = one_of(entry), drawn(one_of(entry), entry.name)
    assert min(side.min() for side in (picture[:20], picture[:, :20], picture[-1], picture[:, -1])) == 255
    dark = np.asarray((picture < 100).all(2))
    wide, high = blank.body.diameter_mm or blank.body.width_mm or 0.0, blank.body.height_mm or 0.0
    across = max(broken_line(line) for line in dark) / wide
    upright = max(broken_line(line) for line in dark.T) / high
    seen = shortened(plate_named(entry.name)) if blank.body.diameter_mm else 1.0
    assert upright / seen == pytest.approx(across, rel=0.04)


@pytest.mark.parametrize("entry", PLATES, ids=lambda e: e.name)
def test_light_lines_of_height_and_width_keep_apart(entry: PlateEntry) -> None:
    lines = light_lines(sized(one_of(entry), entry.name).drawing)
    lying = [line for line in lines if np.ptp(line[:, 1]) > np.ptp(line[:, 0])]
    upright = [line for line in lines if np.ptp(line[:, 1]) < np.ptp(line[:, 0])]
    assert (len(lying), len(upright)) == (2, 2)
    for one in lying:
        for other in upright:
            assert np.hypot(*(one[:, None] - other[None]).transpose(2, 0, 1)).min() > 24


def test_a_light_line_leads_up_to_a_shirts_highest_point() -> None:
    """Not only to the slope of its shoulder beneath."""
    plate, sizing = plate_named("t-shirt"), sized(a_shirt(), "t-shirt")
    uppermost = min(light_lines(sizing.drawing), key=lambda line: line[:, 0].min())
    cover = plate.planes["cover"] > 127
    collar = plate.box.left + np.flatnonzero(cover[cover.any(1)][0])[0]
    at = sizing.off[0] + collar * sizing.kept / plate.size_px
    assert at - 1 - uppermost[:, 1].max() == pytest.approx(12, abs=2)


def test_shadows_run_out_to_white_without_an_edge() -> None:
    """A mug's shadow is cut by the frame's right side in the smaller picture."""
    picture = drawn(replace(a_mug(), body=Body(diameter_mm=82, height_mm=95)), "mug-325").astype(int)
    assert picture[:, -60].min() < 250
    assert np.abs(np.diff(picture[:, -60:], axis=1)).max() <= 2
    assert picture[:, -1].min() == 255


def test_signs_of_a_table_are_arrows() -> None:
    """Pointed at both ends, with a shaft between: none of them reads as a letter."""
    upright, lying = (np.full((80, 80, 3), 255, np.uint8) for _ in range(2))
    measuring_arrow(upright, (40.0, 16.0), (40.0, 64.0), 54)
    measuring_arrow(lying, (16.0, 40.0), (64.0, 40.0), 54)
    wide = (upright[..., 0] < 128).sum(1)
    assert wide[18] <= 4
    assert wide[31] >= 18
    assert wide[40] < 8
    assert np.abs(wide[16:64] - wide[16:64][::-1]).max() <= 2
    assert np.abs(lying.astype(int) - upright.transpose(1, 0, 2)).mean() < 1


def test_figures_are_written_in_the_unit_asked_for() -> None:
    assert [written(82.4, unit) for unit in LengthUnit] == ["82", "8.2", "3.2"]
    assert [written(450, unit) for unit in LengthUnit] == ["450", "45", "17.7"]
    assert written(None, MM) == written(0, MM) == ""
    mug = replace(a_mug(), body=replace(a_mug().body, capacity_ml=325))
    told = [measures_of(mug, mug.areas[0], unit) for unit in LengthUnit]
    assert [(one.wide, one.high, one.note) for one in told] == [
        ("Ø 82 mm", "95 mm", "325 ml"), ("Ø 8.2 cm", "9.5 cm", "325 ml"), ("Ø 3.2 in", "3.7 in", "11 fl oz")
    ]  # fmt: skip
    assert not np.array_equal(drawn(mug, "mug-325"), drawn(mug, "mug-325", INCH))


def test_a_listing_of_several_sizes_tells_them_all() -> None:
    shirt = in_sizes(replace(a_shirt(), sizes=SIZES), "S", "M", "L")
    shirt = replace(shirt, body=Body(width_mm=530, height_mm=720, size="M"))
    told = measures_of(shirt, shirt.areas[0], CM)
    assert (told.wide, told.high, told.shown, told.note) == ("53 cm", "72 cm", "M", "")
    assert told.columns == (SizeColumn("S", "48", "70"), SizeColumn("M", "53", "72"))
    inches = measures_of(shirt, shirt.areas[0], INCH).columns
    assert [(one.wide, one.high) for one in inches] == [("18.9", "27.6"), ("20.9", "28.3")]
    odd = replace(shirt, sizes=(SIZES[0], replace(SIZES[1], width_mm=535, height_mm=None)))
    even = [(one.wide, one.high) for one in measures_of(odd, shirt.areas[0], CM).columns]
    assert even == [("48.0", "70"), ("53.5", "")]  # a row's figures have as many decimals each
    small = replace(shirt.areas[0], for_sizes=("S",))
    assert measures_of(shirt, small).wide == "480 mm"
    sold_out = replace(shirt, variants=tuple(replace(v, in_stock=v.size != "S") for v in shirt.variants))
    assert measures_of(sold_out, shirt.areas[0]).columns == ()  # nothing to compare M with
    assert measures_of(sold_out, shirt.areas[0]).note == "Size M"


def test_the_table_is_drawn_and_a_name_the_font_lacks_leaves_it_out() -> None:
    plain = in_sizes(replace(a_shirt(), body=Body(width_mm=530, height_mm=720, size="M")), "S", "M")
    shirt = replace(plain, sizes=SIZES)
    strange = in_sizes(replace(shirt, sizes=(SIZES[1], replace(SIZES[0], size="小"))), "小", "M")
    tinted = [np.asarray((drawn(one, "t-shirt") == (240, 240, 242)).all(2)) for one in (shirt, strange)]
    rows, columns = (np.flatnonzero(tinted[0].any(axis)) for axis in (1, 0))
    assert 200 < len(rows) < 260
    assert rows[0] > 1100
    assert columns[-1] < 1100
    assert tinted[0].sum() > 0.6 * len(rows) * len(columns)
    assert not tinted[1].any()


@pytest.mark.parametrize("sizes", [2, 12])
def test_the_table_stands_beneath_the_goods_as_far_as_the_frame_has_room(sizes: int) -> None:
    names = [f"{number}" for number in range(50, 50 + sizes)]
    known = tuple(SizeMeasures(name, width_mm=530, height_mm=720) for name in names)
    body = Body(width_mm=530, height_mm=720, size="50")
    shirt = in_sizes(replace(a_shirt(), body=body, sizes=known), *names)
    plate, sizing = plate_named("t-shirt"), sized(shirt, "t-shirt")
    spans = spans_of(plate, Form.T_SHIRT)
    middle = sizing.off[0] + (spans.left + spans.right) / 2 * sizing.kept / plate.size_px
    line = max(light_lines(sizing.drawing), key=lambda pixels: int(pixels[0, 0]))[:, 1]
    if sizes == 2:
        assert (line.min() + line.max() + 1) / 2 == pytest.approx(middle, abs=1.5)
    else:
        assert line.min() >= 75
        assert line.max() == pytest.approx(1425, abs=1.5)


def test_a_size_whose_measures_nobody_told_gets_no_figures() -> None:
    """Sizes S and M, and a body that does not say which it is of: one figure for both would be untrue."""
    shirt = in_sizes(a_shirt(), "S", "M")
    told = measures_of(shirt, shirt.areas[0])
    assert (told.wide, told.high, told.note, told.columns) == ("", "", "", ())
    picture = drawn(shirt, "t-shirt")
    assert picture.shape == (1500, 1500, 3)
    assert measures_of(in_sizes(a_shirt(), "one size"), shirt.areas[0]).wide == "530 mm"


def test_a_tumbler_of_another_size_tells_its_own_measures() -> None:
    small, large = (
        PrintArea(f"wrap-{n}", 3253, 2053, 300, cone=Cone(top, bottom, high), for_sizes=(f"{n} ml",))
        for n, top, bottom, high in ((600, 88, 72, 165), (880, 98, 76, 190))
    )
    body = Body(diameter_mm=88, height_mm=178, rim_clearance_mm=12)
    tumbler = replace(a_mug(), form=Form.TUMBLER, areas=(small, large), body=body)
    tumbler = in_sizes(tumbler, "600 ml", "880 ml")
    told = [measures_of(tumbler, area) for area in (small, large)]
    assert [(one.wide, one.high) for one in told] == [("Ø 88 mm", "178 mm"), ("Ø 98 mm", "")]
    known = replace(tumbler, sizes=(SizeMeasures("880 ml", diameter_mm=98, height_mm=206),))
    assert measures_of(known, large).high == "206 mm"


def test_a_diameter_is_drawn_where_it_is_measured() -> None:
    """88 mm is a tumbler's upper edge of the coat, 60 mm a shot glass's rim, above the printed side."""
    for name, form, diameter in (("tumbler-600", Form.TUMBLER, 88), ("shot-glass", Form.SHOT_GLASS, 60)):
        plate = load_plate(name, "front")
        spans = spans_of(plate, form)
        scale = (spans.bottom - spans.top) / WHOLE[name] / shortened(plate)
        assert spans.right - spans.left == pytest.approx(diameter * scale, rel=0.03)
        if name == "tumbler-600":
            bare = replace(plate, surface=replace(plate.surface, wide_mm=None))
            assert spans.right - spans.left < spans_of(bare, form).right - spans_of(bare, form).left - 2
