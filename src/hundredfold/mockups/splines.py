"""Interpolating cubic splines on a grid, evaluated on another grid."""

from typing import Any

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]


def between(values: NDArray[Any], nodes: tuple[Floats, Floats], at: tuple[Floats, Floats]) -> NDArray[Any]:
    """Bicubic values (rows x columns x bands) at the grid ``at`` of those at the grid ``nodes`` (y, x).

    Beyond the outer nodes the nearest place counts. Worked out in the precision of ``values``.
    """
    bands = [_between(values[..., band], nodes, at) for band in range(values.shape[-1])]
    return np.stack(bands, -1)


def _between(values: NDArray[Any], nodes: tuple[Floats, Floats], at: tuple[Floats, Floats]) -> NDArray[Any]:
    from scipy.interpolate import BSpline, make_interp_spline  # its import is dear, and few processes draw

    columns = make_interp_spline(nodes[0], np.asarray(values, np.float64), axis=0)
    both = make_interp_spline(nodes[1], columns.c.T, axis=0)  # columns x rows
    down, across = (
        BSpline.design_matrix(np.clip(where, node[0], node[-1]), spline.t, 3).astype(values.dtype)
        for where, node, spline in ((at[0], nodes[0], columns), (at[1], nodes[1], both))
    )
    wide = across @ both.c.astype(values.dtype)
    return np.asarray(down @ np.ascontiguousarray(wide.T))
