"""A large plane taken tile by tile, since most of a picture is plainly bare or plainly inked."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import product
from typing import NamedTuple

TILE_PX = 256


class TiledPart(NamedTuple):
    """Rows and columns; an index into a plane (height x width)."""

    rows: slice
    columns: slice


@dataclass(frozen=True)
class Tile:
    """A tile's own pixels, those with what lies beside them, and the own ones' place in these."""

    own: TiledPart
    near: TiledPart
    inner: TiledPart


def tiles(shape: tuple[int, ...], beside_px: int) -> Iterator[Tile]:
    """Tiles that cover a plane of this shape (height x width) once, each with ``beside_px`` round it."""
    for corner in product(*(range(0, length, TILE_PX) for length in shape[:2])):
        spans = [_span(start, length, beside_px) for start, length in zip(corner, shape, strict=False)]
        yield Tile(*(TiledPart(*pair) for pair in zip(*spans, strict=True)))


def _span(start: int, length: int, beside_px: int) -> tuple[slice, slice, slice]:
    stop, low = min(length, start + TILE_PX), max(0, start - beside_px)
    near = slice(low, min(length, stop + beside_px))
    return slice(start, stop), near, slice(start - low, stop - low)
