"""Coverage worked out by hand, and how things lie over each other."""

import math

import numpy as np
import pytest
from numpy.typing import NDArray
from sheets import as_pixels

from hundredfold.designs.flatart.pathdata import ellipse, polygon, rectangle
from hundredfold.designs.flatart.pen import Pen
from hundredfold.designs.flatart.spans import Group, Shape, spans_of
from hundredfold.designs.typesetting.outline import Outline, joined

RED, BLUE = (1.0, 0.0, 0.0, 1.0), (0.0, 0.0, 1.0, 1.0)


def alpha(*things: Shape | Group, width: int = 8, height: int = 6) -> NDArray[np.uint8]:
    return as_pixels(spans_of(Group(things), width, height))[..., 3]


def test_a_rectangle_covers_its_share_of_every_pixel() -> None:
    found = alpha(Shape(rectangle(1.25, 2.5, 4, 2), RED))
    across = np.array([0, 0.75, 1, 1, 1, 0.25, 0, 0])
    down = np.array([0, 0, 0.5, 1, 0.5, 0])
    assert np.array_equal(found, np.rint(255 * down[:, None] * across).astype(np.uint8))


def test_a_slope_covers_triangles() -> None:
    found = alpha(Shape(polygon([0, 0, 4, 0, 0, 4], closed=True), RED))
    assert [found[k, 3 - k] for k in range(4)] == [128] * 4  # half a pixel each, rounded to even
    assert found[0, 0] == 255
    assert found[1, 3] == 0


@pytest.mark.parametrize("radius", [3.0, 40.0, 700.3])
def test_a_disc_has_its_area(radius: float) -> None:
    size = int(2 * radius + 6)
    found = alpha(
        Shape(ellipse(size / 2 + 0.3, size / 2 - 0.2, radius, radius), RED), width=size, height=size
    )
    # Its edge may lie 0.02 pixels inside the true one; four cubics make a circle 0.03 % too large.
    slack = 2 * math.pi * radius * 0.02 + 3e-4 * math.pi * radius**2
    assert found.sum() / 255 == pytest.approx(math.pi * radius**2, abs=slack)


def test_what_lies_off_the_sheet_is_cut_and_its_neighbour_rows_stay_clean() -> None:
    found = alpha(Shape(rectangle(-50, 1, 52, 2), RED), Shape(rectangle(6.5, -9, 80, 11), BLUE))
    assert np.array_equal(found[1], [255, 255, 0, 0, 0, 0, 128, 255])
    assert np.array_equal(found[0], [0, 0, 0, 0, 0, 0, 128, 255])
    assert np.array_equal(found[2], [255, 255, 0, 0, 0, 0, 0, 0])
    assert not found[3:].any()


def test_slopes_beside_the_sheet_leave_no_trace_in_the_next_row() -> None:
    found = alpha(Shape(polygon([4, 1, 13.3, 1, 20.7, 4, 4, 4], closed=True), RED))
    assert np.array_equal(found[1:4], np.tile(np.array([0, 0, 0, 0, 255, 255, 255, 255]), (3, 1)))
    assert not found[4:].any()
    left = alpha(Shape(polygon([4, 1, -13.3, 1, -20.7, 4, 4, 4], closed=True), RED))
    assert np.array_equal(left[1:4], np.tile(np.array([255, 255, 255, 255, 0, 0, 0, 0]), (3, 1)))


def test_a_flat_slope_over_the_side_is_cut_where_it_is() -> None:
    """The same shape on a wider sheet, cut afterwards."""
    points = np.array([-60.0, 2.2, 70.5, 3.1, 64.0, 5.4, -48.0, 4.7])
    cut = alpha(Shape(polygon(points.tolist(), closed=True), RED))
    moved = points + np.tile([100.0, 0.0], 4)
    wide = alpha(Shape(polygon(moved.tolist(), closed=True), RED), width=300)[:, 100:108]
    assert np.abs(cut.astype(int) - wide.astype(int)).max() <= 1


def test_windings_and_even_odd() -> None:
    inner = rectangle(2, 1, 3, 3)
    shape = joined([rectangle(0, 0, 7, 5), inner])
    assert alpha(Shape(shape, RED))[2, 3] == 255
    assert alpha(Shape(shape, RED, even_odd=True))[2, 3] == 0
    turned = Outline(inner.verbs, inner.points[::-1].copy())
    assert alpha(Shape(joined([rectangle(0, 0, 7, 5), turned]), RED))[2, 3] == 0


def test_the_later_lies_on_top_and_mixes_where_it_is_thin() -> None:
    sheet = spans_of(Group((Shape(rectangle(0, 0, 8, 6), RED), Shape(rectangle(2.5, 1, 3, 2), BLUE))), 8, 6)
    pixels = as_pixels(sheet)
    assert tuple(pixels[1, 3]) == (0, 0, 255, 255)
    assert tuple(pixels[1, 2]) == (128, 0, 128, 255)
    assert tuple(pixels[0, 3]) == (255, 0, 0, 255)


def test_a_group_fades_as_one_and_a_mask_lets_through() -> None:
    two = (Shape(rectangle(0, 0, 4, 6), RED), Shape(rectangle(2, 0, 4, 6), BLUE))
    pixels = as_pixels(spans_of(Group((Group(two, 0.5),)), 8, 6))
    assert tuple(pixels[0, 3]) == (0, 0, 255, 128)
    mask = Group((Shape(rectangle(0, 0, 8, 3), (1, 1, 1, 1)),), luminance=True)
    masked = as_pixels(spans_of(Group((Group(two, 1.0, mask),)), 8, 6))[..., 3]
    assert masked[:3, :6].all()
    assert not masked[3:].any()
    dark = Group((Shape(rectangle(0, 0, 8, 6), (0, 0, 0, 1)),), luminance=True)
    assert not as_pixels(spans_of(Group((Group(two, 1.0, dark),)), 8, 6)).any()


@pytest.mark.parametrize(("cap", "longer"), [("butt", 0.0), ("square", 4.0 * 4.0), ("round", math.pi * 4.0)])
def test_a_line_has_the_area_its_caps_give_it(cap: str, longer: float) -> None:
    line = Shape(polygon([10.3, 10.1, 60.3, 10.1], closed=False), RED, pen=Pen(4.0, cap=cap))
    found = alpha(line, width=80, height=20).sum() / 255
    assert found == pytest.approx(50 * 4 + longer, rel=2e-3)


@pytest.mark.parametrize(
    ("join", "corner"),
    # The corner beyond a right-angled turn of a line 6 wide: a square, a quarter disc, half a square.
    [("miter", 9.0), ("round", math.pi * 9 / 4), ("bevel", 4.5)],
)
def test_a_closed_line_has_the_area_its_joins_give_it(join: str, corner: float) -> None:
    line = Shape(rectangle(20, 20, 50, 30), RED, pen=Pen(6.0, join=join))
    found = alpha(line, width=100, height=80).sum() / 255
    assert found == pytest.approx(160 * 6 - 4 * 9 + 4 * corner, rel=2e-3)


def test_a_line_wider_than_its_circle_has_no_hole() -> None:
    found = alpha(Shape(ellipse(30, 30, 6, 6), RED, pen=Pen(30.0, "round")), width=60, height=60)
    assert found.sum() / 255 == pytest.approx(math.pi * 21**2, rel=3e-3)
    assert found[30, 30] == 255


def test_the_same_every_time() -> None:
    group = Group(tuple(Shape(ellipse(30 + k, 30, 9, 5), RED, pen=Pen(3.0 + k, "round")) for k in range(9)))
    first = spans_of(group, 60, 60)
    for _ in range(3):
        again = spans_of(group, 60, 60)
        assert np.array_equal(first.starts, again.starts)
        assert np.array_equal(first.pixels, again.pixels)
