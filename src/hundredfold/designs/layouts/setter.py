"""Setting one text slot: case, tracking, fit, place; the result is an outline with its facts."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

import numpy as np

from hundredfold.designs.layouts.blocks import PlacedLine, stacked
from hundredfold.designs.layouts.casing import apply_case
from hundredfold.designs.layouts.quality import LineFacts, closed_counters, width_variation
from hundredfold.designs.layouts.settext import SetText
from hundredfold.designs.layouts.slots import TextSlot
from hundredfold.designs.layouts.transforms import map_box
from hundredfold.designs.typesetting.bidi import embedding_levels
from hundredfold.designs.typesetting.breaking import Room, break_places, break_ragged, run_widths
from hundredfold.designs.typesetting.fitting import fit_curve, fit_line
from hundredfold.designs.typesetting.fonts import Font
from hundredfold.designs.typesetting.hyphens import hyphenated
from hundredfold.designs.typesetting.levelling import CATCH, break_level
from hundredfold.designs.typesetting.outline import EMPTY, Bounds, Floats, Outline, boxes, joined, union
from hundredfold.designs.typesetting.setting import set_line, set_on_curve, touching_pairs
from hundredfold.designs.typesetting.shaping import ShapedLine, shape
from hundredfold.designs.typesetting.spans import Face, plain
from hundredfold.kernel.errors import ShopError, Where

_AIR = 0.16  # em between the ink of ragged lines when the layout states no leading
_CATCH_WIDTH = 0.6  # of the block: the most that small words between lines take
_RULE, _RULE_AIR = 0.12, 0.5  # rules beside them: thickness and distance in their height
_PLAIN_MARKS = (("′", "'"), ("″", '"'), ("„", "“"), ("‚", "‘"), ("‑", "-"), ("…", "..."))
_EDGE_SHARE = 0.2
_PAGE_ROUNDS, _PAGE_STEP = 12, 0.92  # a line on a curve shrinks so often, by so much, to stay on the page
_FEW = 24  # places to break up to which every run is shaped by itself


@dataclass
class Setter:
    """Shapes the texts of one slot, each once."""

    slot: TextSlot
    fonts: Sequence[Font]
    language: str
    where: Where
    faces: Mapping[int, Face] = field(default_factory=dict)  # of the slot's spans, by style
    _known: dict[tuple[str, float], ShapedLine] = field(default_factory=dict)

    def line(self, text: str, tracking: float | None = None) -> ShapedLine:
        """The shaped line."""
        spacing = self.natural if tracking is None else tracking
        key = (text, spacing)
        if key not in self._known:
            self._known[key] = shape(
                text,
                self.fonts,
                tracking=spacing,
                language=self.language,
                faces=self.faces,
                where=self.where,
            )
        return self._known[key]

    @property
    def natural(self) -> float:
        """The tracking nearest to none that the slot allows."""
        least, most = self.slot.tracking
        return min(max(0.0, least), most)

    def set(self, text: str) -> SetText:
        """Set ``text``. Raises ShopError ``missing-glyph``."""
        text = self.shown(text)
        if self.slot.hyphens and self.slot.fit == "box":
            text = hyphenated(text, self.language)
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

    def shown(self, text: str) -> str:
        """The text in the slot's case, with plain marks where no font has the fine ones."""
        text = apply_case(text, self.slot.case, self.language)
        for fine, coarse in _PLAIN_MARKS:
            if fine in text and not any(font.covers(fine) for font in self.fonts):
                text = text.replace(fine, coarse)
        return text

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

    def _wide(self, text: str) -> list[PlacedLine]:
        box = self._box()
        line = self._tightened(text, self._fit(self.line(text), box))
        size = self._fit(line, box)
        if line is self.line(text):
            line = self._spread(text, size, box.width)
            size = min(size, self._fit(line, box))
        return stacked(self.slot, [(line, size)], box, 0.0)

    def _as_drawn(self, text: str) -> list[PlacedLine]:
        line, size = self.line(text), self.slot.size
        if self.slot.box is not None:
            box = self._box()
            return stacked(self.slot, [(line, min(size, self._fit(line, box)))], box, 0.0)
        anchor = self.slot.align if self.slot.align != "level" else "middle"
        by = "advance" if anchor == "start" else "ink"
        size = self._on_page(set_line(line, size, self.slot.x, self.slot.y, anchor, by), size)
        return [
            PlacedLine(line, size, set_line(line, size, self.slot.x, self.slot.y, anchor, by), self.slot.y)
        ]

    def _on_page(self, outline: Outline, size: float) -> float:
        """The size at which a line about its anchor stays on the page."""
        ink, page, half = outline.bounds(), self.slot.page, self.slot.stroke / 2
        if ink is None:
            return size
        x, y = self.slot.x, self.slot.y
        reaches = (
            (x - ink.left + half, x - page.left),
            (ink.right + half - x, page.right - x),
            (y - ink.top + half, y - page.top),
            (ink.bottom + half - y, page.bottom - y),
        )
        shares = [room / reach for reach, room in reaches if reach > room > 0]
        least = min(shares, default=1.0)
        # What stands at the very edge was drawn there: it is told, not made too small to see.
        return size * least if least > _EDGE_SHARE else size

    def _along(self, text: str) -> list[PlacedLine]:
        curve, slot = self.slot.curve, self.slot
        assert curve is not None
        line = self._tightened(text, min(slot.largest, curve.length / max(self.line(text).ink.width, 1e-9)))
        align = slot.align if slot.align != "level" else "middle"
        cap = self.fonts[0].cap_height
        rise, largest = slot.rise * cap, slot.largest
        if slot.band is not None and line.ink.height > 0:
            largest = min(largest, max(0.0, sum(slot.band) - slot.stroke) / line.ink.height)
        size = fit_curve(line, curve, largest, slot.stroke, align, rise)
        rise = self._in_band(line, size, rise)
        size = min(size, fit_curve(line, curve, size, slot.stroke, align, rise))
        if line is self.line(text) and size >= largest * (1 - 1e-9):
            opened = self._spread(text, size, curve.length)
            fitted = fit_curve(opened, curve, size, slot.stroke, align, rise)
            if fitted >= size * (1 - 1e-9):
                line = opened
        for _ in range(_PAGE_ROUNDS):
            outline = set_on_curve(line, size, curve, align, rise * size)
            ink = outline.bounds()
            if ink is None or slot.page.holds(ink.grown(slot.stroke / 2)):
                break
            size *= _PAGE_STEP
        return [
            PlacedLine(line, size, outline, touching=touching_pairs(line, size, curve, align, rise * size))
        ]

    def _in_band(self, line: ShapedLine, size: float, rise: float) -> float:
        """The rise in em moved as little as keeps the ink inside the slot's band."""
        if self.slot.band is None or size <= 0:
            return rise
        above, below = self.slot.band
        half = self.slot.stroke / 2
        top = (rise + line.ink.bottom) * size + half - above
        low = -(rise + line.ink.top) * size + half - below
        return rise + (max(0.0, low) - max(0.0, top)) / size

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

    def _ragged(self, text: str) -> list[PlacedLine]:
        box = self._box()
        room = self._room(text, box)
        size, texts = break_ragged(
            text, lambda t: self.line(t).ink.width, room, self._widths(text), self.language
        )
        shaped = self._in_order(text, texts)
        size = min(size, room.size_by_width(max(line.ink.width for line in shaped)))
        return stacked(self.slot, [(line, size) for line in shaped], box, None, room.leading, room.between)

    def _level(self, text: str) -> list[PlacedLine]:
        box = self._box()
        room, gap, stroke = self._room(text, box), self.slot.gap, self.slot.stroke
        block, found = break_level(
            text,
            lambda t: self.line(t).ink.width,
            lambda t: self.line(t).ink.height,
            room,
            gap,
            self._widths(text),
            self.language,
            self.slot.small != "no",
        )
        shaped = self._in_order(text, [line.text for line in found])
        sized: list[tuple[ShapedLine, float]] = []
        for line, each in zip(shaped, found, strict=True):
            width = line.ink.width
            size = min(self.slot.largest, block / width) if width > 0 else 0.0
            if not each.catch and line is self.line(each.text):
                line = self._spread(each.text, size, block + stroke)
                size = min(size, block / line.ink.width) if line.ink.width > 0 else 0.0
            sized.append((line, size))
        tall = [
            line.ink.height * size for (line, size), each in zip(sized, found, strict=True) if not each.catch
        ]
        low = CATCH * sum(tall) / len(tall) if tall else 0.0
        for index, each in enumerate(found):
            line = sized[index][0]
            if each.catch and line.ink.width > 0:
                sized[index] = (line, min(low / line.ink.height, _CATCH_WIDTH * block / line.ink.width))
        placed = stacked(self.slot, sized, box, gap)
        return [
            self._ruled(one, block, box)
            if each.catch and self.slot.small == "rules"
            else replace(one, catch=each.catch)
            for one, each in zip(placed, found, strict=True)
        ]

    def _ruled(self, one: PlacedLine, block: float, box: Bounds) -> PlacedLine:
        """A catch line with a rule on either side, out to the block's edges."""
        ink = one.outline.bounds()
        if ink is None:
            return replace(one, catch=True)
        thick, air = _RULE * ink.height, _RULE_AIR * ink.height
        middle = (box.left + box.right) / 2
        if self.slot.align in ("start", "end"):
            return replace(one, catch=True)
        left, right = middle - block / 2, middle + block / 2
        length = min(ink.left - air - left, right - ink.right - air)
        if length < ink.height:
            return replace(one, catch=True)
        y = one.baseline - one.size * one.line.glyphs[0].font.cap_height / 2
        bars = [
            Bounds(left, y - thick / 2, left + length, y + thick / 2),
            Bounds(right - length, y - thick / 2, right, y + thick / 2),
        ]
        return replace(one, catch=True, rules=boxes(bars))

    def _in_order(self, text: str, texts: Sequence[str]) -> list[ShapedLine]:
        """The lines with their letters in the order the whole text gives them (UAX 9, L1 and L2)."""
        text = plain(text).replace("\u00ad", "")
        base, levels = embedding_levels(text)
        if len(texts) < 2 or not (base or any(levels)):
            return [self.line(each) for each in texts]
        lines, at = [], 0
        for each in texts:
            start = text.find(plain(each), at)
            if start < 0:  # a hyphen was put in: its line goes by itself
                lines.append(self.line(each))
                continue
            at = start + len(plain(each))
            lines.append(
                shape(
                    each,
                    self.fonts,
                    tracking=self.natural,
                    language=self.language,
                    levels=(base, levels[start:at]),
                    faces=self.faces,
                    where=self.where,
                )
            )
        return lines

    def _finished(self, placed: Sequence[PlacedLine]) -> SetText:
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
                    catch=each.catch,
                )
            )
        ink = union(boxes)
        if ink is not None and slot.shadow is not None:
            right, down = slot.shadow.right_mm / mm, slot.shadow.down_mm / mm
            shifted = Bounds(ink.left + right, ink.top + down, ink.right + right, ink.bottom + down)
            ink = union([ink, shifted])
        parts: dict[int, list[Outline]] = {}
        for each in placed:
            for style, part in each.line.by_style(each.outline):
                parts.setdefault(style, []).append(part)
            parts.setdefault(0, []).append(each.rules)
        return SetText(
            parts=tuple(
                (style, whole)
                for style, pieces in sorted(parts.items())
                if not (whole := joined(pieces)).empty
            ),
            outline=joined(part for each in placed for part in (each.outline, each.rules))
            if placed
            else EMPTY,
            ink=ink,
            lines=tuple(facts),
            width_variation=width_variation([fact.width_mm for fact in facts if not fact.catch]),
            counters=(closed, rooms),
            touching=tuple(pair for each in placed for pair in each.touching),
        )
