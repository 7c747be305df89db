"""Fonts from bytes: refused when broken or not to be embedded, measured once, asked for glyph outlines."""

import hashlib
import logging
from collections.abc import Mapping
from dataclasses import dataclass, field
from io import BytesIO

import numpy as np
import uharfbuzz as hb
from fontTools.ttLib import TTFont

from hundredfold.designs.typesetting.outline import EMPTY, Bounds, Outline
from hundredfold.designs.typesetting.profiles import LetterSides, profile_of
from hundredfold.kernel.errors import ShopError, Where

# OpenType OS/2 fsType: bit 1 alone forbids embedding, bit 9 allows bitmaps only.
# Where several of bits 1-3 are set, the least restrictive holds (OpenType 1.9, OS/2, fsType).
_RESTRICTED, _PREVIEW, _EDITABLE, _BITMAP_ONLY = 0x0002, 0x0004, 0x0008, 0x0200
_GLYPH_CACHE = 4096


# What the reader grumbles about while it copes is no news for a seller; what it cannot read raises.
logging.getLogger("fontTools").setLevel(logging.CRITICAL)


@dataclass(frozen=True, eq=False)
class Font:
    """One face of a font at one setting of its axes. Lengths are in em unless a name says otherwise."""

    name: str  # what the seller calls it: the file's name or the family and weight
    digest: str  # sha256 of the file's bytes
    axes: tuple[tuple[str, float], ...]
    units_per_em: int
    cap_height: float
    x_height: float
    joins: bool  # neighbouring letters touch, as in a joined-up script
    characters: frozenset[int]
    shaper: hb.Font = field(repr=False)
    _glyphs: dict[int, Outline] = field(default_factory=dict, repr=False)
    _inks: dict[int, Bounds | None] = field(default_factory=dict, repr=False)
    _profiles: dict[int, LetterSides | None] = field(default_factory=dict, repr=False)

    def covers(self, text: str) -> bool:
        """Whether every character of ``text`` has a glyph, spaces and invisible controls aside."""
        return all(ord(c) in self.characters or c.isspace() or is_invisible(c) for c in text)

    def glyph(self, glyph_id: int) -> Outline:
        """A glyph's outline in em, y up; empty for a space."""
        known = self._glyphs.get(glyph_id)
        if known is None:
            known = _draw(self.shaper, glyph_id, self.units_per_em)
            if len(self._glyphs) < _GLYPH_CACHE:
                self._glyphs[glyph_id] = known
        return known

    def ink(self, glyph_id: int) -> Bounds | None:
        """The exact box of a glyph's ink in em, y up; None for a space."""
        if glyph_id not in self._inks:
            if len(self._inks) >= _GLYPH_CACHE:
                self._inks.clear()
            self._inks[glyph_id] = self.glyph(glyph_id).bounds()
        return self._inks[glyph_id]

    def profile(self, glyph_id: int, middle: float, lift: float = 0.0) -> LetterSides | None:
        """The sides of a glyph in em, ``middle`` from its origin, raised by ``lift``; None for a space."""
        if glyph_id not in self._profiles:
            if len(self._profiles) >= _GLYPH_CACHE:
                self._profiles.clear()
            self._profiles[glyph_id] = profile_of(self.glyph(glyph_id), 0.0)
        known = self._profiles[glyph_id]
        if known is None:
            return None
        shift = np.array([-middle, lift])
        return LetterSides(known.left + shift, known.right + shift)


def is_invisible(char: str) -> bool:
    """Joiners, direction marks and variation selectors: they guide shaping and need no glyph."""
    code = ord(char)
    return (
        0xFDD0 <= code <= 0xFDEF  # marks of spans
        or code in (0x00AD, 0x200B, 0x200C, 0x200D, 0x200E, 0x200F, 0x2060, 0x061C)
        or 0xFE00 <= code <= 0xFE0F
    )


def load_font(data: bytes, name: str, axes: Mapping[str, float] | None = None) -> Font:
    """Read a TTF or OTF file, set the axes of a variable font, and measure it.

    Raises ShopError ``bad-font`` when the bytes are no outline font, and ``font-embedding`` when its
    licence flags forbid putting it into other files.
    """
    facts = _read(data, name)
    shaper = hb.Font(hb.Face(hb.Blob(data)))
    settings = _axis_settings(facts, name, axes or {})
    if settings:
        shaper.set_variations(dict(settings))
    upem = shaper.face.upem
    cap = _top(shaper, "H") or _table_height(facts, "sCapHeight") or 0.7 * upem
    small = _top(shaper, "x") or _table_height(facts, "sxHeight") or 0.7 * cap
    return Font(
        name=name,
        digest=hashlib.sha256(data).hexdigest(),
        axes=settings,
        units_per_em=upem,
        cap_height=cap / upem,
        x_height=small / upem,
        joins=_letters_touch(shaper),
        characters=frozenset(facts.getBestCmap() or {}),
        shaper=shaper,
    )


def weight_range(data: bytes, name: str) -> tuple[float, float] | None:
    """The weights a variable font can be set to; None when it has one weight. Raises as ``load_font``."""
    facts = _read(data, name)
    axes = facts["fvar"].axes if "fvar" in facts else ()
    return next(((float(a.minValue), float(a.maxValue)) for a in axes if a.axisTag == "wght"), None)


def _read(data: bytes, name: str) -> TTFont:
    where = Where(file=name)
    if data[:4] in (b"wOFF", b"wOF2"):
        raise ShopError(
            "bad-font", "this is a web font (WOFF)", "ask its maker for the .ttf or .otf file", where
        )
    try:
        font = TTFont(BytesIO(data), fontNumber=0, lazy=True)
        outlines = any(tag in font for tag in ("glyf", "CFF ", "CFF2"))
        flags = int(font["OS/2"].fsType) if "OS/2" in font else 0
        for tag in ("fvar", "OS/2", "head"):  # read whole here, so that a cut table is told here
            if tag in font:
                font[tag]
        font.getBestCmap()
    except Exception as error:  # fontTools raises many kinds on broken files
        raise ShopError(
            "bad-font", "this is not a font that can be read", "use a whole .ttf or .otf file", where
        ) from error
    if not outlines:
        raise ShopError(
            "bad-font", "this font has pictures for letters, no outlines", "choose another", where
        )
    forbidden = flags & _RESTRICTED and not flags & (_PREVIEW | _EDITABLE)
    if forbidden or flags & _BITMAP_ONLY:
        raise ShopError(
            "font-embedding",
            f"the font's licence flags (fsType {flags}) forbid putting its letters into other files",
            "use an open font, or ask its maker for a licence for printed goods and a file that says so",
            where,
        )
    return font


def _axis_settings(font: TTFont, name: str, wanted: Mapping[str, float]) -> tuple[tuple[str, float], ...]:
    known = {axis.axisTag: axis for axis in font["fvar"].axes} if "fvar" in font else {}
    for tag, value in wanted.items():
        axis = known.get(tag)
        if axis is None or not axis.minValue <= value <= axis.maxValue:
            span = ", ".join(f"{a.axisTag} {a.minValue:g} to {a.maxValue:g}" for a in known.values())
            raise ShopError(
                "font-axis",
                f"the font cannot be set to {tag} {value:g}",
                f"its axes are: {span}" if span else "it has one weight only; leave the weight out",
                Where(file=name),
            )
    return tuple(sorted((tag, float(value)) for tag, value in wanted.items()))


def _table_height(font: TTFont, field_name: str) -> float:
    return float(getattr(font["OS/2"], field_name, 0) or 0) if "OS/2" in font else 0.0


def _top(shaper: hb.Font, char: str) -> float:
    glyph = shaper.get_nominal_glyph(ord(char))
    extents = shaper.get_glyph_extents(glyph) if glyph else None
    return float(extents.y_bearing) if extents and extents.height else 0.0


def _letters_touch(shaper: hb.Font) -> bool:
    """Ink of one small letter reaching into the next, for the letters that join in every script hand."""
    for first, second in ("nm", "mi", "un", "ea", "im"):
        glyphs = [shaper.get_nominal_glyph(ord(c)) for c in (first, second)]
        boxes = [shaper.get_glyph_extents(g) if g else None for g in glyphs]
        if boxes[0] is None or boxes[1] is None:
            return False
        end = boxes[0].x_bearing + boxes[0].width
        if end < shaper.get_glyph_h_advance(glyphs[0]) + boxes[1].x_bearing:
            return False
    return True


class _Pen:
    """Collects what HarfBuzz draws; one DrawFuncs serves all glyphs."""

    def __init__(self) -> None:
        self.verbs = bytearray()
        self.points: list[float] = []

    def add(self, verb: str, *numbers: float) -> None:
        self.verbs += verb.encode()
        self.points.extend(numbers)


def _draw_functions() -> hb.DrawFuncs:
    functions = hb.DrawFuncs()
    functions.set_move_to_func(lambda x, y, pen: pen.add("M", x, y))
    functions.set_line_to_func(lambda x, y, pen: pen.add("L", x, y))
    functions.set_quadratic_to_func(lambda a, b, x, y, pen: pen.add("Q", a, b, x, y))
    functions.set_cubic_to_func(lambda a, b, c, d, x, y, pen: pen.add("C", a, b, c, d, x, y))
    functions.set_close_path_func(lambda pen: pen.add("Z"))
    return functions


_DRAW = _draw_functions()


def _draw(shaper: hb.Font, glyph_id: int, upem: int) -> Outline:
    pen = _Pen()
    shaper.draw_glyph(glyph_id, _DRAW, pen)
    if not pen.points:
        return EMPTY
    return Outline(bytes(pen.verbs), np.array(pen.points, dtype=np.float64).reshape(-1, 2) / upem)
