"""Setting one text slot: case, tracking, fit, place; the result is an outline with its facts."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from hundredfold.designs.layouts.casing import apply_case
from hundredfold.designs.layouts.quality import LineFacts, closed_counters, width_variation
from hundredfold.designs.layouts.slots import TextSlot
from hundredfold.designs.layouts.transforms import map_box
from hundredfold.designs.typesetting.breaking import Room, break_level, break_places, break_ragged, run_widths
from hundredfold.designs.typesetting.fitting import fit_curve, fit_line
from hundredfold.designs.typesetting.fonts import Font
from hundredfold.designs.typesetting.outline import EMPTY, Bounds, Floats, Outline, joined, union
from hundredfold.designs.typesetting.setting import set_line, set_on_curve
from hundredfold.designs.typesetting.shaping import ShapedLine, shape
from hundredfold.kernel.errors import ShopError, Where

_AIR = 0.16  # em between the ink of ragged lines when the layout states no leading
_HANG_ROUNDS = 4
_FEW = 24  # places to break up to which every run is shaped by itself


@dataclass(frozen=True, eq=False)
class SetText:
    """A slot as it was set. ``outline`` is in the slot's units; ``ink`` includes outlines and shadow."""

    outline: Outline
    ink: Bounds | None
    lines: tuple[LineFacts, ...]
    width_variation: float
    counters: tuple[int, int]  # closed, all


@dataclass
class Setter:
    """Shapes the texts of one slot, each once."""

    slot: TextSlot
    fonts: Sequence[Font]
    language: str
    where: Where
    _known: dict[tuple[str, float], ShapedLine] = field(default_factory=dict)

    def line(self, text: str, tracking: float | None = None) -> ShapedLine:
        """The shaped line."""
        spacing = self.natural if tracking is None else tracking
        key = (text, spacing)
        if key not in self._known:
            self._known[key] = shape(
                text, self.fonts, tracking=spacing, language=self.language, where=self.where
            )
        return self._known[key]

    @property
    def natural(self) -> float:
        """The tracking nearest to none that the slot allows."""
        least, most = self.slot.tracking
        return min(max(0.0, least), most)

    def set(self, text: str) -> SetText:
        """Set ``text``. Raises ShopError ``missing-glyph``."""
        text = apply_case(text, self.slot.case, self.language)
        if self.slot.fit == "path":
            placed = self._along(text)
        elif self.slot.fit == "box" and self.slot.align == "level":
            placed = self._level(text)
        elif self.slot.fit == "box":
            placed = self._ragged(text)
        elif self.slot.fit == "width":
            placed = self._wide(text)
        else:
            placed = self._as_drawn(text)
        if any(not 0 < each.size < math.inf for each in placed if not each.line.outline.empty):
            what = f"“{text}” has no room: outlines and shadow fill its box or path"
            raise ShopError("no-room", what, "make the box larger or the outlines thinner", self.where)
        return self._finished(placed)

    def _box(self) -> Bounds:
        """The slot's box without the room its shadow takes."""
        box = self.slot.box
        assert box is not None
        if self.slot.shadow is None:
            return box
        right, down = (
            offset / self.slot.mm_per_unit for offset in (self.slot.shadow.right_mm, self.slot.shadow.down_mm)
        )
        return Bounds(
            box.left - min(0, right),
            box.top - min(0, down),
            box.right - max(0, right),
            box.bottom - max(0, down),
        )

    def _spread(self, text: str, size: float, width: float) -> ShapedLine:
        """The line opened up to ``width`` at ``size``, as far as the slot's tracking allows."""
        line = self.line(text)
        gaps = sum(not glyph.joined for glyph in line.glyphs) - 1
        spare = (width - self.slot.stroke) / size - line.ink.width if size > 0 else 0.0
        if gaps < 1 or spare <= 0 or self.slot.tracking[1] <= self.natural:
            return line
        return self.line(text, min(self.slot.tracking[1], self.natural + spare / gaps))

    def _tightened(self, text: str, size: float) -> ShapedLine:
        """The line at its least tracking when it would come out too small otherwise."""
        line = self.line(text)
        if self._x_height(line, size) >= self.slot.least_x_height_mm or self.slot.tracking[0] >= self.natural:
            return line
        return self.line(text, self.slot.tracking[0])

    def _x_height(self, line: ShapedLine, size: float) -> float:
        fonts = {glyph.font.name: glyph.font for glyph in line.glyphs} or {"": self.fonts[0]}
        return min(font.x_height for font in fonts.values()) * size * self.slot.mm_per_unit

    def _fit(self, line: ShapedLine, box: Bounds) -> float:
        return min(self.slot.largest, fit_line(line, box.width, box.height, self.slot.stroke))

    def _wide(self, text: str) -> list["_Placed"]:
        box = self._box()
        line = self._tightened(text, self._fit(self.line(text), box))
        size = self._fit(line, box)
        if line is self.line(text):
            line = self._spread(text, size, box.width)
            size = min(size, self._fit(line, box))
        return self._stacked([(line, size)], box, 0.0)

    def _as_drawn(self, text: str) -> list["_Placed"]:
        line, size = self.line(text), self.slot.size
        if self.slot.box is not None:
            box = self._box()
            return self._stacked([(line, min(size, self._fit(line, box)))], box, 0.0)
        anchor = self.slot.align if self.slot.align != "level" else "middle"
        by = "advance" if anchor == "start" else "ink"
        return [_Placed(line, size, set_line(line, size, self.slot.x, self.slot.y, anchor, by))]

    def _along(self, text: str) -> list["_Placed"]:
        curve, slot = self.slot.curve, self.slot
        assert curve is not None
        line = self._tightened(text, min(slot.largest, curve.length / max(self.line(text).ink.width, 1e-9)))
        align = slot.align if slot.align != "level" else "middle"
        cap = self.fonts[0].cap_height
        size = slot.largest
        for _ in range(_HANG_ROUNDS if slot.rise else 1):
            size = fit_curve(line, curve, size, slot.stroke, align, slot.rise * cap * size)
        if line is self.line(text) and size >= slot.largest * (1 - 1e-9):
            opened = self._spread(text, size, curve.length)
            fitted = fit_curve(opened, curve, size, slot.stroke, align, slot.rise * cap * size)
            if fitted >= size * (1 - 1e-9):
                line = opened
        return [_Placed(line, size, set_on_curve(line, size, curve, align, slot.rise * cap * size))]

    def _room(self, text: str, box: Bounds) -> Room:
        whole = self.line(text)
        first, last = max(whole.ink.bottom, 0.0), max(-whole.ink.top, 0.0)
        leading = self.slot.leading or first + last + _AIR
        return Room(
            box.width,
            box.height,
            first,
            last,
            leading,
            self.slot.most_lines,
            self.slot.largest,
            self.slot.stroke,
            self._between(),
        )

    def _between(self) -> float:
        """What outlines and a shadow add between lines, so that they do not cover the line below.

        A layout that states its leading has seen to that, or wants its lines to overlap.
        """
        slot = self.slot
        shadow = abs(slot.shadow.down_mm) / slot.mm_per_unit if slot.shadow else 0.0
        return 0.0 if slot.leading else slot.stroke + shadow

    def _widths(self, text: str) -> Floats | None:
        """Widths of all runs of a text with many places to break, as scripts without spaces have.

        They are read off one line. A run by itself could be shaped differently, so they are good for choosing
        breaks; what is set is measured. None where there are few places, or where the order of the letters or
        their joins forbid it.
        """
        pieces = break_places(text)
        glyphs = self.line(text).glyphs
        clusters = [glyph.cluster for glyph in glyphs]
        if len(pieces) <= _FEW or any(glyph.joined for glyph in glyphs) or clusters != sorted(clusters):
            return None
        starts = np.cumsum([len(piece) for piece in pieces])
        left, right = np.full(len(pieces), math.inf), np.full(len(pieces), -math.inf)
        for glyph, piece in zip(glyphs, np.searchsorted(starts, clusters, "right"), strict=True):
            ink = glyph.ink()
            if ink is not None:
                left[piece], right[piece] = min(left[piece], ink.left), max(right[piece], ink.right)
        return run_widths(left, right)

    def _ragged(self, text: str) -> list["_Placed"]:
        box = self._box()
        room = self._room(text, box)
        size, texts = break_ragged(text, lambda t: self.line(t).ink.width, room, self._widths(text))
        widest = max(self.line(t).ink.width for t in texts)
        size = min(size, room.size_by_width(widest))
        lines = [(self.line(t), size) for t in texts]
        return self._stacked(lines, box, None, room.leading, room.between)

    def _level(self, text: str) -> list["_Placed"]:
        box = self._box()
        room, gap, stroke = self._room(text, box), self.slot.gap, self.slot.stroke
        block, texts = break_level(
            text,
            lambda t: self.line(t).ink.width,
            lambda t: self.line(t).ink.height,
            room,
            gap,
            self._widths(text),
        )
        lines = []
        for each in texts:
            width = self.line(each).ink.width
            size = min(self.slot.largest, block / width) if width > 0 else 0.0
            line = self._spread(each, size, block + stroke)
            lines.append((line, min(size, block / line.ink.width) if line.ink.width > 0 else 0.0))
        return self._stacked(lines, box, gap)

    def _stacked(
        self,
        lines: Sequence[tuple[ShapedLine, float]],
        box: Bounds,
        gap: float | None,
        leading: float = 0.0,
        between: float = 0.0,
    ) -> list["_Placed"]:
        """Lines under each other inside ``box``: a gap between their inks, or a leading in em and more."""
        half = self.slot.stroke / 2
        baselines: list[float] = []
        at = 0.0
        for index, (line, size) in enumerate(lines):
            if gap is None:
                at = line.ink.bottom * size + half if index == 0 else at + leading * size + between
                baselines.append(at)
            else:
                baselines.append(at + line.ink.bottom * size + half)
                at = baselines[-1] - line.ink.top * size + half + gap
        last, last_size = lines[-1]
        tall = baselines[-1] - last.ink.top * last_size + half
        spare = box.height - tall
        top = box.top + {"top": 0.0, "middle": spare / 2, "bottom": spare}[self.slot.valign]
        align = "middle" if self.slot.align == "level" else self.slot.align
        x = {"start": box.left + half, "middle": (box.left + box.right) / 2, "end": box.right - half}[align]
        return [
            _Placed(line, size, set_line(line, size, x, top + baseline, align))
            for (line, size), baseline in zip(lines, baselines, strict=True)
        ]

    def _finished(self, placed: Sequence["_Placed"]) -> SetText:
        slot, mm = self.slot, self.slot.mm_per_unit
        facts, boxes, closed, rooms = [], [], 0, 0
        for each in placed:
            bounds = each.outline.bounds()
            if bounds is None:
                continue
            inked = bounds.grown(slot.stroke / 2)
            boxes.append(inked)
            shut, every = closed_counters(slot, each.line, each.size)
            closed, rooms = closed + shut, rooms + every
            facts.append(
                LineFacts(
                    slot=slot.label,
                    text=each.line.text,
                    size_mm=each.size * mm,
                    x_height_mm=self._x_height(each.line, each.size),
                    shrink=each.size / slot.size if slot.size > 0 else 1.0,
                    width_mm=(each.line.ink.width * each.size + slot.stroke) * mm,
                    ink=map_box(slot.matrix, inked),
                    least_x_height_mm=slot.least_x_height_mm,
                )
            )
        ink = union(boxes)
        if ink is not None and slot.shadow is not None:
            right, down = slot.shadow.right_mm / mm, slot.shadow.down_mm / mm
            shifted = Bounds(ink.left + right, ink.top + down, ink.right + right, ink.bottom + down)
            ink = union([ink, shifted])
        return SetText(
            outline=joined(each.outline for each in placed) if placed else EMPTY,
            ink=ink,
            lines=tuple(facts),
            width_variation=width_variation([fact.width_mm for fact in facts]),
            counters=(closed, rooms),
        )


@dataclass(frozen=True, eq=False)
class _Placed:
    line: ShapedLine
    size: float
    outline: Outline
