"""What ink looks like on a substrate: the colour arithmetic of each kind of mark, in linear light.

Arrays are linear-light RGB 0-1 in the last axis; ``alpha`` has one axis fewer and lies in 0-1. Substrate
and ink broadcast against each other. Values come back, nothing is changed in place.
"""

import numpy as np
from numpy.typing import ArrayLike

from hundredfold.kernel.colour import Floats


def _parts(substrate: ArrayLike, ink: ArrayLike, alpha: ArrayLike) -> tuple[Floats, Floats, Floats]:
    return (
        np.asarray(substrate, dtype=np.float64),
        np.asarray(ink, dtype=np.float64),
        np.asarray(alpha, dtype=np.float64)[..., np.newaxis],
    )


def transparent_ink(substrate: ArrayLike, ink: ArrayLike, alpha: ArrayLike) -> Floats:
    """Ink that only filters what lies under it: ``substrate * (1 - a + a * ink)``.

    Dye sublimation, and direct-to-garment or UV without an underbase. White ink is then no ink at all,
    and nothing gets lighter than the substrate.
    """
    under, tint, cover = _parts(substrate, ink, alpha)
    return np.asarray(under * (1.0 - cover + cover * tint))


def opaque_ink(substrate: ArrayLike, ink: ArrayLike, alpha: ArrayLike) -> Floats:
    """Ink that hides what lies under it (Porter-Duff *over* an opaque ground), alpha being coverage."""
    under, tint, cover = _parts(substrate, ink, alpha)
    return np.asarray(under * (1.0 - cover) + tint * cover)


def one_tone(substrate: ArrayLike, tone: ArrayLike, alpha: ArrayLike) -> Floats:
    """A laser mark: wherever the art has ink the one tone of the mark shows, whatever the ink's colour."""
    return opaque_ink(substrate, tone, alpha)
