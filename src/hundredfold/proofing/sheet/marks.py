"""The drawn parts of the paper sheet: rules, rows of colours with their marks, words in any script."""

from typing import Any

from reportlab.lib.colors import HexColor
from reportlab.lib.units import mm
from reportlab.platypus import Flowable

from hundredfold.proofing.sheet.cards import STATES, Strip, Swatch
from hundredfold.proofing.sheet.faces import SANS, SANS_BOLD, Faces, draw_line

INK, SOFT, LINE = HexColor("#26221c"), HexColor("#6d655a"), HexColor("#ded5c6")
MARKS = {
    "stop": HexColor("#a4282b"),
    "look": HexColor("#8a5a00"),
    "repair": HexColor("#2b5f8a"),
    "best": HexColor("#2c6a45"),
}
RADIUS, _STEP, _ROW = 1.45 * mm, 4.9 * mm, 4.7 * mm
_RIM = 1.6  # points from a colour to the ring round it


class Rule(Flowable):  # type: ignore[misc]  # reportlab has no types
    """A thin line across."""

    def __init__(self, width: float) -> None:
        super().__init__()
        self.across = width

    def wrap(self, _width: float, _height: float) -> tuple[float, float]:
        """Its size."""
        return self.across, 1

    def draw(self) -> None:
        """Draw it."""
        self.canv.setStrokeColor(LINE)
        self.canv.setLineWidth(0.7)
        self.canv.line(0, 0, self.across, 0)


class Swatches(Flowable):  # type: ignore[misc]
    """A row of colours, or more rows where they need them."""

    def __init__(self, faces: Faces, strip: Strip, width: float) -> None:
        super().__init__()
        self._faces = faces
        self.strip = strip
        self.wide = width
        self.across = max(1, int(width // _STEP))

    def wrap(self, _width: float, _height: float) -> tuple[float, float]:
        """Its size."""
        return self.wide, -(-len(self.strip.swatches) // self.across) * _ROW

    def draw(self) -> None:
        """Draw the colours."""
        _, height = self.wrap(0, 0)
        for place, swatch in enumerate(self.strip.swatches):
            x = (place % self.across + 0.5) * _STEP
            mark(self.canv, self._faces, swatch, x, height - (place // self.across + 0.5) * _ROW)


class Legend(Flowable):  # type: ignore[misc]
    """What the marks of the colours mean."""

    def __init__(self, faces: Faces, width: float) -> None:
        super().__init__()
        self._faces = faces
        self.across = width

    def wrap(self, _width: float, _height: float) -> tuple[float, float]:
        """Its size."""
        return self.across, _ROW

    def draw(self) -> None:
        """Draw a colour in each state, and the word for it."""
        x, sans = RADIUS + _RIM, self._faces.registered(SANS)
        for state, words in STATES.items():
            mark(self.canv, self._faces, Swatch("", "#8fa3b5", "", state), x, _ROW / 2)
            self.canv.setFillColor(SOFT)
            self.canv.setFont(sans, 8.5)
            self.canv.drawString(x + 3.4 * mm, _ROW / 2 - 1 * mm, words)
            x += self.canv.stringWidth(words, sans, 8.5) + 12 * mm


class Shaped(Flowable):  # type: ignore[misc]
    """Words that a paragraph's font lacks, shaped and drawn as outlines; right-to-left lines stand right."""

    def __init__(self, faces: Faces, style: Any, text: str, direction: str) -> None:
        super().__init__()
        self._faces, self._style, self._text, self._direction = faces, style, text, direction
        self._size = style.fontSize

    def getSpaceAfter(self) -> float:  # noqa: N802  # reportlab's name
        """Points below it."""
        return float(self._style.spaceAfter)

    def wrap(self, width: float, _height: float) -> tuple[float, float]:
        """Its size at this width."""
        self._across = width
        self._lines = self._faces.lines(self._style.fontName, self._text, self._size, width, self._direction)
        return width, len(self._lines) * self._style.leading

    def draw(self) -> None:
        """Draw the lines."""
        self.canv.setFillColor(self._style.textColor)
        step = self._style.leading
        for place, line in enumerate(self._lines):
            x = max(0.0, self._across - line.advance * self._size) if line.right_to_left else 0.0
            y = (len(self._lines) - place) * step - self._size
            draw_line(self.canv, line, self._size, x, y)


def mark(pen: Any, faces: Faces, swatch: Swatch, x: float, y: float) -> None:
    """A colour with what becomes of it: best in a ring, left out crossed, "!" for a look."""
    pen.setFillColor(HexColor(swatch.body))
    pen.setStrokeColor(LINE)
    pen.setLineWidth(0.5)
    pen.circle(x, y, RADIUS, fill=1)
    if swatch.second:
        pen.setFillColor(HexColor(swatch.second))
        pen.wedge(x - RADIUS, y - RADIUS, x + RADIUS, y + RADIUS, -90, 180, stroke=0, fill=1)
    if swatch.state == "best":
        pen.setStrokeColor(MARKS["best"])
        pen.setLineWidth(1.1)
        pen.circle(x, y, RADIUS + _RIM)
    elif swatch.state == "stop":
        _crossed(pen, x, y)
    elif swatch.state == "look":
        _badge(pen, faces, x + RADIUS * 0.95, y + RADIUS * 0.85)


def _crossed(pen: Any, x: float, y: float) -> None:
    """A bar that shows on any colour: red in a white rim."""
    reach = RADIUS * 1.15
    for colour, width in ((HexColor("#ffffff"), 2.4), (MARKS["stop"], 1.2)):
        pen.setStrokeColor(colour)
        pen.setLineWidth(width)
        pen.line(x - reach, y - reach, x + reach, y + reach)


def _badge(pen: Any, faces: Faces, x: float, y: float) -> None:
    pen.setFillColor(MARKS["look"])
    pen.setStrokeColor(HexColor("#ffffff"))
    pen.setLineWidth(0.6)
    pen.circle(x, y, 1.05 * mm, fill=1)
    pen.setFillColor(HexColor("#ffffff"))
    pen.setFont(faces.registered(SANS_BOLD), 6.4)
    pen.drawCentredString(x, y - 2.15, "!")
