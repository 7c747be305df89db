"""Ink on a substrate, against Porter-Duff's published arithmetic and the physics the models state."""

import numpy as np
import pytest

from hundredfold.kernel.colour import from_linear, to_linear
from hundredfold.kernel.ink import one_tone, opaque_ink, transparent_ink

RED, BLUE, WHITE, BLACK = np.eye(3)[0], np.eye(3)[2], np.ones(3), np.zeros(3)


def test_half_red_over_white_is_porter_duffs_over() -> None:
    # Porter and Duff, Compositing Digital Images, SIGGRAPH 1984: A over B = A + (1 - alpha_A) B.
    np.testing.assert_allclose(opaque_ink(WHITE, RED, 0.5), (1.0, 0.5, 0.5))


def test_black_at_half_coverage_is_188_not_128() -> None:
    # Half the light of white is 187.516 of 255 in sRGB encoding (IEC 61966-2-1).
    assert from_linear(opaque_ink(WHITE, BLACK, 0.5))[0] * 255 == pytest.approx(187.516, abs=0.01)


def test_white_is_no_ink_where_ink_is_transparent() -> None:
    substrate = to_linear(np.array((0.7, 0.2, 0.5)))
    np.testing.assert_array_equal(transparent_ink(substrate, WHITE, 1.0), substrate)
    np.testing.assert_allclose(transparent_ink(substrate, RED, 1.0), (substrate[0], 0, 0))


def test_transparent_ink_never_lightens_and_no_ink_changes_nothing() -> None:
    rng = np.random.default_rng(3)
    substrate, ink, alpha = rng.random((500, 3)), rng.random((500, 3)), rng.random(500)
    assert (transparent_ink(substrate, ink, alpha) <= substrate).all()
    for model in (transparent_ink, opaque_ink, one_tone):
        np.testing.assert_array_equal(model(substrate, ink, np.zeros(500)), substrate)


def test_on_white_the_transparent_and_the_opaque_model_agree() -> None:
    rng = np.random.default_rng(4)
    ink, alpha = rng.random((500, 3)), rng.random(500)
    np.testing.assert_allclose(transparent_ink(WHITE, ink, alpha), opaque_ink(WHITE, ink, alpha))
