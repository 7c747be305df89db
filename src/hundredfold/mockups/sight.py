"""How wide art is in a picture: which part of a print area a plate shows, and where across its frame."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hundredfold.catalogue.blanks import Body, PrintArea
from hundredfold.mockups.plate import Plate
from hundredfold.mockups.surface import ClothSheet
from hundredfold.placement.place import Placement

Floats = NDArray[np.float64]

_HEIGHTS = 7  # lines across the area that are followed over the goods
_PLACES = 65  # kept of each
_STEP_PX = 4  # of the frame, from one place that is looked at to the next


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


@dataclass(frozen=True)
class Sight:
    """A print area as a plate shows it, in lines from its top down; none where the plate hides it."""

    lines: tuple[SeenLine, ...]

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
    return Sight(tuple(_lines(heights, (x, y, shown), across / plate.size_px)))


def _on_area(
    plate: Plate, area: PrintArea, body: Body, across: Floats, down: Floats
) -> tuple[Floats, Floats]:
    at_x, at_y = plate.baked(across, down)
    if isinstance(plate.surface, ClothSheet):
        return plate.surface.on_area(*plate.surface.seen(at_x, at_y), area)
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
