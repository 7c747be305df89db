"""The size picture: the goods smaller on white, with their measures drawn on."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from hundredfold.catalogue.blanks import Blank, PrintArea
from hundredfold.catalogue.channels import LengthUnit
from hundredfold.designs.typesetting.fonts import Font
from hundredfold.mockups.lettering import Bytes, width_of, write
from hundredfold.mockups.measures import Measures, measures_of
from hundredfold.mockups.plate import Plate
from hundredfold.mockups.resizing import faded, resized
from hundredfold.mockups.sizetable import SizeTable
from hundredfold.mockups.spans import SpannedOutline, spans_of
from hundredfold.mockups.strokes import INK, LIGHT, Point, measuring_line, stroke
from hundredfold.mockups.surface import Side

# Shares of the frame: figures' em, the picture's margin, from goods to a line, around figures in their line,
# and from goods or lines to what stands beneath.
_EM, _MARGIN, _GAP, _AIR, _BENEATH = 0.042, 0.05, 0.042, 0.012, 0.055
_LARGEST = 0.95  # of the goods' own picture
_SHORT, _APART = 0.008, 0.014  # from a light line's end to the goods, and to where two of them would meet
_FADE = 0.045  # of shadows towards the border; less than the margin
_NEAR = 16  # rows or columns looked through for the goods' edge: a hem hangs in its middle
_PEAK = 0.5  # of the goods' width: what is narrower where it is highest has its highest point not at its side


@dataclass(frozen=True)
class _Room:
    """How many pixels of the frame lines, figures and table take on each side of the goods."""

    left: float
    above: float
    below: float
    beneath: float  # below all that


@dataclass(frozen=True)
class Sizing:
    """What the size pictures of all designs have in common: the drawing, and where the goods lie in it."""

    drawing: Bytes  # on white
    kept: int  # side of the goods' picture, in pixels
    off: tuple[int, int]  # its left upper corner; may lie outside the frame


def sizing_of(
    plate: Plate, blank: Blank, area: PrintArea, fonts: Sequence[Font], unit: LengthUnit = LengthUnit.MM
) -> Sizing:
    """Measuring lines with their figures, and beneath the goods a table of sizes or a note.

    A vessel's diameter stands above its rim, where it is measured, a cloth's width below it.
    """
    words, size = measures_of(blank, area, unit), plate.size_px
    table = SizeTable.of(words, unit, size, fonts)
    room = _room(words, size, isinstance(plate.surface, Side), table, fonts)
    frame = np.full((size, size, 3), 255, np.uint8)
    drawn = _Drawing(frame, plate, room, fonts)
    spans = spans_of(plate, blank.form)
    drawn.lines(words, spans)
    drawn.beneath(words, table, (spans.left + spans.right) / 2)
    return Sizing(frame, round(size * drawn.scale), drawn.off)


def size_picture(picture: Bytes, sizing: Sizing) -> Bytes:
    """A finished picture smaller, with its measures; the darker of the two shows, as of ink over a shadow."""
    size, kept, (x, y) = len(picture), sizing.kept, sizing.off
    made = sizing.drawing.copy()
    part = np.s_[max(y, 0) : min(y + kept, size), max(x, 0) : min(x + kept, size)]
    small = resized(picture, (kept, kept))[max(-y, 0) : size - y, max(-x, 0) : size - x]
    made[part] = np.minimum(made[part], small)
    return faded(made, round(size * _FADE))


def _room(words: Measures, size: int, vessel: bool, table: SizeTable | None, fonts: Sequence[Font]) -> _Room:
    em = _EM * size
    half = width_of(words.high, fonts) * em / 2 if words.high else 0.0
    left = _from_goods(half, size) + half if words.high else 0.0
    beside = _GAP * size + em / 2 if words.wide else 0.0
    beneath = table.height if table else em if words.note else 0.0
    beneath += _BENEATH * size if beneath else 0.0
    return _Room(left, beside if vessel else 0.0, 0.0 if vessel else beside, beneath)


def _from_goods(half: float, size: int) -> float:
    """From the goods to the upright line, so that its figures keep clear of them."""
    return max(_GAP * size, half + _AIR * size)


class _Drawing:
    """A white frame, where the goods come to lie in it, and what is drawn round them."""

    def __init__(self, frame: Bytes, plate: Plate, room: _Room, fonts: Sequence[Font]) -> None:
        self._frame, self._plate, self._room, self._fonts = frame, plate, room, fonts
        self._size, self._vessel = plate.size_px, isinstance(plate.surface, Side)
        box, most = plate.box, self._size * (1 - 2 * _MARGIN)
        wide, high = most - room.left, most - room.above - room.below - room.beneath
        self.scale = min(wide / box.width, high / box.height, _LARGEST)
        # The goods with their lines, figures and table stand in the middle of the frame.
        left = (self._size - box.width * self.scale + room.left) / 2
        top = (self._size - box.height * self.scale + room.above - room.below - room.beneath) / 2
        self.off = (round(left - box.left * self.scale), round(top - box.top * self.scale))

    def lines(self, words: Measures, spans: SpannedOutline) -> None:
        """The measuring lines with their figures, and light lines that lead from them to the goods."""
        left, top = self._at(spans.left, spans.top)
        right, bottom = self._at(spans.right, spans.bottom)
        box, size = self._plate.box, self._size
        corner = (left, top if self._vessel else bottom)  # where light lines of both would meet
        if words.high:
            half = width_of(words.high, self._fonts) * _EM * size / 2
            x = min(left, self._at(box.left, 0)[0]) - _from_goods(half, size)
            for row, y in ((spans.top, top), (spans.bottom, bottom)):
                goods = self._at(self._first_column(row), 0)[0] - _SHORT * size
                self._lead((x, y), (min(goods, left - _APART * size) if y == corner[1] else goods, y))
            self._measure((x, top), (x, bottom), words.high, (_EM * size) * 1.3)
        if words.wide:
            way = -1 if self._vessel else 1  # from the goods to the line
            y = self._at(0, box.top if self._vessel else box.bottom)[1] + way * _GAP * size
            for column, x in ((spans.left, left), (spans.right, right)):
                end = self._at(0, self._end_row(column))[1] + way * _SHORT * size
                apart = corner[1] + way * _APART * size
                self._lead((x, y), (x, min(end, apart) if self._vessel else max(end, apart)))
            wide = width_of(words.wide, self._fonts) * _EM * size
            self._measure((left, y), (right, y), words.wide, wide + 2 * _AIR * size)

    def beneath(self, words: Measures, table: SizeTable | None, middle: float) -> None:
        """Under the body's middle the note, or the table of sizes, as far as the frame has room."""
        below = self._at(0, self._plate.box.bottom)[1] + self._room.below + _BENEATH * self._size
        x = self._at(middle, 0)[0]
        if table is not None:
            most = self._size * (1 - _MARGIN) - table.width / 2
            table.draw(self._frame, (min(max(x, self._size - most), most), below))
        elif words.note:
            spot = (x, below + _EM * self._size / 2)
            write(self._frame, words.note, spot, _EM * self._size, self._fonts, INK)

    def _at(self, x: float, y: float) -> Point:
        return self.off[0] + x * self.scale, self.off[1] + y * self.scale

    def _measure(self, start: Point, end: Point, figures: str, gap: float) -> None:
        """A line with its figures in a gap of its middle."""
        measuring_line(self._frame, start, end, gap)
        middle = ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2)
        write(self._frame, figures, middle, _EM * self._size, self._fonts, INK)

    def _lead(self, line: Point, end: Point) -> None:
        """A light line from the measuring line towards the goods, if it is long enough to be seen."""
        if max(abs(end[0] - line[0]), abs(end[1] - line[1])) > _SHORT * self._size:
            stroke(self._frame, line, end, LIGHT, self._size / 750)

    def _first_column(self, row: float) -> float:
        """The goods' left edge at a row of the plate's frame; of a peak the highest point."""
        cover, box = self._plate.planes["cover"] > 127, self._plate.box
        at = round(row) - box.top
        peak = np.flatnonzero(cover[at]) if at < box.height // 2 else np.arange(0)
        if len(peak) and np.ptp(peak) < _PEAK * box.width:
            return box.left + int(peak[0])
        near = np.clip(np.arange(-_NEAR, _NEAR + 1) + at, 0, box.height - 1)
        return box.left + int(np.flatnonzero(cover[near].any(0))[0])

    def _end_row(self, column: float) -> float:
        """The goods' upper edge, of cloth the lower, at a column of the plate's frame."""
        cover, box = self._plate.planes["cover"] > 127, self._plate.box
        near = np.clip(np.arange(-_NEAR, _NEAR + 1) + round(column) - box.left, 0, box.width - 1)
        rows = np.flatnonzero(cover[:, near].any(1))
        return float(box.top + rows[0] if self._vessel else box.top + rows[-1] + 1)
