"""Colour-vision deficiencies against an independent library's copy of the published matrices."""

import colour
import numpy as np
import pytest
from coloraide import Color

from hundredfold.kernel.colour import from_linear, to_linear
from hundredfold.kernel.vision import MACHADO_2009, Vision, seen_with

NAMES = {Vision.PROTAN: "Protanomaly", Vision.DEUTAN: "Deuteranomaly", Vision.TRITAN: "Tritanomaly"}


@pytest.mark.parametrize("vision", Vision)
def test_matrix_equals_colour_science(vision: Vision) -> None:
    # Machado, Oliveira, Fernandes, IEEE TVCG 15(6), 1291-1298, 2009, severity 1.0.
    theirs = colour.blindness.matrix_cvd_Machado2009(NAMES[vision], 1.0)
    np.testing.assert_allclose(MACHADO_2009[vision], theirs, atol=1e-6)


@pytest.mark.parametrize("vision", Vision)
def test_greys_stay(vision: Vision) -> None:
    greys = np.linspace(0, 1, 11)[:, np.newaxis].repeat(3, axis=1)
    np.testing.assert_allclose(seen_with(vision, greys), greys, atol=2e-6)


@pytest.mark.parametrize("vision", Vision)
def test_colours_equal_coloraide(vision: Vision) -> None:
    for code in ("#b01e2e", "#2a7f3f", "#1b2a4e", "#f2c230"):
        theirs = (
            Color(code).filter(vision.value, method="machado", space="srgb-linear").convert("srgb").clip()
        )
        encoded = np.array([int(code[i : i + 2], 16) / 255 for i in (1, 3, 5)])
        np.testing.assert_allclose(
            from_linear(seen_with(vision, to_linear(encoded))), theirs.coords(), atol=2e-3
        )
