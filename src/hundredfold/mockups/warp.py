"""Art seen on the goods, with true minification.

Ink is filtered premultiplied and in linear light, 16 bits a channel, so that fine text neither thins nor
shimmers. The art is first area-averaged to somewhat more than the plate's own density; then each frame pixel
averages a grid of samples, each found through the exact geometry (no intermediate raster, no rounding of
places). Where a side turns away from the eye, columns of the frame take a version averaged further across.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

import cv2
import numpy as np
from numpy.typing import NDArray

from hundredfold.catalogue.blanks import Body, PrintArea
from hundredfold.designs.facts import Box
from hundredfold.kernel.colour import to_linear
from hundredfold.mockups.plate import PLANES, Plate
from hundredfold.placement.place import Placement

Bytes = NDArray[np.uint8]
Words = NDArray[np.uint16]
Single = NDArray[np.float32]

PER_PIXEL = 2  # samples across and down a frame pixel
_DENSITY = 1.6  # art pixels kept for one frame pixel where it is seen best
_BAND_ROWS = 96  # of the frame mapped at once
_LEVELS = 4  # of further averaging across, each a half
_LINEAR = np.round(to_linear(np.arange(256) / 255.0) * 65535).astype(np.uint16)


@dataclass(frozen=True)
class Fetch:
    """Where a plate's pixels find their ink on one print area; computed once for a view and an area.

    ``x`` and ``y`` are area pixels (edges at whole numbers), ``PER_PIXEL`` samples a side in each frame
    pixel of ``box``. ``planes`` are the plate's responses on the box, linear.
    """

    box: Box
    x: Single
    y: Single
    step_px: float  # area pixels from one frame pixel to the next below, at the median
    printable: Single
    planes: Mapping[str, Single]


@dataclass(frozen=True)
class SeenArt:
    """Art as the camera sees it: premultiplied linear RGBA, 16 bits, on ``box`` of the frame."""

    box: Box
    ink: Words


def fetch_for(plate: Plate, area: PrintArea, body: Body) -> Fetch:
    """The fetch of one plate and area."""
    box = _printed_box(plate, area, body)
    x, y = _map_in_bands(plate, area, body, box, PER_PIXEL)
    step = np.median(np.abs(np.diff(y, axis=0))) * PER_PIXEL
    left, top = box.left - plate.box.left, box.top - plate.box.top
    part = np.s_[top : top + box.height, left : left + box.width]
    return Fetch(
        box,
        x,
        y,
        max(float(step), 1e-6),
        plate.planes["printable"][part].astype(np.float32) / np.float32(255),
        {name: np.ascontiguousarray(plate.linear(name)[part]) for name in PLANES if name in plate.planes},
    )


def _map_in_bands(
    plate: Plate, area: PrintArea, body: Body, box: Box, per_pixel: int
) -> tuple[Single, Single]:
    """``Plate.area_map`` band by band: its double-precision steps never stand for all rows at once."""
    bands = [
        Box(box.left, top, box.right, min(top + _BAND_ROWS, box.bottom))
        for top in range(box.top, box.bottom, _BAND_ROWS)
    ]
    across, down = [], []
    for band in bands:
        x, y = plate.area_map(area, body, band, per_pixel)
        across.append(x.astype(np.float32))
        down.append(y.astype(np.float32))
    return np.concatenate(across), np.concatenate(down)


def _printed_box(plate: Plate, area: PrintArea, body: Body) -> Box:
    """The part of the frame where the area is seen; one pixel when it is not."""
    x, y = _map_in_bands(plate, area, body, plate.box, 1)
    on = (plate.planes["printable"] > 0) & (x > -2) & (x < area.width_px + 2)
    on &= (y > -2) & (y < area.height_px + 2)
    found = _bounds(on)
    if found is None:
        return Box(plate.box.left, plate.box.top, plate.box.left + 1, plate.box.top + 1)
    return Box(
        plate.box.left + found.left,
        plate.box.top + found.top,
        plate.box.left + found.right,
        plate.box.top + found.bottom,
    )


def _bounds(mask: NDArray[np.bool_]) -> Box | None:
    rows, columns = np.flatnonzero(mask.any(1)), np.flatnonzero(mask.any(0))
    if not len(rows):
        return None
    return Box(int(columns[0]), int(rows[0]), int(columns[-1]) + 1, int(rows[-1]) + 1)


def linear_ink(art: Bytes) -> Words:
    """Premultiplied linear light, 16 bits, from sRGB-encoded straight alpha."""
    colour = cv2.LUT(np.ascontiguousarray(art[..., :3]), _LINEAR)
    alpha = art[..., 3].astype(np.uint16) * np.uint16(257)
    weighted = cv2.multiply(colour, cv2.merge([alpha] * 3), scale=1 / 65535)
    return np.asarray(cv2.merge([*cv2.split(weighted), alpha]), np.uint16)


class Ink:
    """One design's ink at the densities asked for; each is made once."""

    def __init__(self, art: Bytes) -> None:
        """``art``: the whole design, RGBA, straight alpha, sRGB-encoded."""
        self._art = art
        self._made: dict[tuple[Box, int, int], tuple[Words, ...]] = {}

    def levels(self, crop: Box, width: int, height: int) -> tuple[Words, ...]:
        """The crop averaged to this size, and further halved across."""
        key = (crop, width, height)
        if key not in self._made:
            ink = linear_ink(self._art[crop.top : crop.bottom, crop.left : crop.right])
            levels = [_averaged(ink, width, height)]
            while len(levels) < _LEVELS and levels[-1].shape[1] >= 8:
                levels.append(_averaged(levels[-1], levels[-1].shape[1] // 2, height))
            self._made[key] = tuple(levels)
        return self._made[key]


def _averaged(ink: Words, width: int, height: int) -> Words:
    if (ink.shape[1], ink.shape[0]) == (width, height):
        return ink
    return np.asarray(cv2.resize(ink, (width, height), interpolation=cv2.INTER_AREA), np.uint16)


def seen_art(ink: Ink, placements: Sequence[Placement], fetch: Fetch) -> SeenArt:
    """The design's ink as the plate's pixels see it, every placement painted in order."""
    seen = np.zeros((fetch.box.height, fetch.box.width, 4), np.uint16)
    for placed in placements:
        part = _part_of(placed, fetch)
        if part is not None:
            rows, columns = slice(part.top, part.bottom), slice(part.left, part.right)
            _paint(seen[rows, columns], _fetched(ink, placed, fetch, part))
    return SeenArt(fetch.box, seen)


def _part_of(placed: Placement, fetch: Fetch) -> Box | None:
    """The pixels of the fetch's box that can see a placement, one pixel more on every side."""
    x, y = fetch.x[::PER_PIXEL, ::PER_PIXEL], fetch.y[::PER_PIXEL, ::PER_PIXEL]
    slack = 2 * fetch.step_px
    on = (x > placed.left_px - slack) & (x < placed.left_px + placed.width_px + slack)
    on &= (y > placed.top_px - slack) & (y < placed.top_px + placed.height_px + slack)
    on &= fetch.printable > 0
    found = _bounds(on)
    if found is None:
        return None
    return Box(
        max(found.left - 1, 0),
        max(found.top - 1, 0),
        min(found.right + 1, fetch.box.width),
        min(found.bottom + 1, fetch.box.height),
    )


def _fetched(ink: Ink, placed: Placement, fetch: Fetch, part: Box) -> Words:
    """One placement's ink on a part of the fetch's box."""
    kept = _DENSITY / fetch.step_px
    size = [
        min(have, max(1, round(want * kept)))
        for have, want in (
            (placed.crop.width, placed.width_px),
            (placed.crop.height, placed.height_px),
        )
    ]
    levels = ink.levels(placed.crop, size[0], size[1])
    n = PER_PIXEL
    grid = np.s_[part.top * n : part.bottom * n, part.left * n : part.right * n]
    scale_x, scale_y = size[0] / placed.width_px, size[1] / placed.height_px
    x = (fetch.x[grid] - np.float32(placed.left_px)) * np.float32(scale_x)
    y = (fetch.y[grid] - np.float32(placed.top_px)) * np.float32(scale_y) - np.float32(0.5)
    samples = np.empty((*x.shape, 4), np.uint16)
    for level, start, end in _runs(x, len(levels)):
        source = levels[level]
        across = x[:, start:end] * np.float32(source.shape[1] / size[0]) - np.float32(0.5)
        samples[:, start:end] = cv2.remap(
            source, across, y[:, start:end], cv2.INTER_LINEAR, borderMode=cv2.BORDER_CONSTANT, borderValue=0
        )
    return np.asarray(cv2.resize(samples, (part.width, part.height), interpolation=cv2.INTER_AREA), np.uint16)


def _runs(x: Single, levels: int) -> list[tuple[int, int, int]]:
    """(level, first column, last + 1) so that no sample steps over more than about one source column."""
    middle = x[x.shape[0] // 2]
    step = np.abs(np.gradient(middle)) if len(middle) > 1 else np.ones(1)
    level = np.clip(np.ceil(np.log2(np.maximum(step, 1e-6)) - 0.25), 0, levels - 1).astype(int)
    edges = [0, *(np.flatnonzero(np.diff(level)) + 1).tolist(), len(middle)]
    return [(int(level[a]), a, b) for a, b in pairwise(edges)]


def _paint(under: Words, ink: Words) -> None:
    """Ink over what is there, in place (Porter-Duff over, premultiplied)."""
    if not under.any():
        under[:] = ink
        return
    clear = 65535 - ink[..., 3:].astype(np.uint64)
    under[:] = ink + ((under * clear + 32767) // 65535).astype(np.uint16)
