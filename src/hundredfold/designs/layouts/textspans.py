"""Spans of a drawing's text: what an editor saves as tspans with a colour, weight, size or slant of their
own."""

from lxml import etree

from hundredfold.designs.layouts.drawing import Drawing, number
from hundredfold.designs.layouts.slots import SpanStyle
from hundredfold.designs.typesetting.spans import MOST, marked

LEAN = 0.2126  # the tangent of 12 degrees, a usual slope of italics


def read_spans(
    drawing: Drawing, element: etree._Element, fonts: tuple[str, ...]
) -> tuple[str, tuple[SpanStyle, ...]]:
    """The text with its spans marked, numbered from 2, and their styles."""
    own = _style_of(drawing, element, element, fonts)
    styles: list[SpanStyle] = []

    def text_in(part: etree._Element) -> str:
        words = str(part.text or "") + "".join(
            text_in(child) + str(child.tail or "") for child in part if isinstance(child.tag, str)
        )
        style = _style_of(drawing, part, element, fonts)
        if part is element or style == own or not words.strip() or len(styles) + 2 > MOST:
            return words
        if style not in styles:
            styles.append(style)
        return marked(words, styles.index(style) + 2)

    return text_in(element), tuple(styles)


def _style_of(
    drawing: Drawing, part: etree._Element, element: etree._Element, fonts: tuple[str, ...]
) -> SpanStyle:
    named = drawing.style(part, "font-family")
    family = tuple(name.strip().strip("'\"") for name in named.split(",") if name.strip()) or fonts
    size = number(drawing.style(element, "font-size"), 16.0)
    fill = part.get("data-fill") or _own_fill(drawing, part, element)
    slanted = drawing.style(part, "font-style") in ("italic", "oblique")
    scale = number(drawing.style(part, "font-size"), size) / size if size > 0 else 1.0
    return SpanStyle(
        fill, family, font_weight(drawing.style(part, "font-weight")), scale, LEAN if slanted else 0.0
    )


def _own_fill(drawing: Drawing, part: etree._Element, element: etree._Element) -> str:
    at: etree._Element | None = part
    while at is not None and at is not element:
        if at.get("data-fill"):
            return str(at.get("data-fill"))
        at = at.getparent()
    fill = drawing.style(part, "fill") or "#000000"
    return (
        str(element.get("data-fill", fill)) if fill == (drawing.style(element, "fill") or "#000000") else fill
    )


def font_weight(text: str) -> int:
    """A weight as a number."""
    named = {"": 400, "normal": 400, "bold": 700, "lighter": 300, "bolder": 700}
    return named.get(text, 0) or int(number(text, 400))
