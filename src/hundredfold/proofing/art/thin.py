"""How thin the lines of a mask are, and how long: from its distance transform."""

from typing import Any

import cv2
import numpy as np
from numpy.typing import NDArray

from hundredfold.designs.tiles import TiledPart, tiles
from hundredfold.proofing.art.facts import Thin

Bytes = NDArray[Any]  # uint8; OpenCV promises no more
WIDEST_PX = 24.0  # lines wider than this are never thin: 1 mm at 600 dpi
_REACH_PX = int(WIDEST_PX) + 4
_BESIDE_PX = _REACH_PX  # looked at round a tile: farther distances count as far
_SAMPLES = 16_000
_DIRECTIONS = 8
_HAIR_PX = 2.2
_FINE_PX = 5
_FAINT = 40  # alpha from which a pixel belongs to a line
_PLATEAU = 0.6  # pixels: how far below its neighbours the middle of a slanted line may lie
# A point of the ridge belongs to a line, not to a corner, where the shape grows by less than this factor
# within three half-widths: tapers of more than about 19 degrees are corners.
_GROWTH = 1.5
_TAPER, _CUSP = 3.0, 12  # a piece of this spread of widths, and of less points than so many widths, is a cusp


def thin_lines(coverage: Bytes, beyond: int = 0) -> tuple[Thin, ...]:
    """Lengths of thin lines by width, in pixels, thinnest first; ``coverage`` is alpha of the lines, 0-255.

    ``beyond`` is the coverage outside the picture: 0 for ink, 255 for the gaps between ink. Widths are
    coverage summed across the line, so that a faint line counts as thinner than the pixels it touches.
    """
    room = _REACH_PX
    framed = cv2.copyMakeBorder(coverage, room, room, room, room, cv2.BORDER_CONSTANT, value=beyond)
    reach, ridge = _reach_and_ridge(cv2.threshold(framed, _FAINT, 1, cv2.THRESH_BINARY)[1])
    rows, columns = _places(ridge)
    if not rows.size:
        return ()
    step = max(1, rows.size // _SAMPLES)
    rows, columns = rows[::step], columns[::step]
    line = _on_a_line(reach, rows, columns)
    rows, columns = rows[line], columns[line]
    widths, across = _widths(framed, rows, columns)
    kept = ~_tapers(ridge, rows, columns, widths)
    rows, columns, widths, across = rows[kept], columns[kept], widths[kept], across[kept]
    lengths = _lengths(ridge, rows, columns, across)
    # Every pixel of a hairline lies on its ridge: its coverage over its width is its length on any slant.
    hair = widths < _HAIR_PX
    lengths[hair] = framed[rows[hair], columns[hair]] / 255.0 / widths[hair]
    lengths *= step
    return _histogram(widths, lengths)


def _reach_and_ridge(inside: Bytes) -> tuple[NDArray[Any], NDArray[np.bool_]]:
    """Distance from the outside, exact as far as it is asked for, and the ridge of thin shapes.

    Tile by tile, since most of a picture is plainly outside or far inside, where there is nothing thin.
    """
    ridge = np.zeros(inside.shape, np.bool_)
    known: list[tuple[TiledPart, Any]] = []
    for tile in tiles(inside.shape, _BESIDE_PX):
        near = inside[tile.near]
        count = cv2.countNonZero(near)
        if count == near.size:
            known.append((tile.own, _BESIDE_PX))
        elif count:
            distance = cv2.distanceTransform(near, cv2.DIST_L2, cv2.DIST_MASK_5)
            known.append((tile.own, distance[tile.inner]))
            ridge[tile.own] = _ridge(distance)[tile.inner]
    for edge in (slice(0, _REACH_PX), slice(-_REACH_PX, None)):
        ridge[edge] = False
        ridge[:, edge] = False
    if not ridge.any():
        return ridge.view(np.uint8), ridge  # nobody asks how far
    reach = np.zeros(inside.shape, np.float32)
    for own, distance in known:
        reach[own] = distance
    return reach, ridge


def _ridge(reach: NDArray[Any]) -> NDArray[np.bool_]:
    """Pixels about as far from the outside as their neighbours, where the shape is thin."""
    highest = cv2.dilate(reach, np.ones((3, 3), np.uint8))
    return np.asarray((reach >= highest - _PLATEAU) & (reach > 0) & (reach <= WIDEST_PX / 2 + 1))


def _places(ridge: NDArray[np.bool_]) -> tuple[NDArray[Any], NDArray[Any]]:
    """Rows and columns of the ridge's pixels, row by row."""
    return np.divmod(np.flatnonzero(ridge), ridge.shape[1])


def _ring(
    rows: NDArray[Any], columns: NDArray[Any], radius: NDArray[Any]
) -> tuple[NDArray[Any], NDArray[Any]]:
    angles = np.arange(16) * (2 * np.pi / 16)
    y = rows[:, np.newaxis] + radius[:, np.newaxis] * np.sin(angles)
    x = columns[:, np.newaxis] + radius[:, np.newaxis] * np.cos(angles)
    return np.rint(y).astype(np.intp), np.rint(x).astype(np.intp)


def _on_a_line(reach: NDArray[Any], rows: NDArray[Any], columns: NDArray[Any]) -> NDArray[np.bool_]:
    """Whether the shape goes on two widths away (a dot does not) without growing much (a corner does)."""
    own = reach[rows, columns].astype(np.float64)
    grown, goes_on = np.zeros(own.size), np.zeros(own.size, bool)
    for times in (1.5, 2.5):
        y, x = _ring(rows, columns, np.minimum(times * own + 0.5, _REACH_PX))
        there = _at(reach, y, x)
        grown = np.maximum(grown, there.max(axis=1))
        goes_on = np.asarray((there > 0).any(axis=1))
    return np.asarray((grown <= _GROWTH * own + 0.6) & goes_on)


def _tapers(
    ridge: NDArray[np.bool_], rows: NDArray[Any], columns: NDArray[Any], widths: NDArray[np.float64]
) -> NDArray[np.bool_]:
    """Which points lie on a piece that runs from nothing to wide: the cusp between two round shapes.

    A line or a gap that matters keeps about its width; a cusp prints as a cusp, whatever its tip does.
    """
    if not rows.size:
        return np.zeros(0, bool)
    _, labels = cv2.connectedComponents(ridge.view(np.uint8), connectivity=8)
    piece = np.asarray(labels)[rows, columns]
    order = np.lexsort((widths, piece))
    starts = np.flatnonzero(np.diff(piece[order], prepend=-1))
    counts = np.diff(starts, append=piece.size)
    low = widths[order][starts + counts // 10]
    high = widths[order][starts + counts * 9 // 10]
    short = counts <= _CUSP * high
    tapered = dict(zip(piece[order][starts], (high >= _TAPER * low) & short, strict=True))
    return np.array([tapered[one] for one in piece], bool)


def _at(values: NDArray[Any], y: NDArray[Any], x: NDArray[Any]) -> NDArray[Any]:
    return np.asarray(values[np.clip(y, 0, values.shape[0] - 1), np.clip(x, 0, values.shape[1] - 1)])


def _widths(
    coverage: Bytes, rows: NDArray[Any], columns: NDArray[Any]
) -> tuple[NDArray[np.float64], NDArray[Any]]:
    """Coverage summed along the shortest of eight directions through each point, and that direction."""
    span = _REACH_PX
    steps = np.arange(-span, span + 1)
    sums = np.empty((_DIRECTIONS, rows.size))
    for index in range(_DIRECTIONS):
        angle = np.pi * index / _DIRECTIONS
        y = rows[:, np.newaxis] + np.rint(steps * np.sin(angle)).astype(np.intp)
        x = columns[:, np.newaxis] + np.rint(steps * np.cos(angle)).astype(np.intp)
        sums[index] = _run_through_middle(_at(coverage, y, x) / 255.0, span)
    across, best = sums.argmin(axis=0), sums.min(axis=0)
    fine = best < _FINE_PX
    best[fine] = _fine_widths(coverage, rows[fine], columns[fine])
    return best, across


def _fine_widths(coverage: Bytes, rows: NDArray[Any], columns: NDArray[Any]) -> NDArray[np.float64]:
    """The same in half-pixel steps between pixels: whole pixels are too coarse for hairlines on a slant."""
    steps = np.arange(-2 * _FINE_PX, 2 * _FINE_PX + 1) / 2
    best = np.full(rows.size, np.inf)
    for index in range(_DIRECTIONS if rows.size else 0):
        angle = np.pi * index / _DIRECTIONS
        y = (rows[:, np.newaxis] + steps * np.sin(angle)).astype(np.float32)
        x = (columns[:, np.newaxis] + steps * np.cos(angle)).astype(np.float32)
        values = cv2.remap(coverage, x, y, cv2.INTER_LINEAR) / 255.0
        best = np.minimum(best, _run_through_middle(values, steps.size // 2) / 2)
    return best


def _run_through_middle(values: NDArray[Any], middle: int) -> NDArray[Any]:
    """Sum of each row's unbroken run of coverage that contains its middle."""
    there = values > 0.02
    right = np.cumprod(there[:, middle:], axis=1, dtype=np.int8)
    left = np.cumprod(there[:, middle::-1], axis=1, dtype=np.int8)
    total = (values[:, middle:] * right).sum(axis=1) + (values[:, middle::-1] * left).sum(axis=1)
    return np.asarray(total - values[:, middle])


def _lengths(
    ridge: NDArray[np.bool_], rows: NDArray[Any], columns: NDArray[Any], across: NDArray[Any]
) -> NDArray[np.float64]:
    """Length each ridge point stands for: shared among those beside it, longer on a slant."""
    angle = np.pi * across / _DIRECTIONS
    steps = np.arange(-3, 4)
    y = rows[:, np.newaxis] + np.rint(steps * np.sin(angle)[:, np.newaxis]).astype(np.intp)
    x = columns[:, np.newaxis] + np.rint(steps * np.cos(angle)[:, np.newaxis]).astype(np.intp)
    beside = _at(ridge, y, x).sum(axis=1)
    slant = np.maximum(np.abs(np.sin(angle)), np.abs(np.cos(angle)))
    return np.asarray(1.0 / (beside * slant))


def _histogram(widths: NDArray[np.float64], lengths: NDArray[np.float64]) -> tuple[Thin, ...]:
    """Length by width in bins of half a pixel; a bin is named by its upper end."""
    bins = np.ceil(widths * 2).astype(int)
    totals = np.bincount(bins[bins <= 2 * WIDEST_PX], lengths[bins <= 2 * WIDEST_PX])
    return tuple(Thin(index / 2, round(float(total), 1)) for index, total in enumerate(totals) if total > 0)
