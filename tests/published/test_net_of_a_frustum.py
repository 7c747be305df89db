"""The unrolled frustum against a published example and against lengths on the cone itself."""

import numpy as np
import pytest

from hundredfold.kernel.errors import ShopError
from hundredfold.placement.frustum import Frustum


def opening_degrees(side: Frustum) -> float:
    """The flat sector's opening: between the images of a line up the side before and after a whole turn."""
    ends = [side.to_flat(turn, np.array([-1.0, 1.0])) for turn in (-np.pi, np.pi)]
    ways = [np.arctan2(up[1] - up[0], right[1] - right[0]) for right, up in ends]
    return float(np.degrees(ways[0] - ways[1])) % 360


def test_published_example() -> None:
    # "The Net of a Frustum", ceemrr.com, Geometry 2: diameters 5 and 8 in, 4 in apart.
    side = Frustum(top_mm=4.0, bottom_mm=2.5, height_mm=4.0)  # units cancel: inches here
    inner, outer = side.sector_radii_mm
    assert inner == pytest.approx(7.12, abs=0.005)
    assert outer == pytest.approx(11.39, abs=0.005)
    assert opening_degrees(side) == pytest.approx(126.4, abs=0.05)


def test_right_angled_cone() -> None:
    # anvilfire.com, "Cones": a 90 degree cone unrolls to sin 45 x 360 = 254.6 degrees.
    side = Frustum(top_mm=100.0, bottom_mm=1e-9, height_mm=100.0)
    assert opening_degrees(side) == pytest.approx(254.6, abs=0.05)


@pytest.mark.parametrize(
    ("top", "bottom", "height"),
    [(45, 32.5, 150), (30, 24, 58), (32.5, 45, 150), (41, 41, 95), (41.00005, 41, 95), (41 + 1e-9, 41, 95)],
)
def test_lengths_on_the_flat_sector_are_lengths_on_the_cone(top: float, bottom: float, height: float) -> None:
    """10,000 short steps and their images agree; a short step's chord on the cone is its length."""
    side = Frustum(top, bottom, height)
    rng = np.random.default_rng(20)
    angle = rng.uniform(-np.pi, np.pi, 10_000)
    up = rng.uniform(-side.slant_mm / 2, side.slant_mm / 2, 10_000)
    heading = rng.uniform(0, 2 * np.pi, 10_000)
    x, y = side.to_flat(angle, up)
    # A straight flat line of 20 mm, cut in 200 pieces, measured piece by piece in space.
    steps = np.linspace(0, 20, 201)
    line_x = x[:, None] + np.cos(heading)[:, None] * steps
    line_y = y[:, None] + np.sin(heading)[:, None] * steps
    turn, rise = side.from_flat(line_x, line_y)
    on_body = np.stack(side.to_body(turn, rise))
    length = np.sqrt((np.diff(on_body, axis=2) ** 2).sum(0)).sum(1)
    assert np.abs(length - 20.0).max() < 0.01
    back_x, back_y = side.to_flat(turn, rise)
    assert max(np.abs(back_x - line_x).max(), np.abs(back_y - line_y).max()) < 1e-9


def test_area_is_kept_and_the_cylinder_is_the_smooth_limit() -> None:
    side = Frustum(45, 32.5, 150)
    inner, outer = side.sector_radii_mm
    area = np.pi * (45 + 32.5) * side.slant_mm  # pi (r1 + r2) s
    assert np.radians(opening_degrees(side)) / 2 * (outer**2 - inner**2) == pytest.approx(area)
    exact = Frustum(41.0, 41.0, 95.0)
    assert exact.to_flat(1.0, 10.0)[0] == pytest.approx(41.0)
    assert exact.to_flat(1.0, 10.0)[1] == pytest.approx(10.0)
    for taper in (1e-3, 1e-6, 1e-9, 1e-12):
        x, y = Frustum(41.0 + taper, 41.0, 95.0).to_flat(2.0, 20.0)
        assert abs(float(x) - 82.0) < 2 * taper + 1e-12
        assert abs(float(y) - 20.0) < 2 * taper + 1e-12


def test_a_side_of_no_size_is_refused() -> None:
    with pytest.raises(ShopError, match="does not exist"):
        Frustum(0, 10, 10)
