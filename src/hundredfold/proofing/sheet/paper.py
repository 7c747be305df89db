"""The proof sheet on paper: an A4 PDF of the same cards. The same sheet gives the same bytes."""

import io
from itertools import zip_longest
from typing import Any
from xml.sax.saxutils import escape

from reportlab.lib.pagesizes import A4
from reportlab.lib.styles import ParagraphStyle
from reportlab.lib.units import mm
from reportlab.platypus import Flowable, Image, KeepTogether, Paragraph, SimpleDocTemplate, Spacer, Table

from hundredfold.kernel.counting import counted
from hundredfold.proofing.sheet.cards import GLOSSARY, Card, Figure, ProofSheet, totals_of
from hundredfold.proofing.sheet.faces import SANS, SANS_BOLD, SERIF, SERIF_BOLD, Faces, FontFiles, letters_of
from hundredfold.proofing.sheet.marks import INK, MARKS, SOFT, Legend, Rule, Shaped, Swatches

_WORDS = {"stop": ("Stopped.", "stop"), "warn": ("Have a look.", "look"), "fine": ("Ready.", "best")}
_SIDE, _GAP = 16 * mm, 4 * mm
_WIDTH = A4[0] - 2 * _SIDE
_FIGURE, _SMALL = 30 * mm, 30 * mm
_LABEL = 33 * mm
_READY_ACROSS = 5


def _style(name: str, font: str, size: float, colour: Any = INK, after: float = 0.0) -> ParagraphStyle:
    return ParagraphStyle(
        name, fontName=font, fontSize=size, leading=size * 1.35, textColor=colour, spaceAfter=after
    )


TITLE = _style("title", SERIF_BOLD, 28, after=1 * mm)
ABOVE = _style("above", SANS_BOLD, 9, SOFT, 1 * mm)
NUMBER = _style("number", SERIF_BOLD, 20)
HEAD = _style("head", SERIF_BOLD, 16, after=2.5 * mm)
NAME = _style("name", SERIF_BOLD, 13, after=1 * mm)
TEXT = _style("text", SERIF, 10.5, after=1.2 * mm)
ADVICE = _style("try", SANS, 9, SOFT, 1.6 * mm)
ALSO = _style("also", SANS, 8.2, SOFT, 0.7 * mm)
SMALL = _style("small", SANS, 8, SOFT)
CAPTION = _style("caption", SANS, 7.6, SOFT)
CAPTION_NAME = _style("caption name", SANS_BOLD, 8)
_TOLD = (TEXT, ADVICE, ALSO)


def paper(sheet: ProofSheet, fonts: FontFiles) -> bytes:
    """The PDF."""
    faces = Faces(fonts, letters_of(sheet))

    def number(canvas: Any, document: Any) -> None:
        canvas.setFont(faces.registered(SANS), 8)
        canvas.setFillColor(SOFT)
        canvas.drawRightString(A4[0] - _SIDE, 9 * mm, str(document.page))

    out = io.BytesIO()
    # invariant: no clock and no chance in the file.
    document = SimpleDocTemplate(
        out, pagesize=A4, leftMargin=_SIDE, rightMargin=_SIDE, topMargin=14 * mm, bottomMargin=15 * mm,
        title=f"Proof sheet, {sheet.shop}", author=sheet.shop, invariant=1,
    )  # fmt: skip
    document.build(_Paper(faces).story(sheet), onFirstPage=number, onLaterPages=number)
    return out.getvalue()


class _Paper:
    """Flowables from cards."""

    def __init__(self, faces: Faces) -> None:
        self._faces = faces

    def story(self, sheet: ProofSheet) -> list[Flowable]:
        """Everything, in order."""
        story = [*self._head(sheet)]
        if sheet.cards:
            story += [
                self._words("Look at these first", HEAD),
                Legend(self._faces, _WIDTH),
                Spacer(1, 1.5 * mm),
            ]
            story += [self._glossary(), Spacer(1, 3 * mm)]
        story += [KeepTogether(self._card(card)) for card in sheet.cards]
        if sheet.left_out:
            more = counted(sheet.left_out, "more design wants", "more designs want")
            story.append(self._words(f"{more} a look.", TEXT))
        if sheet.ready:
            rows = self._ready(sheet.ready)
            heading = [Spacer(1, 3 * mm), Rule(_WIDTH), Spacer(1, 4 * mm), self._words("Ready", HEAD)]
            story += [KeepTogether([*heading, rows[0]]), *rows[1:]]
        return story

    def _head(self, sheet: ProofSheet) -> list[Flowable]:
        numbers, sentence = totals_of(sheet)
        cells = [
            [self._words(number, NUMBER) for number, _ in numbers],
            [self._words(words, SMALL) for _, words in numbers],
        ]
        table = Table(cells, colWidths=[38 * mm] * len(numbers), hAlign="LEFT")
        table.setStyle(_PLAIN)
        rule, room = Rule(_WIDTH), Spacer(1, 2.5 * mm)
        top = [self._words("PROOF SHEET", ABOVE), self._words(sheet.shop, TITLE), self._words(sentence, TEXT)]
        return [*top, rule, room, table, room, rule, Spacer(1, 6 * mm)]

    def _words(self, text: str, style: ParagraphStyle, lead: str = "", mark: str = "") -> Flowable:
        """A paragraph, with a bold word in a mark's colour before it. In further scripts: outlines."""
        if not self._faces.covers(style.fontName, text):
            # Names stand as their script does, sentences as English.
            return Shaped(self._faces, style, f"{lead} {text}".lstrip(), "ltr" if style in _TOLD else "")
        if lead:
            lead = f'<font color="#{MARKS[mark].hexval()[2:]}"><b>{escape(lead)}</b></font> '
        return Paragraph(lead + escape(text), self._set(style))

    def _set(self, style: ParagraphStyle) -> ParagraphStyle:
        """The style in the registered font."""
        return ParagraphStyle(style.name, style, fontName=self._faces.registered(style.fontName))

    def _glossary(self) -> Flowable:
        words = " ".join(f"<b>{escape(word)}</b> {escape(meaning)}." for word, meaning in GLOSSARY)
        return Paragraph(words, self._set(SMALL))

    def _card(self, card: Card) -> list[Flowable]:
        words: list[Flowable] = [
            self._words(card.name, NAME),
            self._words(card.sentence, TEXT, *_WORDS[card.severity]),
            self._words(card.advice, ADVICE),
        ]
        words += [self._words(told, ALSO, "!", "look") for told in card.also]
        parts: list[Flowable] = [Rule(_WIDTH), Spacer(1, 3 * mm)]
        if card.figures:
            taken = len(card.figures) * (_FIGURE + _GAP)
            beside = Table(
                [[self._figures(card.figures), words]], colWidths=[taken, _WIDTH - taken], hAlign="LEFT"
            )
            beside.setStyle(_PLAIN)
            parts.append(beside)
        else:
            parts += words
        return [*parts, Spacer(1, 1.5 * mm), *self._colours(card), Spacer(1, 3.5 * mm)]

    def _colours(self, card: Card) -> list[Flowable]:
        """The strips in two columns, and the blanks that have none."""
        room = _WIDTH / 2 - _LABEL
        cells = [
            [self._words(strip.blank, SMALL), Swatches(self._faces, strip, room)] for strip in card.strips
        ]
        half = -(-len(cells) // 2)
        pairs = [one + other for one, other in zip_longest(cells[:half], cells[half:], fillvalue=["", ""])]
        parts: list[Flowable] = []
        if pairs:
            table = Table(pairs, colWidths=[_LABEL, room] * 2, hAlign="LEFT")
            table.setStyle(_TIGHT)
            parts.append(table)
        if card.barred:
            parts += [
                Spacer(1, 1 * mm),
                self._words(f"Left out altogether: {'; '.join(card.barred)}.", SMALL),
            ]
        return parts

    def _figures(self, figures: tuple[Figure, ...]) -> Table:
        pictures = [Image(io.BytesIO(figure.jpeg), _FIGURE, _FIGURE) for figure in figures]
        words = [
            [self._words("", CAPTION, one.head, one.mark), self._words(one.caption, CAPTION)]
            for one in figures
        ]
        table = Table([pictures, words], colWidths=[_FIGURE + _GAP] * len(figures), hAlign="LEFT")
        table.setStyle([*_PLAIN, ("RIGHTPADDING", (0, 0), (-1, -1), _GAP)])
        return table

    def _ready(self, cards: tuple[Card, ...]) -> list[Flowable]:
        """Small pictures with their names, in rows that are not broken."""
        rows: list[Flowable] = []
        for first in range(0, len(cards), _READY_ACROSS):
            cells = [self._small(card) for card in cards[first : first + _READY_ACROSS]]
            cells += [[]] * (_READY_ACROSS - len(cells))
            row = Table([cells], colWidths=[_WIDTH / _READY_ACROSS] * _READY_ACROSS, hAlign="LEFT")
            row.setStyle([*_PLAIN, ("RIGHTPADDING", (0, 0), (-1, -1), _GAP)])
            rows += [row, Spacer(1, 3 * mm)]
        return rows

    def _small(self, card: Card) -> list[Flowable]:
        pictures = [Image(io.BytesIO(figure.jpeg), _SMALL, _SMALL) for figure in card.figures[:1]]
        for picture in pictures:
            picture.hAlign = "LEFT"
        colours = f"{counted(card.passed, 'colour')} to list"
        return [*pictures, self._words(card.name, CAPTION_NAME), self._words(colours, CAPTION)]


_PLAIN = [
    ("LEFTPADDING", (0, 0), (-1, -1), 0),
    ("RIGHTPADDING", (0, 0), (-1, -1), 0),
    ("TOPPADDING", (0, 0), (-1, -1), 0),
    ("BOTTOMPADDING", (0, 0), (-1, -1), 0),
    ("VALIGN", (0, 0), (-1, -1), "TOP"),
]
_TIGHT = [
    ("VALIGN", (0, 0), (-1, -1), "MIDDLE"),
    ("LEFTPADDING", (0, 0), (-1, -1), 0),
    ("RIGHTPADDING", (0, 0), (-1, -1), 0),
    ("TOPPADDING", (0, 0), (-1, -1), 0),
    ("BOTTOMPADDING", (0, 0), (-1, -1), 0),
]
