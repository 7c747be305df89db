"""Art seen on the goods, with true minification.

Each pixel of the frame takes one bilinear sample, at the place the exact geometry gives it, of ink that was
averaged under the pixels' footprints before (``ink``).
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import cv2
import numpy as np
from numpy.typing import NDArray

from hundredfold.catalogue.blanks import Body, PrintArea
from hundredfold.designs.facts import Box
from hundredfold.mockups.ink import BLOCK, Footprint, Ink, Level
from hundredfold.mockups.mapping import pixel_map
from hundredfold.mockups.plate import Plate
from hundredfold.placement.place import Placement

Words = NDArray[np.uint16]
Single = NDArray[np.float32]
Mask = NDArray[np.bool_]

_CELL = (16, 32)  # rows and columns of a frame looked at together for ink: a strip stays in the cache
_GAP = 5  # cells; narrower gaps in the ink are not worth leaving out
_NOWHERE = -1e6  # area pixels of a frame pixel that shows none
_COARSE = 8  # rows and columns between those that footprints are measured at
_BINS = 48  # of the area's width, to say how far each column is turned away


@dataclass(frozen=True)
class Fetch:
    """Where a plate's pixels find their ink on one print area; computed once for a view and an area.

    ``x`` and ``y`` are area pixels (edges at whole numbers) at the centres of ``box``'s pixels, far off where
    nothing is printable. ``partly`` are the pixels (of the box, counted row by row) that the printed side
    only partly fills, ``shares`` how much. A frame pixel's footprint is ``across_px`` x ``down_px`` area
    pixels where it is smallest, and ``turned`` times as wide at the area's ``turned_at``. ``corners`` are the
    area pixels at the corners of a grid of cells over the box.
    """

    box: Box
    x: Single
    y: Single
    partly: NDArray[np.intp]
    shares: Single
    across_px: float
    down_px: float
    turned_at: Single
    turned: Single
    corners: tuple[Single, Single]


@dataclass(frozen=True)
class SeenArt:
    """Art as the camera sees it, on ``box`` of the frame; ``ink`` as that of a ``Level``.

    ``inked`` are boxes (rows and columns counted from its corner) outside of which there is no ink.
    """

    box: Box
    ink: Words
    inked: tuple[Box, ...]


def fetch_for(plate: Plate, area: PrintArea, body: Body) -> Fetch:
    """The fetch of one plate and area."""
    x, y = pixel_map(plate, area, body)
    printable = plate.planes["printable"]
    on = (printable > 0) & (x > -2) & (x < area.width_px + 2) & (y > -2) & (y < area.height_px + 2)
    inside = _bounds(on) or Box(0, 0, 2, 2)
    part = np.s_[inside.top : inside.bottom, inside.left : inside.right]
    x, y, on, share = x[part].copy(), y[part].copy(), on[part], printable[part]
    across, down, turned_at, turned = _footprints(x, y, on, area)
    corners = (_at_corners(x), _at_corners(y))
    x[~on] = _NOWHERE
    partly = np.flatnonzero(on & (share < 255))
    left, top = plate.box.left, plate.box.top
    box = Box(left + inside.left, top + inside.top, left + inside.right, top + inside.bottom)
    shares = share.ravel()[partly].astype(np.float32) / np.float32(255)
    return Fetch(box, x, y, partly, shares, across, down, turned_at, turned, corners)


def _footprints(x: Single, y: Single, on: Mask, area: PrintArea) -> tuple[float, float, Single, Single]:
    """Area pixels from one frame pixel to the next, across where least and down in the middle; how turned."""
    across, down = np.abs(np.diff(x[::_COARSE], axis=1)), np.abs(np.diff(y[:, ::_COARSE], axis=0))
    beside = on[::_COARSE, 1:] & on[::_COARSE, :-1] & (across < area.width_px / 4)  # not over a seam
    if not beside.any():
        return 1.0, 1.0, np.zeros(0, np.float32), np.zeros(0, np.float32)
    least = float(np.percentile(across[beside], 10))
    edges = np.linspace(0, area.width_px, _BINS + 1)
    where = np.digitize(x[::_COARSE, 1:][beside], edges)
    known = [k for k in range(1, _BINS + 1) if (where == k).any()]
    at = np.array([(edges[k - 1] + edges[k]) / 2 for k in known], np.float32)
    turned = np.array([np.median(across[beside][where == k]) / least for k in known], np.float32)
    return least, float(np.median(down[on[1:, ::_COARSE]])), at, turned


def _at_corners(places: Single) -> Single:
    rows, columns = (
        np.append(np.arange(0, n - 1, cell), n - 1) for n, cell in zip(places.shape, _CELL, strict=True)
    )
    return np.asarray(places[np.ix_(rows, columns)], np.float32)


def _bounds(mask: Mask) -> Box | None:
    x, y, width, height = cv2.boundingRect(mask.view(np.uint8))
    return Box(x, y, x + width, y + height) if width else None


def seen_art(ink: Ink, placements: Sequence[Placement], fetch: Fetch) -> SeenArt:
    """The design's ink as the plate's pixels see it, every placement painted in order."""
    seen = np.zeros((fetch.box.height, fetch.box.width, 4), np.uint16)
    inked: list[Box] = []
    for placed in placements:
        level = ink.level(placed.crop, _view(placed, fetch))
        boxes = []
        for box in _inked(placed, level, fetch):
            under = seen[box.top : box.bottom, box.left : box.right]
            fresh = _sampled(level, placed, fetch, box, None if inked else under)
            if inked:
                _paint(under, fresh)
            cover = cv2.reduce(cv2.extractChannel(fresh, 3), 0, cv2.REDUCE_MAX)[0] > 0
            first = int(cover.argmax())
            if not cover[first]:
                continue
            last = box.width - int(cover[::-1].argmax())
            boxes.append(Box(box.left + first, box.top, box.left + last, box.bottom))
        inked += boxes
    flat = seen.reshape(-1, 4)
    flat[fetch.partly] = np.round(flat[fetch.partly] * fetch.shares[:, None])
    return SeenArt(fetch.box, seen, tuple(inked))


def _inked(placed: Placement, level: Level, fetch: Fetch) -> Iterator[Box]:
    """Boxes of frame pixels outside of which the placement shows no ink: runs of cells, strip by strip."""
    blocks = [
        (corners - np.float32(start)) * np.float32(scale / BLOCK)
        for corners, (start, scale) in zip(fetch.corners, _scales(placed, level), strict=True)
    ]
    spans = []
    for at, count in zip(blocks, (level.inked.shape[1], level.inked.shape[0]), strict=True):
        four = np.stack([at[:-1, :-1], at[1:, :-1], at[:-1, 1:], at[1:, 1:]])
        least, most = four.min(0), four.max(0)
        slack = (most - least) / 4 + 0.5
        spans.append([np.clip(v, 0, count).astype(int) for v in (least - slack, most + slack + 1)])
    (left, right), (top, bottom) = spans
    sums = np.pad(np.cumsum(np.cumsum(level.inked, axis=0), axis=1), ((1, 0), (1, 0)))
    inside = sums[bottom, right] - sums[top, right] - sums[bottom, left] + sums[top, left] > 0
    closed = cv2.morphologyEx(inside.view(np.uint8), cv2.MORPH_CLOSE, np.ones((1, _GAP), np.uint8))
    change = np.diff(np.pad(closed, ((0, 0), (1, 1))).astype(np.int8), axis=1)
    (strips, starts), (_, ends) = np.nonzero(change > 0), np.nonzero(change < 0)
    rows, columns = _CELL
    for strip, start, end in zip(strips.tolist(), starts.tolist(), ends.tolist(), strict=True):
        right, bottom = min(end * columns, fetch.box.width), min((strip + 1) * rows, fetch.box.height)
        yield Box(start * columns, strip * rows, right, bottom)


def _scales(placed: Placement, level: Level) -> tuple[tuple[int, float], tuple[int, float]]:
    """Across and down: where the placement starts on the area, and the level's texels for an area pixel."""
    return (
        (placed.left_px, placed.crop.width / placed.width_px / 2 ** level.halved[0]),
        (placed.top_px, placed.crop.height / placed.height_px / 2 ** level.halved[1]),
    )


def _sampled(level: Level, placed: Placement, fetch: Fetch, box: Box, into: Words | None = None) -> Words:
    """One placement's ink on a part of the fetch's box; ``into`` may be an array that takes it."""
    part = np.s_[box.top : box.bottom, box.left : box.right]
    x, y = (
        _texels(places[part], *scale)
        for places, scale in zip((fetch.x, fetch.y), _scales(placed, level), strict=True)
    )
    ink = cv2.remap(
        level.pixels, x, y, cv2.INTER_LINEAR, dst=into, borderMode=cv2.BORDER_CONSTANT, borderValue=0
    )
    return np.asarray(ink, np.uint16)


def _texels(places: Single, start_px: int, scale: float) -> Single:
    """Texels, counted from the first one's centre, at area pixels."""
    at = places * np.float32(scale)
    at -= np.float32(start_px * scale + 0.5)
    return at


def _view(placed: Placement, fetch: Fetch) -> Footprint:
    """The fetch's footprints in pixels of the placement's art."""
    texels_x = placed.crop.width / placed.width_px
    at = (fetch.turned_at - np.float32(placed.left_px)) * np.float32(texels_x)
    return Footprint(
        fetch.across_px * texels_x,
        fetch.down_px * placed.crop.height / placed.height_px,
        np.asarray(at, np.float32),
        fetch.turned,
    )


def _paint(under: Words, ink: Words) -> None:
    """Ink over what is there, in place: Porter-Duff over, which taken light obeys as colour does."""
    clear = 65535 - ink[..., 3:].astype(np.uint64)
    under[:] = ink + ((under * clear + 32767) // 65535).astype(np.uint16)
