"""The proof sheet on paper: an A4 PDF of the same cards. The same sheet gives the same bytes."""

import io
from itertools import zip_longest
from typing import Any
from xml.sax.saxutils import escape

from reportlab.lib.colors import HexColor
from reportlab.lib.enums import TA_LEFT
from reportlab.lib.pagesizes import A4
from reportlab.lib.styles import ParagraphStyle
from reportlab.lib.units import mm
from reportlab.platypus import Flowable, Image, KeepTogether, Paragraph, SimpleDocTemplate, Spacer, Table

from hundredfold.kernel.counting import counted
from hundredfold.proofing.sheet.cards import STATES, Card, Figure, Sheet, Strip, Swatch

INK, SOFT, LINE = HexColor("#26221c"), HexColor("#6d655a"), HexColor("#e4dccf")
MARKS = {
    "stop": HexColor("#a4282b"),
    "look": HexColor("#8a5a00"),
    "repair": HexColor("#2b5f8a"),
    "best": HexColor("#2c6a45"),
}
_WORDS = {"stop": "Stopped.", "warn": "Have a look.", "fine": "Ready."}
_SIDE, _GAP = 17 * mm, 4 * mm
_WIDTH = A4[0] - 2 * _SIDE
_FIGURE = 34 * mm
_FIGURES = 3 * _FIGURE + 3 * _GAP
_LABEL, _ROW = 36 * mm, _WIDTH / 2 - 36 * mm


def _style(name: str, font: str, size: float, colour: Any = INK, after: float = 0) -> ParagraphStyle:
    return ParagraphStyle(
        name,
        fontName=font,
        fontSize=size,
        leading=size * 1.35,
        textColor=colour,
        spaceAfter=after,
        alignment=TA_LEFT,
    )


TITLE = _style("title", "Times-Bold", 26, after=2 * mm)
HEAD = _style("head", "Times-Bold", 16, after=3 * mm)
NAME = _style("name", "Times-Bold", 13, after=1 * mm)
TEXT = _style("text", "Times-Roman", 11, after=1 * mm)
ADVICE = _style("try", "Times-Italic", 10.5, SOFT, 1.5 * mm)
ALSO = _style("also", "Times-Roman", 9.5, SOFT, 0.8 * mm)
SMALL = _style("small", "Helvetica", 8, SOFT)
CAPTION = _style("caption", "Helvetica", 7.5, SOFT)


def paper(sheet: Sheet) -> bytes:
    """The PDF."""
    story: list[Flowable] = [
        Paragraph(_text(f"Proof sheet: {sheet.shop}"), TITLE),
        Paragraph(_text(_totals(sheet)), TEXT),
        Spacer(1, 5 * mm),
    ]
    if sheet.cards:
        story += [Paragraph("Look at these first", HEAD), _Legend(), Spacer(1, 3 * mm)]
    story += [KeepTogether(_card(card)) for card in sheet.cards]
    if sheet.left_out:
        story.append(
            Paragraph(f"{counted(sheet.left_out, 'more design wants', 'more designs want')} a look.", TEXT)
        )
    if sheet.ready:
        names = ", ".join(card.name for card in sheet.ready)
        story += [Spacer(1, 4 * mm), Paragraph("Ready", HEAD), Paragraph(_text(names), TEXT)]
    out = io.BytesIO()
    # invariant: no clock and no chance in the file.
    document = SimpleDocTemplate(
        out, pagesize=A4, leftMargin=_SIDE, rightMargin=_SIDE, topMargin=15 * mm, bottomMargin=15 * mm,
        title=f"Proof sheet, {sheet.shop}", author=sheet.shop, invariant=1,
    )  # fmt: skip
    document.build(story, onFirstPage=_number, onLaterPages=_number)
    return out.getvalue()


def _text(words: str) -> str:
    """Words for a paragraph: what the PDF's standard fonts cannot show becomes a question mark."""
    return escape(words.encode("cp1252", "replace").decode("cp1252"))


def _totals(sheet: Sheet) -> str:
    return (
        f"{counted(sheet.designs, 'design')} on {counted(sheet.blanks, 'blank')}: {sheet.passed:,} pairs of "
        f"design and colour to list, {sheet.warned:,} of them after a look; {sheet.stopped:,} left out."
    )


def _number(canvas: Any, document: Any) -> None:
    canvas.setFont("Helvetica", 8)
    canvas.setFillColor(SOFT)
    canvas.drawRightString(A4[0] - _SIDE, 9 * mm, str(document.page))


def _card(card: Card) -> list[Flowable]:
    word = f'<font color="{_hex(card.severity)}"><b>{_WORDS[card.severity]}</b></font>'
    words: list[Flowable] = [
        Paragraph(_text(card.name), NAME),
        Paragraph(f"{word} {_text(card.sentence)}", TEXT),
        Paragraph(_text(card.advice), ADVICE),
    ]
    parts: list[Flowable] = [_Rule(), Spacer(1, 3 * mm)]
    if card.figures:
        beside = Table(
            [[_figures(card.figures), words]], colWidths=[_FIGURES, _WIDTH - _FIGURES], hAlign="LEFT"
        )
        beside.setStyle(_PLAIN)
        parts.append(beside)
    else:
        parts += words
    parts += [Paragraph(f"! {_text(told)}", ALSO) for told in card.also]
    return [*parts, *_colours(card), Spacer(1, 6 * mm)]


def _colours(card: Card) -> list[Flowable]:
    """The strips in two columns, and the blanks that have none."""
    cells = [[Paragraph(_text(strip.blank), SMALL), _Swatches(strip)] for strip in card.strips]
    half = -(-len(cells) // 2)
    pairs = [first + second for first, second in zip_longest(cells[:half], cells[half:], fillvalue=["", ""])]
    parts: list[Flowable] = []
    if pairs:
        table = Table(pairs, colWidths=[_LABEL, _ROW] * 2, hAlign="LEFT")
        table.setStyle(_TIGHT)
        parts += [Spacer(1, 1 * mm), table]
    if card.barred:
        parts.append(Paragraph(_text(f"Left out altogether: {'; '.join(card.barred)}."), SMALL))
    return parts


def _hex(severity: str) -> str:
    mark = MARKS[{"stop": "stop", "warn": "look", "fine": "best"}[severity]]
    return f"#{mark.hexval()[2:]}"


def _figures(figures: tuple[Figure, ...]) -> Table:
    pictures = [Image(io.BytesIO(figure.jpeg), _FIGURE, _FIGURE) for figure in figures]
    words = [
        Paragraph(
            f'<font color="#{MARKS[figure.mark].hexval()[2:]}"><b>{_text(figure.head)}</b></font><br/>'
            f"{_text(figure.caption)}",
            CAPTION,
        )
        for figure in figures
    ]
    table = Table([pictures, words], colWidths=[_FIGURE + _GAP] * len(figures), hAlign="LEFT")
    table.setStyle([*_PLAIN, ("RIGHTPADDING", (0, 0), (-1, -1), _GAP)])
    return table


_PLAIN = [
    ("LEFTPADDING", (0, 0), (-1, -1), 0),
    ("RIGHTPADDING", (0, 0), (-1, -1), 0),
    ("TOPPADDING", (0, 0), (-1, -1), 0),
    ("VALIGN", (0, 0), (-1, -1), "TOP"),
]
_TIGHT = [
    ("VALIGN", (0, 0), (-1, -1), "MIDDLE"),
    ("LEFTPADDING", (0, 0), (0, -1), 0),
    ("TOPPADDING", (0, 0), (-1, -1), 0.6),
    ("BOTTOMPADDING", (0, 0), (-1, -1), 0.6),
]


class _Rule(Flowable):  # type: ignore[misc]  # reportlab has no types
    """A thin line across the page."""

    def wrap(self, _width: float, _height: float) -> tuple[float, float]:
        """Its size."""
        return _WIDTH, 1

    def draw(self) -> None:
        """Draw it."""
        self.canv.setStrokeColor(LINE)
        self.canv.line(0, 0, _WIDTH, 0)


class _Swatches(Flowable):  # type: ignore[misc]
    """A row of colours: best in a ring, left out crossed."""

    STEP, RADIUS = 5.5 * mm, 1.6 * mm

    def __init__(self, strip: Strip) -> None:
        super().__init__()
        self.strip = strip
        self.across = max(1, int(_ROW // self.STEP))

    def wrap(self, _width: float, _height: float) -> tuple[float, float]:
        """Its size: as many rows as needed."""
        rows = -(-len(self.strip.swatches) // self.across)
        return _ROW, rows * 5.4 * mm

    def draw(self) -> None:
        """Draw the colours."""
        _, height = self.wrap(0, 0)
        for place, swatch in enumerate(self.strip.swatches):
            x = (place % self.across + 0.5) * self.STEP
            y = height - (place // self.across + 0.5) * 5.4 * mm
            _mark(self.canv, swatch, x, y, self.RADIUS)


class _Legend(Flowable):  # type: ignore[misc]
    """What the marks of the colours mean."""

    STEP, HIGH = 26 * mm, 5.4 * mm

    def wrap(self, _width: float, _height: float) -> tuple[float, float]:
        """Its size."""
        return _WIDTH, self.HIGH

    def draw(self) -> None:
        """Draw a colour in each state, and the word for it."""
        for place, (state, words) in enumerate(STATES.items()):
            x = place * self.STEP + 3 * mm
            _mark(self.canv, Swatch("", "#8fa3b5", "", state), x, self.HIGH / 2, _Swatches.RADIUS)
            self.canv.setFillColor(SOFT)
            self.canv.setFont("Helvetica", 8)
            self.canv.drawString(x + 4 * mm, self.HIGH / 2 - 1 * mm, words)


def _mark(pen: Any, swatch: Swatch, x: float, y: float, radius: float) -> None:
    """A colour with what becomes of it: best in a ring, left out crossed, "!" for a look."""
    pen.setFillColor(HexColor(swatch.body))
    pen.setStrokeColor(LINE)
    pen.setLineWidth(0.5)
    pen.circle(x, y, radius, fill=1)
    if swatch.second:
        pen.setFillColor(HexColor(swatch.second))
        pen.wedge(x - radius, y - radius, x + radius, y + radius, -90, 180, stroke=0, fill=1)
    if swatch.state == "best":
        pen.setStrokeColor(MARKS["best"])
        pen.setLineWidth(1.1)
        pen.circle(x, y, radius + 1.8)
    elif swatch.state == "stop":
        pen.setStrokeColor(MARKS["stop"])
        pen.setLineWidth(1.1)
        pen.line(x - radius, y - radius, x + radius, y + radius)
    elif swatch.state == "look":
        pen.setFillColor(MARKS["look"])
        pen.setFont("Helvetica-Bold", 8)
        pen.drawString(x + radius, y + 1, "!")
