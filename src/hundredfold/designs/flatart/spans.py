"""Painted shapes to spans: runs of pixels of one colour, row after row."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from hundredfold.designs.flatart.cells import UNIT, Cells, Floats, Shorts, Whole, cells_of, counted
from hundredfold.designs.flatart.contours import contours_of
from hundredfold.designs.flatart.pen import LINE_NEAR, Pen, drawn, grown
from hundredfold.designs.typesetting.outline import Outline, joined

MOST_CROSSED = 2_000_000  # rows and columns that edges cross: past this a drawing is no longer cheap here
_WHOLE, _NOTHING = 1 - 1e-4, 1e-4  # coverage that no byte can tell from all and from none
_LEAST = np.float32(0.5 / 255)  # opacity that rounds to some
# Luminance of a mask (CSS Masking 1, 7.10.1), of premultiplied colour.
_BRIGHTNESS = np.array([0.2125, 0.7154, 0.0721, 0], dtype=np.float32)


@dataclass(frozen=True, eq=False)
class Shape:
    """One colour in one shape. ``colour`` is red, green, blue (0 to 1) and opacity.

    With a pen it is a line; or, where ``turning`` is not 0, the filled shape together with that line.
    """

    outline: Outline  # in pixels
    colour: tuple[float, float, float, float]
    even_odd: bool = False
    pen: Pen | None = None
    turning: int = 0


@dataclass(frozen=True, eq=False)
class Group:
    """Things painted together, then faded as one and shown only where ``mask`` lets them through.

    A mask lets through by its own opacity, or by that times its brightness where it has ``luminance``.
    """

    things: tuple["Shape | Group", ...]
    opacity: float = 1.0
    mask: "Group | None" = None
    luminance: bool = False


@dataclass(frozen=True, eq=False)
class Spans:
    """A sheet as runs. ``starts`` are row * width + column of each run; every row starts one, and ``opens``
    says which runs do that.
    """

    width: int
    height: int
    starts: Whole
    opens: NDArray[np.bool_]
    pixels: NDArray[np.uint8]  # (n, 4), straight alpha; what is clear is 0 0 0 0

    @cached_property
    def packed(self) -> NDArray[np.uint32]:
        """Each run's pixel as one number."""
        return np.ascontiguousarray(self.pixels).view(np.uint32)[:, 0]

    @cached_property
    def lengths(self) -> Whole:
        """Pixels in each run."""
        return np.diff(self.starts, append=self.width * self.height)


def spans_of(group: Group, width: int, height: int) -> Spans:
    """Paint everything, in order. Raises ValueError for more edges than MOST_CROSSED."""
    shapes = list(_shapes(group))
    edges, owners = _edges(shapes)
    if np.abs(edges[:, 2:] - edges[:, :2]).sum() + len(edges) > MOST_CROSSED:
        raise ValueError("too many edges")
    places, rims, opens = _places(cells_of(edges, owners, width, height), len(shapes), width, height)
    painter = _Painter(dict(zip(map(id, shapes), rims, strict=True)), len(places))
    ink = np.zeros((len(places), 4), dtype=np.float32)
    painter.paint(group, ink)
    pixels = _straight(ink)
    packed = pixels.view(np.uint32)[:, 0]
    changes = opens.copy()
    changes[1:] |= packed[1:] != packed[:-1]
    new = np.flatnonzero(changes)
    return Spans(width, height, places[new], opens[new], packed[new].view(np.uint8).reshape(-1, 4))


def _edges(shapes: Sequence[Shape]) -> tuple[Floats, Shorts]:
    """The edges of all shapes, and whose each is."""
    fills = [(k, shape.outline) for k, shape in enumerate(shapes) if shape.pen is None]
    filled = contours_of(joined(outline for _, outline in fills))
    whose = np.repeat([k for k, _ in fills], [outline.verbs.count(b"M") for _, outline in fills])
    parts = [filled.edges()]
    owners = [whose.astype(np.uint16)[filled.contour]]
    for k, shape in enumerate(shapes):
        if shape.pen is not None:
            contours = contours_of(shape.outline, LINE_NEAR)
            line = grown(contours, shape.pen, shape.turning) if shape.turning else drawn(contours, shape.pen)
            parts.append(line)
            owners.append(np.full(len(parts[-1]), k, dtype=np.uint16))
    return np.concatenate(parts), np.concatenate(owners)


def _shapes(group: Group) -> Iterator[Shape]:
    for thing in group.things:
        if isinstance(thing, Group):
            yield from _shapes(thing)
        else:
            yield thing
    if group.mask is not None:
        yield from _shapes(group.mask)


@dataclass(frozen=True, eq=False)
class _Rim:
    """A shape's own places in order, and how far it is wound from each on, up to the next of its own."""

    places: Whole
    wound: Floats


def _places(cells: Cells, count: int, width: int, height: int) -> tuple[Whole, list[_Rim], NDArray[np.bool_]]:
    """Every pixel where anything may change, in order; each owner's rim among them; and which open a row."""
    owner = np.concatenate([cells.owners, np.full(height, count, dtype=np.uint16)])
    row = np.concatenate([cells.rows, np.arange(height, dtype=np.uint16)])
    column = np.concatenate([cells.columns, np.zeros(height, dtype=np.uint16)])
    # By owner, column, row: numpy sorts 16 bits by counting, in a fraction of the time of whole keys.
    order = np.argsort(column, kind="stable")
    order = order[np.argsort(row[order], kind="stable")]
    keys = row[order].astype(np.int64) * width + column[order]
    new = _changes(keys)
    at, gap = _with_next(keys[new])
    places = np.empty(len(at) + np.count_nonzero(gap), dtype=np.int64)
    places[at] = keys[new]
    places[at[gap] + 1] = keys[new][gap] + 1
    where = at[np.cumsum(new) - 1]
    by_owner = np.argsort(owner[order], kind="stable")
    where, order = where[by_owner], order[by_owner]
    opens = np.zeros(len(places), dtype=bool)
    opens[where[len(where) - height :]] = True
    inside = int(np.searchsorted(places, width * height))
    rims = _rims(where[:-height], order[:-height], cells, count)
    return places[:inside], rims, opens[:inside]


def _rims(where: Whole, order: Whole, cells: Cells, count: int) -> list[_Rim]:
    """Each owner's additions in order of their places, summed up; ``where`` is by owner, then by place."""
    if not len(where):
        return [_Rim(np.zeros(0, dtype=np.int64), np.zeros(0))] * count
    owner = cells.owners[order]
    last = np.flatnonzero(np.append((_changes(where) | _changes(owner))[1:], True))
    cell, owner = where[last], owner[last]
    # All shapes in one sum: each is closed, so that its own adds up to nothing.
    here, after = np.cumsum(cells.here[order])[last], np.cumsum(cells.next[order])[last]
    at, gap = _with_next(cell)
    places = np.empty(len(cell) + np.count_nonzero(gap), dtype=np.int64)
    wound = np.empty(len(places))
    places[at], wound[at] = cell, here
    wound[at[1:]] += after[:-1]
    into = at[gap] + 1
    places[into], wound[into] = cell[gap] + 1, (here + after)[gap]
    wound *= UNIT
    starts = np.append(at, len(places))[np.searchsorted(owner, np.arange(1, count))]
    return [_Rim(*rim) for rim in zip(np.split(places, starts), np.split(wound, starts), strict=True)]


def _changes(values: Whole | Shorts) -> NDArray[np.bool_]:
    new = np.ones(len(values), dtype=bool)
    new[1:] = values[1:] != values[:-1]
    return new


def _with_next(cells: Whole) -> tuple[Whole, NDArray[np.bool_]]:
    """Where cells stand once each is followed by the pixel after it, and which need one put in for that."""
    gap = np.ones(len(cells), dtype=bool)
    gap[:-1] = cells[1:] != cells[:-1] + 1
    return np.arange(len(cells)) + np.cumsum(gap) - gap, gap


class _Painter:
    def __init__(self, rims: dict[int, _Rim], count: int) -> None:
        self.rims, self.count = rims, count

    def paint(self, group: Group, ink: NDArray[np.float32]) -> None:
        """Paint onto premultiplied ``ink``."""
        for thing in group.things:
            if isinstance(thing, Shape):
                self._shape(thing, ink)
            elif thing.opacity >= 1 and thing.mask is None:
                self.paint(thing, ink)
            else:
                sheet = self._sheet(thing)
                ink *= 1 - sheet[:, 3:]
                ink += sheet

    def _sheet(self, group: Group) -> NDArray[np.float32]:
        """A group by itself, faded and masked."""
        sheet = np.zeros((self.count, 4), dtype=np.float32)
        self.paint(Group(group.things), sheet)
        if group.mask is not None:
            through = self._sheet(group.mask)
            sheet *= through @ _BRIGHTNESS[:, None] if group.mask.luminance else through[:, 3:]
        if group.opacity < 1:
            sheet *= np.float32(group.opacity)
        return sheet

    def _shape(self, shape: Shape, ink: NDArray[np.float32]) -> None:
        """Over what is there: whole pixels are replaced, parts are mixed."""
        rim = self.rims[id(shape)]
        own = rim.places[: np.searchsorted(rim.places, self.count)]
        if not len(own):
            return
        cover = np.abs(rim.wound[: len(own)])
        if shape.even_odd:
            cover = 1 - np.abs(1 - cover % 2)
        red, green, blue, opacity = shape.colour
        paint = np.array([red, green, blue, 1], dtype=np.float32)
        first, last = int(own[0]), int(own[-1]) + 1
        runs = np.diff(own, append=last)
        whole = (cover >= _WHOLE) & (opacity >= 1)
        # Four floats as one: a mask then moves a pixel at a time.
        np.copyto(_as_one(ink)[first:last], _as_one(paint[None])[0], where=np.repeat(whole, runs))
        part = np.flatnonzero((cover > _NOTHING) & ~whole)
        which, places = counted(own[part], runs[part])
        share = (np.minimum(cover[part], 1) * opacity).astype(np.float32)[which, None]
        mixed = _as_one(ink).take(places).view(np.float32).reshape(-1, 4)
        mixed *= 1 - share
        mixed += share * paint
        _as_one(ink)[places] = _as_one(mixed)


def _as_one(ink: NDArray[np.float32]) -> NDArray[np.complex128]:
    return ink.view(np.complex128)[:, 0]


def _straight(ink: NDArray[np.float32]) -> NDArray[np.uint8]:
    """Bytes with straight alpha; what rounds to nothing is nothing."""
    out = np.empty((len(ink), 4), dtype=np.uint8)
    alpha = ink[:, 3]
    out[:, 3] = np.rint(alpha * 255)
    scale = np.where(out[:, 3] > 0, 255 / np.maximum(alpha, _LEAST), 0)
    for channel in range(3):
        out[:, channel] = np.rint(np.minimum(ink[:, channel] * scale, 255))
    return out
