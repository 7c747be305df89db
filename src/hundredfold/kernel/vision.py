"""How colours look to people with a colour-vision deficiency."""

from enum import StrEnum

import numpy as np
from numpy.typing import ArrayLike

from hundredfold.kernel.colour import Floats


class Vision(StrEnum):
    """A full deficiency of one kind of cone."""

    PROTAN = "protan"  # long-wave cones; red is dark
    DEUTAN = "deutan"  # middle-wave cones; the commonest, about one man in twelve has some of it
    TRITAN = "tritan"  # short-wave cones; rare


# Machado, Oliveira, Fernandes: A physiologically-based model for simulation of color vision deficiency, IEEE
# TVCG 15(6), 1291-1298, 2009: matrices for severity 1.0, for linear-light RGB. Rows sum to 1.
MACHADO_2009: dict[Vision, Floats] = {
    Vision.PROTAN: np.array(
        [
            [0.152286, 1.052583, -0.204868],
            [0.114503, 0.786281, 0.099216],
            [-0.003882, -0.048116, 1.051998],
        ]
    ),
    Vision.DEUTAN: np.array(
        [
            [0.367322, 0.860646, -0.227968],
            [0.280085, 0.672501, 0.047413],
            [-0.011820, 0.042940, 0.968881],
        ]
    ),
    Vision.TRITAN: np.array(
        [
            [1.255528, -0.076749, -0.178779],
            [-0.078411, 0.930809, 0.147602],
            [0.004733, 0.691367, 0.303900],
        ]
    ),
}


def seen_with(vision: Vision, linear: ArrayLike) -> Floats:
    """Linear-light RGB as this vision takes it in; values outside 0-1 are clipped."""
    return np.clip(np.asarray(linear, dtype=np.float64) @ MACHADO_2009[vision].T, 0.0, 1.0)
