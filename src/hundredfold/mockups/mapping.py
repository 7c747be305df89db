"""Where every pixel of a frame lies on a print area, fast: geometry on a coarse lattice, splines between.

Cells where the spline is not good enough (at the outline, at a seam) are computed pixel by pixel.
"""

import cv2
import numpy as np
from numpy.typing import NDArray

from hundredfold.catalogue.blanks import Body, PrintArea
from hundredfold.designs.facts import Box
from hundredfold.mockups.plate import Plate
from hundredfold.mockups.splines import between
from hundredfold.mockups.surface import ClothSheet, Side

Single = NDArray[np.float32]
Floats = NDArray[np.float64]
Mask = NDArray[np.bool_]

_CELL = 8  # frame pixels from one lattice point to the next
_ERROR_PX = 0.005  # of the frame, in the middle of a cell, where it is largest


def pixel_map(plate: Plate, area: PrintArea, body: Body) -> tuple[Single, Single]:
    """Area pixels (x, y) under the centres of the pixels of the plate's box.

    Where a cell shows nothing printable the map may be off.
    """
    if isinstance(plate.surface, ClothSheet):
        x, y = plate.area_map(area, body, plate.box, 1)
        return x.astype(np.float32), y.astype(np.float32)
    return _of_side(plate, plate.surface, area, body)


def _of_side(plate: Plate, side: Side, area: PrintArea, body: Body) -> tuple[Single, Single]:
    box, facing = plate.box, side.facing(plate.camera)
    across, down = (
        start + np.arange(-(-count // _CELL) + 1, dtype=np.float64) * _CELL
        for start, count in ((box.left, box.width), (box.top, box.height))
    )
    middle_x, middle_y = across[:-1] + _CELL / 2, down[:-1] + _CELL / 2

    def exactly(x: Floats, y: Floats, about: float) -> Floats:
        angle, up = side.seen(plate.camera, *plate.baked(x, y), plate.size_px, about)
        return np.stack([*side.on_area(angle, up, area, body), angle], -1)

    nodes = exactly(*np.meshgrid(across, down), facing)
    places = nodes[..., :2]
    tested = exactly(*np.meshgrid(middle_x, middle_y), facing)
    error = np.abs(between(places, (down, across), (middle_y, middle_x)) - tested[..., :2])
    slope = np.stack([np.diff(places[:-1, :, 0], axis=1), np.diff(places[:, :-1, 1], axis=0)], -1)
    rough = (error > _ERROR_PX * np.abs(slope) / _CELL).any(-1)
    rough |= _any_corner(np.abs(nodes[..., 2]) > np.pi)
    rough = cv2.dilate(rough.view(np.uint8), np.ones((3, 3), np.uint8)) > 0  # a kink may miss the middle
    centres = (np.arange(n, dtype=np.float64) + 0.5 for n in (box.height, box.width))
    at_y, at_x = (start + centre for start, centre in zip((box.top, box.left), centres, strict=True))
    found = between(places.astype(np.float32), (down, across), (at_y, at_x))
    x, y = (np.ascontiguousarray(found[..., k], np.float32) for k in (0, 1))
    spots = np.nonzero(_pixels_of(rough & _printable_cells(plate), box))
    true = exactly(at_x[spots[1]], at_y[spots[0]], 0.0)
    x[spots], y[spots] = true[:, 0], true[:, 1]
    return x, y


def _any_corner(at: Mask) -> Mask:
    return np.asarray(at[:-1, :-1] | at[1:, :-1] | at[:-1, 1:] | at[1:, 1:])


def _pixels_of(cells: Mask, box: Box) -> Mask:
    return cells.repeat(_CELL, 0).repeat(_CELL, 1)[: box.height, : box.width]


def _printable_cells(plate: Plate) -> Mask:
    """Cells with a printable pixel."""
    shown = plate.planes["printable"] > 0
    rows = np.logical_or.reduceat(shown, np.arange(0, shown.shape[0], _CELL), axis=0)
    return np.logical_or.reduceat(rows, np.arange(0, shown.shape[1], _CELL), axis=1)
