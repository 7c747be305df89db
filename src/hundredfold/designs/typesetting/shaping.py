"""Shaping: one line of text into positioned glyphs, in em, y up, in visual order."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import uharfbuzz as hb
from fontTools import unicodedata as scripts
from numpy.typing import NDArray
from uniseg.graphemecluster import grapheme_clusters

from hundredfold.designs.typesetting.bidi import ordered_runs, visual_runs
from hundredfold.designs.typesetting.fonts import Font
from hundredfold.designs.typesetting.outline import Bounds, Floats, Outline, joined, union
from hundredfold.designs.typesetting.profiles import LetterSides, profile_of
from hundredfold.designs.typesetting.spans import Face, read_marks
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
    style: int = 0  # of its span, 0 for the text's own
    scale: float = 1.0  # of the line's size
    lean: float = 0.0

    @property
    def upright(self) -> bool:
        """Set as the face draws it."""
        return self.scale == 1.0 and not self.lean

    def outline(self) -> Outline:
        """Where it stands in the line, in em."""
        shape = self.font.glyph(self.id)
        if self.upright:
            return shape.moved(self.x, self.y)
        return shape.affine(self.scale, 0, self.lean * self.scale, self.scale, self.x, self.y)

    def ink(self) -> Bounds | None:
        """The exact box of its ink where it stands; None when nothing is drawn."""
        ink = self.font.ink(self.id)
        if ink is None:
            return None
        if not self.upright:
            return self.outline().bounds()
        return Bounds(ink.left + self.x, ink.top + self.y, ink.right + self.x, ink.bottom + self.y)


@dataclass(frozen=True, eq=False)
class Unit:
    """What moves as one on a curve: a letter with its marks. ``first`` to ``last`` are glyphs of the line."""

    first: int
    last: int
    middle: float  # em along the line
    joined: bool
    profile: LetterSides | None  # None for a space and for joined letters


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

    def by_style(self, outline: Outline) -> list[tuple[int, Outline]]:
        """The parts of this line's set outline by the style of their span. One part where letters were
        bent."""
        styles = {glyph.style for glyph in self.glyphs}
        drawn = [(glyph.style, self.glyphs[k].outline()) for k, glyph in enumerate(self.glyphs)]
        if len(styles) < 2 or sum(len(part.verbs) for _, part in drawn) != len(outline.verbs):
            return [(min(styles, default=0), outline)]
        parts: dict[int, list[Outline]] = {}
        verb = point = 0
        for style, part in drawn:
            verbs, points = verb + len(part.verbs), point + len(part.points)
            parts.setdefault(style, []).append(
                Outline(outline.verbs[verb:verbs], outline.points[point:points])
            )
            verb, point = verbs, points
        return [(style, joined(pieces)) for style, pieces in sorted(parts.items())]

    @cached_property
    def optical(self) -> tuple[float, float]:
        """Left and right as the eye aligns them: quotes, dots and hyphens at the ends hang over in part."""
        inked = [glyph for glyph in self.glyphs if glyph.ink() is not None]
        if len(inked) < 2:
            return self.ink.left, self.ink.right
        left, right = self.ink.left, self.ink.right
        first, last = inked[0].ink(), inked[-1].ink()
        assert first is not None
        assert last is not None
        return (
            left + first.width * hanging(self.text[inked[0].cluster]),
            right - last.width * hanging(self.text[inked[-1].cluster]),
        )

    @cached_property
    def units(self) -> tuple[Unit, ...]:
        """Its letters, each with its marks, from left to right."""
        units: list[Unit] = []
        at = 0
        while at < len(self.glyphs):
            last = at
            while last + 1 < len(self.glyphs) and self.glyphs[last + 1].cluster == self.glyphs[at].cluster:
                last += 1
            units.append(_unit(self.glyphs, at, last))
            at = last + 1
        return tuple(units)

    @cached_property
    def ink_points(self) -> tuple[Floats, NDArray[np.int64], NDArray[np.bool_]]:
        """Every point of the outline in em, the number of its unit, and whether that unit stays rigid."""
        points = [
            joined(glyph.outline() for glyph in self.glyphs[unit.first : unit.last + 1]).points
            for unit in self.units
        ]
        counts = [len(each) for each in points]
        numbers = np.repeat(np.arange(len(points)), counts)
        rigid = np.repeat([not unit.joined for unit in self.units], counts)
        return np.concatenate(points), numbers, rigid

    @cached_property
    def ink(self) -> Bounds:
        """The exact box of the ink in em, y up; all zero when nothing is drawn."""
        inks = (glyph.ink() for glyph in self.glyphs)
        return union(ink for ink in inks if ink is not None) or Bounds(0.0, 0.0, 0.0, 0.0)


_HANGING = (
    ("“”„‟«»‹›‘’‚\"'", 0.9),
    (".,-‐", 0.8),
    ("–—…·•", 0.5),
    (":;!?*", 0.4),
)  # common practice, no source


def hanging(char: str) -> float:
    """How much of a mark at a line's end lies outside what the eye aligns."""
    return next((share for marks, share in _HANGING if char in marks), 0.0)


def _unit(glyphs: Sequence[Glyph], first: int, last: int) -> Unit:
    parts = glyphs[first : last + 1]
    middle = (parts[0].pen_x + max(glyph.pen_x + glyph.advance for glyph in parts)) / 2
    touching = any(glyph.joined for glyph in parts)
    if touching:
        return Unit(first, last, middle, True, None)
    if len(parts) == 1 and parts[0].upright:
        glyph = parts[0]
        return Unit(first, last, middle, False, glyph.font.profile(glyph.id, middle - glyph.x, glyph.y))
    return Unit(first, last, middle, False, profile_of(joined(glyph.outline() for glyph in parts), middle))


def shape(
    text: str,
    fonts: Sequence[Font],
    *,
    tracking: float = 0.0,
    language: str = "en",
    direction: str = "",
    features: dict[str, bool] | None = None,
    levels: tuple[int, Sequence[int | None]] | None = None,
    faces: Mapping[int, Face] | None = None,
    where: Where | None = None,
) -> ShapedLine:
    """Shape one line (no line breaks in it) with the first of ``fonts`` that has each character.

    ``tracking`` is extra space after each letter in em, none after the last; joined letters take none.
    ``direction`` is "ltr", "rtl" or "" to follow the first strong letter (UAX 9, P2 and P3); a line of a
    longer
    text takes ``levels`` instead, the text's own level and that of each character of the line.
    Spans marked in the text (see ``spans``) are set with the face of their style in ``faces``.
    Raises ShopError ``missing-glyph`` naming the character and the fonts.
    """
    text, styles = read_marks(text)
    own = {0: Face(fonts), **(faces or {})}
    wanted = dict(features or {})
    if tracking:
        wanted = {"liga": False, "clig": False, **wanted}
    glyphs: list[Glyph] = []
    pen = 0.0
    base, runs = visual_runs(text, direction) if levels is None else (levels[0], ordered_runs(*levels))
    for start, end, level in runs:
        pieces = [
            (piece, own.get(styles[first], own[0]), styles[first])
            for first, last in _style_runs(styles, start, end)
            for piece in _font_runs(text, first, last, own.get(styles[first], own[0]).fonts, where)
        ]
        for piece, face, style in reversed(pieces) if level % 2 else pieces:
            pen = _shape_run(text, piece, level, language, wanted, tracking, pen, glyphs, face, style)
    if tracking and glyphs and not glyphs[-1].joined:
        pen -= tracking
    return ShapedLine(text, tuple(glyphs), pen, base % 2 == 1)


def _style_runs(styles: Sequence[int], start: int, end: int) -> list[tuple[int, int]]:
    runs: list[tuple[int, int]] = []
    for index in range(start, end):
        if runs and styles[index] == styles[index - 1]:
            runs[-1] = (runs[-1][0], index + 1)
        else:
            runs.append((index, index + 1))
    return runs


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
    whole = _word_fonts(text, start, end, fonts)
    for cluster in graphemes(text[start:end]):
        font = whole.get(at) or _font_for(cluster, fonts, where)
        script = scripts.script(cluster[0])
        common = script in ("Zyyy", "Zinh", "Zzzz")
        last = runs[-1] if runs else None
        if last and last.font is font and (common or last.script in (script, "Zyyy")):
            runs[-1] = _Run(last.start, at + len(cluster), font, last.script if common else script)
        else:
            runs.append(_Run(at, at + len(cluster), font, "Zyyy" if common else script))
        at += len(cluster)
    return runs


def _word_fonts(text: str, start: int, end: int, fonts: Sequence[Font]) -> dict[int, Font]:
    """The face of each character of a word that one face has whole: a word is not set in two faces."""
    if len(fonts) < 2 or fonts[0].covers(text[start:end]):
        return {}
    found: dict[int, Font] = {}
    for word in re.finditer(r"\S+", text):
        font = next((font for font in fonts if font.covers(word.group())), None)
        if font is not None and word.end() > start and word.start() < end:
            found.update(dict.fromkeys(range(word.start(), word.end()), font))
    return found


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
    face: Face,
    style: int,
) -> float:
    buffer = hb.Buffer()
    # The whole line is context, so that letters join across a change of font.
    buffer.add_str(text, run.start, run.end - run.start)
    buffer.direction = "rtl" if level % 2 else "ltr"
    buffer.script = run.script
    buffer.language = language
    hb.shape(run.font.shaper, buffer, features)
    em = run.font.units_per_em / face.scale
    joins = run.script in JOINED_SCRIPTS or run.font.joins
    infos, places = buffer.glyph_infos, buffer.glyph_positions
    for index, (info, place) in enumerate(zip(infos, places, strict=True)):
        advance = place.x_advance / em
        last_of_cluster = index + 1 == len(infos) or infos[index + 1].cluster != info.cluster
        gap = tracking if last_of_cluster and not joins else 0.0
        x, y = pen + place.x_offset / em, place.y_offset / em
        into.append(
            Glyph(
                run.font,
                info.codepoint,
                x,
                y,
                pen,
                advance,
                info.cluster,
                joins,
                style,
                face.scale,
                face.lean,
            )
        )
        pen += advance + gap
    return pen
