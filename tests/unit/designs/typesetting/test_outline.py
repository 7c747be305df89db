import math

import numpy as np
import pytest

from hundredfold.designs.typesetting.curves import arc, from_path_data
from hundredfold.designs.typesetting.outline import Outline, as_cubics, from_cubics
from hundredfold.kernel.errors import ShopError


def outline(verbs: str, *points: tuple[float, float]) -> Outline:
    return Outline(verbs.encode(), np.array(points, dtype=np.float64).reshape(-1, 2))


def test_bounds_follow_the_curve_and_not_its_handles() -> None:
    quad = outline("MQZ", (0, 0), (50, 100), (100, 0))
    assert quad.bounds() == (0, 0, 100, 50)  # a quadratic reaches half its handle's height
    cubic = outline("MCZ", (0, 0), (0, 100), (100, 100), (100, 0))
    assert cubic.bounds() == pytest.approx((0, 0, 100, 75))  # a cubic with level handles: three quarters


def test_a_move_that_draws_nothing_has_no_ink() -> None:
    assert outline("MLLZM", (0, 0), (9, 0), (9, 9), (500, 500)).bounds() == (0, 0, 9, 9)


def test_affine_has_the_order_of_the_svg_matrix() -> None:
    moved = outline("ML", (1, 0), (0, 1)).affine(2, 3, 4, 5, 10, 20)
    assert moved.points.tolist() == [[12, 23], [14, 25]]


def test_path_data_is_short() -> None:
    assert outline("MLZ", (0, -0.001), (10.5, 3.25)).path_data() == "M0 0L10.5 3.25Z"


@pytest.mark.parametrize("decimals", [0, 1, 2, 3])
def test_path_data_reads_back_as_the_rounded_points(decimals: int) -> None:
    rng = np.random.default_rng(decimals)
    for size in (1000.0, 1.0, 10.0**-decimals):
        points = np.round(rng.normal(0, size, (7, 2)), rng.integers(0, 4))
        text = Outline(b"MLQCZ", points).path_data(decimals)
        numbers = text.replace("Z", "")[1:].replace("L", " ").replace("Q", " ").replace("C", " ").split()
        assert [float(n) for n in numbers] == [float(f"{value:.{decimals}f}") for value in points.ravel()]
        assert not any(n == "-0" or ("." in n and n.endswith(("0", "."))) for n in numbers)


def test_as_cubics_keeps_the_shape() -> None:
    shape = outline("MLQCZ", (0, 0), (10, 0), (20, 5), (10, 10), (8, 12), (2, 12), (0, 10))
    back = from_cubics(*as_cubics(shape, most=0.5))
    assert back.bounds() == pytest.approx(shape.bounds(), abs=0.01)
    assert back.verbs.count(b"M") == 1


def test_a_circle_is_as_long_as_geometry_says() -> None:
    circle = arc(5, 7, 100, 0, 360)
    assert circle.length == pytest.approx(2 * math.pi * 100, rel=1e-7)
    points, tangents, bends = circle.at(np.linspace(0, circle.length, 50))
    assert np.hypot(points[:, 0] - 5, points[:, 1] - 7) == pytest.approx(100, rel=1e-7)
    assert np.hypot(*tangents.T) == pytest.approx(1)
    assert bends == pytest.approx(0.01, rel=1e-4)  # clockwise as seen: positive


def test_a_path_goes_straight_on_past_its_ends() -> None:
    line = from_path_data("M0 0 L10 0")
    points, tangents, _ = line.at(np.array([-5.0, 15.0]))
    assert points.tolist() == [[-5, 0], [15, 0]]
    assert tangents.tolist() == [[1, 0], [1, 0]]


@pytest.mark.parametrize("data", ["", "M5 5", "M5 5 L5 5", "nonsense"])
def test_a_path_without_length_is_refused(data: str) -> None:
    with pytest.raises(ShopError) as caught:
        from_path_data(data)
    assert caught.value.slug == "bad-path"
