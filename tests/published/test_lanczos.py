"""The three-lobed Lanczos kernel L(x) = sinc(x) sinc(x / 3), |x| < 3.

C. E. Duchon, Lanczos Filtering in One and Two Dimensions, Journal of Applied Meteorology 18, 1979; with the
support widened by the shrink factor, sample centres at + 0.5 and weights normalised, as is usual for image
resizing. The values below follow from that closed form.
"""

import numpy as np
import pytest

from hundredfold.placement.printfile import resized

KERNEL = {0.0: 1.0, 0.5: 0.607927, 1.0: 0.0, 1.5: -0.135095, 2.0: 0.0, 2.5: 0.024317}
# 16 samples to 8, an impulse at sample 8.
IMPULSE = [0.0, 0.003634, -0.034125, 0.135505, 0.446385, -0.066884, 0.014830, 0.0]


def lanczos(x: float) -> float:
    return float(np.sinc(x) * np.sinc(x / 3)) if abs(x) < 3 else 0.0


@pytest.mark.parametrize(("x", "value"), KERNEL.items())
def test_kernel_values(x: float, value: float) -> None:
    assert lanczos(x) == pytest.approx(value, abs=1e-6)


def test_the_impulse_values_follow_from_the_kernel() -> None:
    for place, value in enumerate(IMPULSE):
        centre = (place + 0.5) * 2
        weights = [lanczos((sample + 0.5 - centre) / 2) for sample in range(16)]
        assert weights[8] / sum(weights) == pytest.approx(value, abs=1e-6)


def columns(ground: int, impulse: int) -> np.ndarray[tuple[int, ...], np.dtype[np.uint8]]:
    pixels = np.full((16, 16, 4), 255, np.uint8)
    pixels[:, :, :3] = ground
    pixels[:, 8, :3] = impulse
    return resized(pixels, 8, 8)


def test_shrinking_an_impulse() -> None:
    """A bright line on mid grey, so that the negative lobes are not cut off; 100 levels high, one level of
    rounding in each of two passes."""
    found = (columns(100, 200)[4, :, 0].astype(float) - 100) / 100
    assert found == pytest.approx(IMPULSE, abs=0.02)


def test_a_flat_colour_stays_exactly_itself() -> None:
    for level in (0, 1, 127, 254, 255):
        assert (columns(level, level)[:, :, :3] == level).all()
