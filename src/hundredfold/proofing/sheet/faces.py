"""The fonts of the paper sheet: two families cut to the letters it needs, and others for further scripts."""

import hashlib
from collections.abc import Iterator, Sequence
from dataclasses import astuple, dataclass, is_dataclass
from io import BytesIO
from math import inf
from typing import Any

from fontTools.subset import Options, Subsetter
from fontTools.ttLib import TTFont
from fontTools.varLib.instancer import instantiateVariableFont
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont as PdfFont
from uniseg.linebreak import line_break_units

from hundredfold.designs.typesetting.fonts import Font, load_font
from hundredfold.designs.typesetting.outline import as_cubics
from hundredfold.designs.typesetting.setting import set_line
from hundredfold.designs.typesetting.shaping import ShapedLine, graphemes, shape

SERIF, SERIF_BOLD, SANS, SANS_BOLD = "serif", "serif-bold", "sans", "sans-bold"
_PLAIN = "".join(map(chr, (*range(0x20, 0x7F), *range(0xA0, 0x180)))) + "–—‘’“”…×·−"
_LAYOUT = {"GPOS", "GSUB", "GDEF", "BASE", "STAT"}
_UNKNOWN = "?"  # what no font has


@dataclass(frozen=True)
class FontFiles:
    """Variable fonts as their files' bytes, and ready fonts for what these two lack, best first."""

    serif: bytes
    sans: bytes
    more: tuple[Font, ...] = ()


def letters_of(value: object) -> frozenset[str]:
    """Every character in the strings of a record of records."""
    return frozenset(_PLAIN).union(*(set(text) for text in _strings(value)))


def _strings(value: object) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    elif isinstance(value, tuple):
        for one in value:
            yield from _strings(one)
    elif is_dataclass(value) and not isinstance(value, type):
        yield from _strings(astuple(value))


class Faces:
    """Fonts at the weights of the paper, registered for its paragraphs."""

    def __init__(self, files: FontFiles, letters: frozenset[str]) -> None:
        self._fonts: dict[str, tuple[Font, ...]] = {}
        self._registered: dict[str, str] = {}
        of = hashlib.sha256("".join(sorted(letters)).encode()).hexdigest()[:8]
        for name, data, weight in (
            (SERIF, files.serif, 400.0), (SERIF_BOLD, files.serif, 650.0),
            (SANS, files.sans, 400.0), (SANS_BOLD, files.sans, 650.0),
        ):  # fmt: skip
            # reportlab keeps the first font of a name for as long as the process lives.
            registered = self._registered[name] = f"proof-{name}-{of}"
            cut = _cut(data, registered, weight, letters)
            pdfmetrics.registerFont(PdfFont(registered, BytesIO(cut), asciiReadable=True))
            self._fonts[name] = (load_font(cut, name), *files.more)
        for plain, bold in ((SERIF, SERIF_BOLD), (SANS, SANS_BOLD)):
            regular, strong = self.registered(plain), self.registered(bold)
            pdfmetrics.registerFontFamily(regular, regular, strong, regular, strong)

    def registered(self, name: str) -> str:
        """What paragraphs and canvases call this face."""
        return self._registered[name]

    def covers(self, name: str, text: str) -> bool:
        """Whether paragraphs in this face show the text: nothing in it needs another font."""
        return self._fonts[name][0].covers(text)

    def lines(
        self, name: str, text: str, size: float, width: float, direction: str = ""
    ) -> tuple[ShapedLine, ...]:
        """The text shaped and broken into lines, with whatever fonts have its letters.

        ``direction`` is "ltr", "rtl" or "" to follow the first strong letter.
        """
        fonts = self._fonts[name]
        known = "".join(one if any(f.covers(one) for f in fonts) else _UNKNOWN for one in graphemes(text))
        broken = _broken(known, fonts, width / size)
        return tuple(shape(line, fonts, direction=direction) for line in broken)


def draw_line(pen: Any, line: ShapedLine, size: float, x: float, y: float) -> None:
    """Draw a shaped line on a canvas as outlines, its baseline starting at ``x``, ``y`` (points)."""
    path = pen.beginPath()
    pieces, starts = as_cubics(set_line(line, size, 0, 0, "start", by="advance"), inf)
    ends = [*starts[1:].tolist(), len(pieces)]
    for first, last in zip(starts.tolist(), ends, strict=True):
        path.moveTo(x + pieces[first, 0, 0], y - pieces[first, 0, 1])
        for piece in pieces[first:last]:
            path.curveTo(*(value for at in piece[1:] for value in (x + at[0], y - at[1])))
        path.close()
    pen.drawPath(path, stroke=0, fill=1)


def _broken(text: str, fonts: Sequence[Font], em: float) -> Iterator[str]:
    """Lines no wider than ``em`` where words allow it."""
    line = ""
    for unit in line_break_units(text):
        if line and shape((line + unit).rstrip(), fonts).advance > em:
            yield line.rstrip()
            line = ""
        line += unit
    if line.strip():
        yield line.rstrip()


def _cut(data: bytes, name: str, weight: float, letters: frozenset[str]) -> bytes:
    """One weight of a variable font with no more than these letters; the same bytes every time."""
    font = TTFont(BytesIO(data), recalcTimestamp=False)
    for table in _LAYOUT & set(font.keys()):  # paragraphs are set without kerning; these tables take seconds
        del font[table]
    cutter = Subsetter(Options(notdef_outline=True))
    cutter.populate(unicodes=[ord(one) for one in letters])
    cutter.subset(font)
    axes = {axis.axisTag: axis.defaultValue for axis in font["fvar"].axes}
    out = BytesIO()
    one = instantiateVariableFont(font, {**axes, "wght": weight}, inplace=True)
    one["name"].setName(name, 6, 3, 1, 0x409)  # a PDF keeps its fonts apart by this name
    one["name"].setName(name, 6, 1, 0, 0)
    one.save(out)
    return out.getvalue()
