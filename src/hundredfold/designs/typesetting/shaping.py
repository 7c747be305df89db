"""Shaping: one line of text into positioned glyphs, in em, y up, in visual order."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import uharfbuzz as hb
from fontTools import unicodedata as scripts
from numpy.typing import NDArray
from uniseg.graphemecluster import grapheme_clusters

from hundredfold.designs.typesetting.bidi import visual_runs
from hundredfold.designs.typesetting.fonts import Font
from hundredfold.designs.typesetting.outline import Bounds, Floats, Outline, joined, union
from hundredfold.kernel.errors import ShopError, Where

# Scripts whose letters join: never spaced out, and bent as one outline.
JOINED_SCRIPTS = frozenset(
    {"Arab", "Syrc", "Mong", "Nkoo", "Mand", "Phag", "Deva", "Beng", "Guru", "Adlm", "Rohg"}
)


@dataclass(frozen=True)
class Glyph:
    """A glyph of a line: its pen position and advance in em."""

    font: Font
    id: int
    x: float
    y: float
    pen_x: float
    advance: float
    cluster: int  # index of its first character in the line's text
    joined: bool  # belongs to a script or a face whose letters touch

    def outline(self) -> Outline:
        """Where it stands in the line, in em."""
        return self.font.glyph(self.id).moved(self.x, self.y)

    def ink(self) -> Bounds | None:
        """The exact box of its ink where it stands; None when nothing is drawn."""
        ink = self.font.ink(self.id)
        if ink is None:
            return None
        return Bounds(ink.left + self.x, ink.top + self.y, ink.right + self.x, ink.bottom + self.y)


@dataclass(frozen=True, eq=False)
class ShapedLine:
    """Shaped text. ``advance`` and ``ink`` are in em; ink is y up, so ``bottom`` is its highest y."""

    text: str
    glyphs: tuple[Glyph, ...]
    advance: float
    right_to_left: bool

    @cached_property
    def outline(self) -> Outline:
        """All glyphs, in em, y up, baseline at 0."""
        return joined(glyph.outline() for glyph in self.glyphs)

    @cached_property
    def ink_points(self) -> tuple[Floats, Floats, NDArray[np.bool_]]:
        """Every point of the outline in em, the middle of its glyph, and whether that glyph stays rigid."""
        parts = [(glyph, glyph.outline().points) for glyph in self.glyphs]
        counts = [len(points) for _, points in parts]
        middles = np.repeat([glyph.pen_x + glyph.advance / 2 for glyph, _ in parts], counts)
        rigid = np.repeat([not glyph.joined for glyph, _ in parts], counts)
        return np.concatenate([points for _, points in parts]), middles, rigid

    @cached_property
    def ink(self) -> Bounds:
        """The exact box of the ink in em, y up; all zero when nothing is drawn."""
        inks = (glyph.ink() for glyph in self.glyphs)
        return union(ink for ink in inks if ink is not None) or Bounds(0.0, 0.0, 0.0, 0.0)


def shape(
    text: str,
    fonts: Sequence[Font],
    *,
    tracking: float = 0.0,
    language: str = "en",
    direction: str = "",
    features: dict[str, bool] | None = None,
    where: Where | None = None,
) -> ShapedLine:
    """Shape one line (no line breaks in it) with the first of ``fonts`` that has each character.

    ``tracking`` is extra space after each letter in em, none after the last; joined letters take none.
    ``direction`` is "ltr", "rtl" or "" to follow the first strong letter (UAX 9, P2 and P3).
    Raises ShopError ``missing-glyph`` naming the character and the fonts.
    """
    wanted = dict(features or {})
    if tracking:
        wanted = {"liga": False, "clig": False, **wanted}
    glyphs: list[Glyph] = []
    pen = 0.0
    base, runs = visual_runs(text, direction)
    for start, end, level in runs:
        pieces = list(_font_runs(text, start, end, fonts, where))
        for piece in reversed(pieces) if level % 2 else pieces:
            pen = _shape_run(text, piece, level, language, wanted, tracking, pen, glyphs)
    if tracking and glyphs and not glyphs[-1].joined:
        pen -= tracking
    return ShapedLine(text, tuple(glyphs), pen, base % 2 == 1)


@dataclass(frozen=True)
class _Run:
    start: int
    end: int
    font: Font
    script: str


def graphemes(text: str) -> list[str]:
    """What people count as characters (UAX 29). Plain ASCII needs no rules."""
    return list(text) if text.isascii() and "\r" not in text else list(grapheme_clusters(text))


def _font_runs(text: str, start: int, end: int, fonts: Sequence[Font], where: Where | None) -> list[_Run]:
    """Split a run of one direction by script and font; a grapheme is never split."""
    runs: list[_Run] = []
    at = start
    for cluster in graphemes(text[start:end]):
        font = _font_for(cluster, fonts, where)
        script = scripts.script(cluster[0])
        common = script in ("Zyyy", "Zinh", "Zzzz")
        last = runs[-1] if runs else None
        if last and last.font is font and (common or last.script in (script, "Zyyy")):
            runs[-1] = _Run(last.start, at + len(cluster), font, last.script if common else script)
        else:
            runs.append(_Run(at, at + len(cluster), font, "Zyyy" if common else script))
        at += len(cluster)
    return runs


def _font_for(cluster: str, fonts: Sequence[Font], where: Where | None) -> Font:
    for font in fonts:
        if font.covers(cluster):
            return font
    names = " or ".join(font.name for font in fonts)
    missing = next((c for c in cluster if not any(f.covers(c) for f in fonts)), cluster[0])
    title = scripts.name(missing, "unnamed character")
    raise ShopError(
        "missing-glyph",
        f"{missing!r} (U+{ord(missing):04X}, {title.lower()}) is not in {names}",
        "change the word, or add a font that has it to the slot's list of fonts",
        where,
    )


def _shape_run(
    text: str,
    run: _Run,
    level: int,
    language: str,
    features: dict[str, bool],
    tracking: float,
    pen: float,
    into: list[Glyph],
) -> float:
    buffer = hb.Buffer()
    # The whole line is context, so that letters join across a change of font.
    buffer.add_str(text, run.start, run.end - run.start)
    buffer.direction = "rtl" if level % 2 else "ltr"
    buffer.script = run.script
    buffer.language = language
    hb.shape(run.font.shaper, buffer, features)
    em = run.font.units_per_em
    joins = run.script in JOINED_SCRIPTS or run.font.joins
    infos, places = buffer.glyph_infos, buffer.glyph_positions
    for index, (info, place) in enumerate(zip(infos, places, strict=True)):
        advance = place.x_advance / em
        last_of_cluster = index + 1 == len(infos) or infos[index + 1].cluster != info.cluster
        gap = tracking if last_of_cluster and not joins else 0.0
        x, y = pen + place.x_offset / em, place.y_offset / em
        into.append(Glyph(run.font, info.codepoint, x, y, pen, advance, info.cluster, joins))
        pen += advance + gap
    return pen
