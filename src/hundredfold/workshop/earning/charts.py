"""The report as a drawing: a bar a line, what was earned beside what was planned; SVG, or PNG from it.

Drawn here rather than by a plotting library: the one we looked at brings ten packages and its own fonts for
what is two kinds of rectangle. Letters are outlines of a packaged font, so that the same report gives the
same file anywhere.
"""

import io
from collections.abc import Iterator
from decimal import Decimal
from functools import lru_cache
from html import escape
from pathlib import Path
from typing import Any

import fontpkg
from fontTools.pens.svgPathPen import SVGPathPen
from fontTools.pens.transformPen import TransformPen
from fontTools.ttLib import TTFont

from hundredfold.kernel.errors import ShopError, Where
from hundredfold.runner.atomic import write_whole
from hundredfold.runner.diskerrors import writing_to
from hundredfold.workshop.records.earned import EarnedRecord, SalesView

WIDTH, ROW, LEFT, RIGHT, TOP = 960, 30, 320, 110, 70
MOST = 24  # lines drawn: the best and the worst
_GOOD, _BAD, _PLAN, _INK, _PALE = "#2f6f6a", "#b4443c", "#1d2a33", "#1d2a33", "#8a949b"
_SIZE = 13.0


def write_chart(view: SalesView, path: Path) -> None:
    """Draw the report into a file named .svg or .png.

    Raises ShopError ``wrong-use``, and what the disk raises.
    """
    kind = path.suffix.casefold()
    if kind not in (".svg", ".png"):
        raise ShopError("wrong-use", f"{path.name} is neither .svg nor .png", "name it so", Where(str(path)))
    drawn = chart_svg(view).encode()
    with writing_to(path):
        write_whole(path, _png(drawn) if kind == ".png" else drawn)


def _png(drawn: bytes) -> bytes:
    import pyvips

    picture: bytes = pyvips.Image.svgload_buffer(drawn, scale=2).pngsave_buffer(compression=9)
    return picture


def chart_svg(view: SalesView) -> str:
    """The report as SVG; the same bytes for the same report."""
    lines = _lines(view)
    height = TOP + ROW * len(lines) + 46
    amounts = [Decimal(text) for one in lines for text in (one.profit, one.planned)]
    low, high = min(*amounts, Decimal(0)), max(*amounts, Decimal(1))
    scale = (WIDTH - LEFT - RIGHT) / float(high - low)
    zero = LEFT + float(-low) * scale
    title = f"Earned by {view.by}, {view.first} to {view.last}, {view.currency}"
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{WIDTH}" height="{height}" viewBox="0 0 '
        f'{WIDTH} {height}">',
        f"<title>{escape(title)}</title>",
        f'<rect width="{WIDTH}" height="{height}" fill="#fbfaf7"/>',
        _text(title, 24, 36, 19, _INK),
        *(part for at, one in enumerate(lines) for part in _bar(one, at, zero, scale)),
        f'<path d="M{zero:.1f} {TOP - 8}V{TOP + ROW * len(lines) + 4}" stroke="{_INK}"/>',
        _text("bar: earned    line: planned for the same pieces", LEFT, height - 16, 12, _PALE),
        "</svg>",
    ]
    return "\n".join(parts) + "\n"


def _lines(view: SalesView) -> tuple[EarnedRecord, ...]:
    lines = tuple(sorted(view.lines, key=lambda one: one.name)) if view.by == "month" else view.lines
    return lines if len(lines) <= MOST else (*lines[: MOST // 2], *lines[-MOST // 2 :])


def _bar(one: EarnedRecord, at: int, zero: float, scale: float) -> Iterator[str]:
    top = TOP + ROW * at
    profit, planned = float(one.profit) * scale, float(one.planned) * scale
    left = min(zero, zero + profit)
    colour = _BAD if profit < 0 else _GOOD
    yield _text(_cut(one.name, LEFT - 40), LEFT - 12, top + 17, _SIZE, _INK, end=True)
    wide = max(abs(profit), 0.5)
    yield f'<rect x="{left:.1f}" y="{top + 4}" width="{wide:.1f}" height="18" fill="{colour}"/>'
    yield f'<path d="M{zero + planned:.1f} {top + 1}v24" stroke="{_PLAN}" stroke-width="2.5"/>'
    yield _text(one.profit, max(zero, zero + profit, zero + planned) + 8, top + 17, _SIZE, _INK)


@lru_cache(maxsize=1)
def _font() -> tuple[Any, Any, float]:
    file = fontpkg.select_file(fontpkg.family("Source Sans 3"), 400, "normal", True)
    font = TTFont(io.BytesIO(bytes(file.path.read_bytes())))
    return font.getGlyphSet(location={"wght": 430}), font.getBestCmap(), float(font["head"].unitsPerEm)


def _names(text: str) -> list[str]:
    _, letters, _ = _font()
    return [letters.get(ord(letter), ".notdef") for letter in text]


def _length(text: str, size: float) -> float:
    glyphs, _, em = _font()
    return float(sum(glyphs[name].width for name in _names(text))) * size / em


def _cut(text: str, most: float) -> str:
    if _length(text, _SIZE) <= most:
        return text
    while text and _length(f"{text}…", _SIZE) > most:
        text = text[:-1]
    return f"{text.rstrip()}…"


def _text(text: str, x: float, y: float, size: float, colour: str, end: bool = False) -> str:
    """A line of text as outlines, beginning at x or ending there."""
    glyphs, _, em = _font()
    scale = size / em
    pen = SVGPathPen(glyphs, lambda number: f"{number:.2f}".rstrip("0").rstrip("."))
    at = x - (_length(text, size) if end else 0)
    for name in _names(text):
        glyphs[name].draw(TransformPen(pen, (scale, 0, 0, -scale, at, y)))
        at += glyphs[name].width * scale
    return f'<path fill="{colour}" d="{pen.getCommands()}"/>'
