"""How well a row came out, as numbers that checks can use."""

from collections.abc import Sequence
from dataclasses import dataclass

import cv2
import numpy as np
from numpy.typing import NDArray

from hundredfold.designs.layouts.slots import TextSlot
from hundredfold.designs.typesetting.fonts import Font
from hundredfold.designs.typesetting.outline import Bounds, Outline
from hundredfold.designs.typesetting.shaping import ShapedLine

_MASK = 512  # pixels along the longer side when slots are laid over each other
_COUNTER = 96  # pixels to the em when the room inside a letter is measured


@dataclass(frozen=True)
class LineFacts:
    """One line as it was set."""

    slot: str
    text: str
    size_mm: float  # the em
    x_height_mm: float
    shrink: float  # size over the size it was drawn with in the layout
    width_mm: float
    ink: Bounds  # with its outlines, in the drawing's units
    least_x_height_mm: float
    catch: bool = False  # small words between the lines of a block


@dataclass(frozen=True)
class SetFacts:
    """Quality of one filled layout. Shares are 0 to 1."""

    lines: tuple[LineFacts, ...]
    smallest_x_height_mm: float
    smallest_x_height_share: float  # the same by the drawing's width
    most_shrunk: float
    most_lines: int  # in one slot
    width_variation: float  # of the lines of one slot: standard deviation over mean, the worst slot's
    closed_counters: float  # share of the rooms inside letters that outlines close
    overlap: float  # the largest share of a slot's ink that another slot's ink covers
    characters: int

    def as_json(self) -> dict[str, float | int]:
        """Plain numbers, rounded to what they mean."""
        return {
            "characters": self.characters,
            "closed_counters": round(self.closed_counters, 3),
            "most_lines": self.most_lines,
            "most_shrunk": round(self.most_shrunk, 4),
            "overlap": round(self.overlap, 4),
            "smallest_x_height_mm": round(self.smallest_x_height_mm, 3),
            "smallest_x_height_share": round(self.smallest_x_height_share, 6),
            "width_variation": round(self.width_variation, 4),
        }


def width_variation(widths: Sequence[float]) -> float:
    """Standard deviation of the widths over their mean; 0 for a single line."""
    if len(widths) < 2:
        return 0.0
    values = np.asarray(widths)
    return float(values.std() / values.mean()) if values.mean() > 0 else 0.0


def closed_counters(slot: TextSlot, line: ShapedLine, size: float) -> tuple[int, int]:
    """(closed, all) rooms inside the letters of a line: an outline closes those narrower than it is wide."""
    if not slot.edges:
        return 0, 0
    # The part of the innermost outline that lies on the inside of the letter's edge is its own width.
    reach = slot.edges[0].width_mm / slot.mm_per_unit / size
    rooms = [room for glyph in line.glyphs for room in counters(glyph.font, glyph.id)]
    return sum(room <= reach for room in rooms), len(rooms)


_rooms: dict[tuple[str, tuple[tuple[str, float], ...], int], tuple[float, ...]] = {}


def counters(font: Font, glyph_id: int) -> tuple[float, ...]:
    """The radius in em of the largest circle in each enclosed room of a glyph."""
    key = (font.digest, font.axes, glyph_id)
    if key not in _rooms:
        _rooms[key] = _measure_rooms(font.glyph(glyph_id))
    return _rooms[key]


def _measure_rooms(outline: Outline) -> tuple[float, ...]:
    contours = outline.flat
    if len(contours) < 2:
        return ()
    areas = [_signed_area(c) for c in contours]
    main = np.sign(areas[int(np.argmax(np.abs(areas)))])
    rooms = []
    for contour, area in zip(contours, areas, strict=True):
        if np.sign(area) == main or area == 0:
            continue
        low = contour.min(axis=0)
        shape = np.round((contour - low) * _COUNTER + 2).astype(np.int32)
        width, height = shape.max(axis=0) + 3
        mask = np.zeros((int(height), int(width)), dtype=np.uint8)
        cv2.fillPoly(mask, [shape], 255)
        rooms.append(float(cv2.distanceTransform(mask, cv2.DIST_L2, 5).max()) / _COUNTER)
    return tuple(rooms)


def _signed_area(points: NDArray[np.float64]) -> float:
    x, y = points.T
    return float(np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y) / 2)


def overlap(inks: Sequence[Outline], view: tuple[float, float, float, float]) -> float:
    """The largest share of one ink that another covers, on a coarse picture of the drawing."""
    scale = _MASK / max(view[2], view[3])
    shape = (int(view[3] * scale) + 1, int(view[2] * scale) + 1)
    masks = []
    for ink in inks:
        mask = np.zeros(shape, dtype=np.uint8)
        contours = [np.round((c - np.array(view[:2])) * scale).astype(np.int32) for c in ink.flat]
        if contours:
            cv2.fillPoly(mask, contours, 1)
        masks.append(mask.astype(bool))
    worst = 0.0
    for i, first in enumerate(masks):
        for second in masks[i + 1 :]:
            smaller = min(first.sum(), second.sum())
            if smaller:
                worst = max(worst, float((first & second).sum() / smaller))
    return worst
