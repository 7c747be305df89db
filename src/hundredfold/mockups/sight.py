"""What a picture shows of a print area: how wide art is in its frame, and what of it is out of sight."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hundredfold.catalogue.blanks import Body, PrintArea
from hundredfold.kernel.units import mm_to_px
from hundredfold.mockups.plate import Plate
from hundredfold.mockups.surface import ClothSheet
from hundredfold.placement.place import Placement

Floats = NDArray[np.float64]

_HEIGHTS = 7  # lines across the area that are followed over the goods
_PLACES = 65  # kept of each
_STEP_PX = 4  # of the frame, from one place that is looked at to the next
_CELLS, _SPOTS = 24, 8  # of a side of the area that are told apart, and looked at within one
# Letters squeezed to less than this, by those that face the eye, count as turned out of sight. Common
# practice, no source: a third is what is left 70 degrees round a mug.
_SQUEEZED = 1 / 3


@dataclass(frozen=True)
class SeenLine:
    """One line across a print area, as far as it is seen: area pixels, rising, and shares of the frame."""

    at_px: float  # of the area, from its top
    area_px: tuple[float, ...]
    frame: tuple[float, ...]

    def between(self, left_px: float, right_px: float) -> float:
        """The share of the frame's width (0-1) from one place of the line to another, as far as seen."""
        ends = np.interp([left_px, right_px], self.area_px, self.frame)
        return float(abs(ends[1] - ends[0]))

    def readable(self) -> tuple[float, float]:
        """From where to where, in area pixels, the line is not squeezed by turning away."""
        at, frame = np.array(self.area_px), np.array(self.frame)
        wide = np.abs(np.diff(frame)) / np.maximum(np.diff(at), 1e-6)
        clear = np.flatnonzero(wide >= _SQUEEZED * np.percentile(wide, 90))
        return float(at[clear[0]]), float(at[clear[-1] + 1])


@dataclass(frozen=True)
class Sight:
    """A print area as a plate shows it, in lines from its top down; none where the plate hides it.

    ``drawn`` says of the area's cells, row by row, how much of each lies on the printed side that the plate
    has (0-1), turned away or not; bleed counts as drawn, it is cut off.
    """

    lines: tuple[SeenLine, ...]
    drawn: tuple[tuple[float, ...], ...] = ()

    def lost(self, placed: Placement) -> float:
        """The share (0-1) of a placement that the plate has no place for."""
        if not self.drawn:
            return 0.0
        down = _overlaps(placed.top_px, placed.height_px, placed.area.height_px)
        across = _overlaps(placed.left_px, placed.width_px, placed.area.width_px)
        return float(max(0.0, 1 - down @ np.array(self.drawn) @ across / (down.sum() * across.sum())))

    def out_of_sight(self, left_px: float, right_px: float, at_px: float) -> tuple[float, float]:
        """How much of a stretch at a height is turned out of sight to its left and to its right, 0-1."""
        if not self.lines:
            return 0.0, 0.0
        line = min(self.lines, key=lambda one: abs(one.at_px - at_px))
        start, end = line.readable()
        whole = max(right_px - left_px, 1e-6)
        left = min(max(start - left_px, 0.0) / whole, 1.0)
        return left, min(max(right_px - end, 0.0) / whole, 1.0)

    def share(self, placed: Placement) -> float:
        """Width of a placement as it is seen half way down, as a share of the frame's, 0-1."""
        if not self.lines:
            return 0.0
        right = placed.left_px + placed.width_px
        widths = [line.between(placed.left_px, right) for line in self.lines]
        middle = placed.top_px + placed.height_px / 2
        return float(np.interp(middle, [line.at_px for line in self.lines], widths))

    def widest(self, placements: Sequence[Placement]) -> float:
        """The share of the placement that is seen widest."""
        return max(map(self.share, placements))


def sight_of(plate: Plate, area: PrintArea, body: Body) -> Sight:
    """What a plate shows of a print area."""
    across, down = (
        np.arange(start + 0.5, start + count, _STEP_PX)
        for start, count in ((plate.box.left, plate.box.width), (plate.box.top, plate.box.height))
    )
    x, y = _on_area(plate, area, body, across, down)
    shown = plate.planes["printable"][::_STEP_PX, ::_STEP_PX] > 127
    shown &= (x > -1) & (x < area.width_px + 1)
    heights = (np.arange(_HEIGHTS) + 0.5) / _HEIGHTS * area.height_px
    drawn = _drawn(plate, area, body, (x[shown], y[shown]))
    return Sight(tuple(_lines(heights, (x, y, shown), across / plate.size_px)), drawn)


def _overlaps(start: int, count: int, whole: int) -> Floats:
    """How much of each cell's length, in pixels, a stretch takes."""
    edges = np.linspace(0, whole, _CELLS + 1)
    within = np.minimum(edges[1:], start + count) - np.maximum(edges[:-1], start)
    return np.asarray(np.maximum(within, 0.0))


def _drawn(
    plate: Plate, area: PrintArea, body: Body, seen: tuple[Floats, Floats]
) -> tuple[tuple[float, ...], ...]:
    """What of the area's cells the plate's printed side has a place for."""
    spots = (np.arange(_CELLS * _SPOTS) + 0.5) / (_CELLS * _SPOTS)
    x, y = np.meshgrid(spots * area.width_px, spots * area.height_px)
    if isinstance(plate.surface, ClothSheet):
        on = _within_seen(x, y, seen)
    else:
        on = plate.surface.shows(x, y, area, body)
    bleed = mm_to_px(area.bleed_mm, area.dpi)
    cut = (np.minimum(x, area.width_px - x) < bleed) | (np.minimum(y, area.height_px - y) < bleed)
    shares = (on | cut).reshape(_CELLS, _SPOTS, _CELLS, _SPOTS).mean((1, 3))
    return tuple(tuple(row) for row in np.round(shares, 2).tolist())


def _within_seen(x: Floats, y: Floats, seen: tuple[Floats, Floats]) -> NDArray[np.bool_]:
    """Whether places of the area lie between those seen in the same row of cells: cloth has no holes."""
    at_x, at_y = seen
    if not len(at_x):
        return np.zeros(x.shape, bool)
    tall = (y[-1, 0] - y[0, 0]) / (_CELLS - 1 / _SPOTS)
    least, most = np.full(_CELLS, np.inf), np.full(_CELLS, -np.inf)
    where = np.floor(at_y / tall).astype(int)
    inside = (where >= 0) & (where < _CELLS)
    np.minimum.at(least, where[inside], at_x[inside])
    np.maximum.at(most, where[inside], at_x[inside])
    # Places are looked at some pixels apart: the goods reach on to nearly the next.
    step = np.sqrt(np.ptp(at_x) * np.ptp(at_y) / len(at_x))
    rows = np.floor(y / tall).astype(int)
    across = (x >= least[rows] - step) & (x <= most[rows] + step)
    return np.asarray(across & (y >= at_y.min() - step) & (y <= at_y.max() + step))


def _on_area(
    plate: Plate, area: PrintArea, body: Body, across: Floats, down: Floats
) -> tuple[Floats, Floats]:
    at_x, at_y = plate.baked(across, down)
    if isinstance(plate.surface, ClothSheet):
        return plate.surface.on_area(*plate.surface.seen(at_x, at_y), area, body)
    angle, up = plate.surface.seen(plate.camera, *np.meshgrid(at_x, at_y), plate.size_px)
    return plate.surface.on_area(angle, up, area, body)


def _lines(
    heights: Floats, seen: tuple[Floats, Floats, NDArray[np.bool_]], frame: Floats
) -> Iterator[SeenLine]:
    x, y, shown = seen
    columns = [np.flatnonzero(shown[:, column]) for column in range(len(frame))]
    crossed = np.array(
        [
            np.interp(heights, y[rows, column], x[rows, column], left=np.nan, right=np.nan)
            if len(rows) > 1
            else np.full(len(heights), np.nan)
            for column, rows in enumerate(columns)
        ]
    )
    for height, line in zip(heights, crossed.T, strict=True):
        kept = np.flatnonzero(~np.isnan(line))
        if len(kept) > 1:
            kept = kept[np.unique(np.round(np.linspace(0, len(kept) - 1, _PLACES)).astype(int))]
            kept = kept[np.argsort(line[kept])]
            # Rounded, so that another processor's last bits change no judgement.
            places, shares = np.round(line[kept], 1).tolist(), np.round(frame[kept], 5).tolist()
            yield SeenLine(float(height), tuple(places), tuple(shares))
