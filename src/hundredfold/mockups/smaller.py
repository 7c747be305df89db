"""A plate at a fraction of its size, for small pictures: a page of them costs what one large one does."""

from dataclasses import replace

import cv2
import numpy as np
from numpy.typing import NDArray

from hundredfold.designs.facts import Box
from hundredfold.mockups.plate import Bytes, Plate
from hundredfold.mockups.surface import ClothSheet

Single = NDArray[np.float32]

_TABLE = ("shade", "glow")
_SHARES = ("cover", "printable")  # levels are shares, not square roots of light


def smaller(plate: Plate, size_px: int) -> Plate:
    """The plate with frames of about ``size_px``: whole numbers of its pixels averaged, in linear light.

    Light counts as far as the goods cover a pixel, so that outlines do not darken.
    """
    parts = max(1, plate.size_px // size_px)
    if parts == 1:
        return plate
    cover = plate.planes["cover"].astype(np.float32)
    box, shade_box = _box(plate.box, parts), _box(plate.shade_box, parts)
    weights = _averaged(cover, plate.box, box, parts)
    planes = {}
    for name, plane in plate.planes.items():
        if name in _SHARES:
            mean = _averaged(plane.astype(np.float32), plate.box, box, parts)
            planes[name] = _levels(mean)
        elif name in _TABLE:
            light = _averaged(plane.astype(np.float32) ** 2, plate.shade_box, shade_box, parts)
            planes[name] = _levels(np.sqrt(light))
        else:
            light = _averaged(plane.astype(np.float32) ** 2 * cover, plate.box, box, parts)
            planes[name] = _levels(np.sqrt(light / np.maximum(weights, 1e-6)))
    surface = plate.surface
    if isinstance(surface, ClothSheet):
        surface = replace(surface, stride=surface.stride / parts)
    return replace(
        plate, size_px=plate.size_px // parts, surface=surface, box=box, shade_box=shade_box, planes=planes
    )


def _box(box: Box, parts: int) -> Box:
    return Box(box.left // parts, box.top // parts, -(-box.right // parts), -(-box.bottom // parts))


def _averaged(plane: Single, box: Box, small: Box, parts: int) -> Single:
    """Means of ``parts`` x ``parts`` pixels; beyond the plane its edge goes on."""
    edges = (
        box.top - small.top * parts,
        small.bottom * parts - box.bottom,
        box.left - small.left * parts,
        small.right * parts - box.right,
    )
    whole = cv2.copyMakeBorder(plane, *edges, cv2.BORDER_REPLICATE)
    size = (small.width, small.height)
    return np.asarray(cv2.resize(whole, size, interpolation=cv2.INTER_AREA), np.float32)


def _levels(values: Single) -> Bytes:
    return np.asarray(np.clip(np.rint(values), 0, 255), np.uint8)
