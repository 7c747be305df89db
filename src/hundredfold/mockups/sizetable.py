"""The table of a size picture: a column a size, a row a measure, signs instead of words."""

from collections.abc import Sequence
from dataclasses import dataclass

import cv2

from hundredfold.catalogue.channels import LengthUnit
from hundredfold.designs.typesetting.fonts import Font
from hundredfold.kernel.errors import ShopError
from hundredfold.mockups.lettering import Bytes, Colour, width_of, write
from hundredfold.mockups.measures import Measures
from hundredfold.mockups.strokes import INK, LIGHT, Point, measuring_arrow, stroke

# Shares of the frame: the figures' em, a row's height, a column's air, the widest the table may be.
_EM, _ROW, _AIR, _WIDEST = 0.036, 0.052, 0.040, 0.90
_SIGN = 0.45  # of the figures' em: half a sign's length, so that an upright one is as high as they are
_TINT: Colour = (240, 240, 242)  # behind the size that the picture shows


@dataclass(frozen=True)
class SizeTable:
    """What stands in the table, and how large it is drawn. Lengths in pixels of the frame."""

    words: Measures
    unit: str
    signs: tuple[str, ...]  # of the rows: "Ø", "wide" or "high"
    em: float
    step: float  # a column's width
    row: float
    fonts: tuple[Font, ...]

    @staticmethod
    def of(words: Measures, unit: LengthUnit, size: int, fonts: Sequence[Font]) -> "SizeTable | None":
        """The table; None where there is nothing to compare, or a size's name has letters the font lacks."""
        columns = words.columns
        if not columns:
            return None
        try:
            widest = max(width_of(text, fonts) for c in columns for text in (c.size, c.wide, c.high) if text)
        except ShopError:
            return None
        wide, high = any(c.wide for c in columns), any(c.high for c in columns)
        signs = ("Ø" if words.diameter else "wide",) * wide + ("high",) * high
        whole = (widest * _EM + _AIR) * (len(columns) + 1)
        shrunk = min(1.0, _WIDEST / whole)
        em, step = _EM * size * shrunk, (widest * _EM + _AIR) * size * shrunk
        return SizeTable(words, unit.value, signs, em, step, _ROW * size * shrunk, tuple(fonts))

    @property
    def height(self) -> float:
        """Its height, of all rows."""
        return self.row * (1 + len(self.signs))

    @property
    def width(self) -> float:
        """Its width, of the signs' column too."""
        return self.step * (1 + len(self.words.columns))

    def draw(self, frame: Bytes, top: Point) -> None:
        """Draw it below a point, its middle."""
        columns = self.words.columns
        left = top[0] - self.width / 2
        middles = [left + self.step * (k + 0.5) for k in range(len(columns) + 1)]
        rows = [top[1] + self.row * (k + 0.5) for k in range(1 + len(self.signs))]
        for column, x in zip(columns, middles[1:], strict=True):
            if column.size == self.words.shown:
                half = self.step / 2
                low = (round(x + half), round(top[1] + self.height))
                cv2.rectangle(frame, (round(x - half), round(top[1])), low, _TINT, cv2.FILLED)
        line = top[1] + self.row
        stroke(frame, (left, line), (left + self.width, line), LIGHT, frame.shape[0] / 750)
        self._write(frame, self.unit, (middles[0], rows[0]))
        for sign, y in zip(self.signs, rows[1:], strict=True):
            self._sign(frame, sign, (middles[0], y))
        for column, x in zip(columns, middles[1:], strict=True):
            figures = [column.high if sign == "high" else column.wide for sign in self.signs]
            for text, y in zip((column.size, *figures), rows, strict=True):
                self._write(frame, text or "–", (x, y))

    def _write(self, frame: Bytes, text: str, spot: Point) -> None:
        write(frame, text, spot, self.em, self.fonts, INK)

    def _sign(self, frame: Bytes, sign: str, spot: Point) -> None:
        """A small measuring arrow, lying or upright, or the sign of a diameter."""
        if sign == "Ø":
            self._write(frame, sign, spot)
            return
        x, y = (self.em * _SIGN, 0.0) if sign == "wide" else (0.0, self.em * _SIGN)
        measuring_arrow(frame, (spot[0] - x, spot[1] - y), (spot[0] + x, spot[1] + y), self.em)
