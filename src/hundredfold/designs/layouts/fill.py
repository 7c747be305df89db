"""Filling a layout with a row: an outlined SVG, its quality, and what a person should know."""

import copy
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from lxml import etree

from hundredfold.designs.checks import ROW
from hundredfold.designs.layouts.drawing import SVG
from hundredfold.designs.layouts.elements import attributes, drop, elements, take
from hundredfold.designs.layouts.elements import replace as replace_element
from hundredfold.designs.layouts.fixed import Mask
from hundredfold.designs.layouts.inking import drawn_text
from hundredfold.designs.layouts.judging import CLEARLY_LARGER, Judged, judge, size_of
from hundredfold.designs.layouts.layout import MARK, SHAPE, Layout
from hundredfold.designs.layouts.letters import nothing_visible
from hundredfold.designs.layouts.pattern import filled, said, shown_when
from hundredfold.designs.layouts.pictures import art_ink, picture_element
from hundredfold.designs.layouts.quality import SetFacts, overlap
from hundredfold.designs.layouts.roles import colour_of, paint
from hundredfold.designs.layouts.rowcells import item_of, judge_cells, sign_name
from hundredfold.designs.layouts.rows import PALETTE, Row
from hundredfold.designs.layouts.setter import Setter
from hundredfold.designs.layouts.settext import SetText
from hundredfold.designs.layouts.slots import ArtSlot, TextSlot
from hundredfold.designs.layouts.stacks import Steps, moved_by, stack_steps
from hundredfold.designs.layouts.transforms import map_box, scale_of
from hundredfold.designs.layouts.worn import wear
from hundredfold.designs.typesetting.fonts import Font
from hundredfold.designs.typesetting.outline import Bounds
from hundredfold.designs.typesetting.spans import Face, plain
from hundredfold.kernel.errors import ShopError, Where
from hundredfold.kernel.findings import Finding, Severity, worst

MADE_FROM = "data-made-from"  # on the root of every design: the list it came from

Fonts = Mapping[tuple[str, int], Font]
Spares = Mapping[tuple[str, int], Sequence[Font]]


@dataclass(frozen=True, eq=False)
class Filled:
    """A row's design. ``svg`` is empty when a finding stops it."""

    row: Row
    version: str
    svg: bytes
    facts: SetFacts | None
    findings: tuple[Finding, ...]
    inks: tuple[tuple[str, Bounds], ...] = ()  # of each text slot, in the drawing's units


def fill_layout(
    layout: Layout,
    row: Row,
    fonts: Fonts,
    art: Mapping[str, bytes] | None = None,
    version: str = "",
    spares: Spares | None = None,
) -> Filled:
    """Fill a layout. What is wrong with the row becomes findings; nothing is raised for it.

    ``fonts`` holds every pair of ``layout.fonts()``; ``spares`` the faces that stand in for one where it
    lacks
    a word's letters, the likest first; ``art`` the pictures that rows name. ``version`` is one
    of ``layout.versions``. The same arguments give the same bytes.
    """
    findings = list(judge_cells(layout, row))
    if any(finding.severity is Severity.STOP for finding in findings):
        return Filled(row, version, b"", None, tuple(findings))
    try:
        return _Filling(layout, row, fonts, art or {}, version, findings, spares).run()
    except ShopError as error:
        finding = ROW.finds_error(error, item_of(layout, row))
        return Filled(row, version, b"", None, (*findings, finding))


class _Filling:
    def __init__(
        self,
        layout: Layout,
        row: Row,
        fonts: Fonts,
        art: Mapping[str, bytes],
        version: str,
        findings: list[Finding],
        spares: Spares | None = None,
    ) -> None:
        self.layout, self.row, self.fonts, self.art, self.version = layout, row, fonts, art, version
        self.spares: Spares = spares or {}
        self.pictures: list[tuple[str, Bounds]] = []
        self.findings = findings
        self.colours = layout.colours(version, row.cell(PALETTE))
        self.root = copy.deepcopy(layout.drawing.root)
        self.set: list[tuple[TextSlot, SetText]] = []

    def run(self) -> Filled:
        self._show_and_hide()
        marked = {e.get(MARK): e for e in elements(self.root) if e.get(MARK) is not None}
        self._set_texts(marked)
        arts = self._arts(marked)
        stacked = [(slot, art_ink(slot, self.art[name], name)) for slot, name in arts]  # decoded once
        steps = stack_steps(self.layout.drawing, self.root, self.set, stacked, self.layout.stacks)
        self._draw_texts(marked, steps)
        for (slot, name), (_, ink) in zip(arts, stacked, strict=True):
            self._place_art(slot, name, ink, marked[str(slot.number)], steps)
        wear(self.root, self.layout.drawing)
        shapes = self._shapes()
        paint(self.root, self.colours)
        self._tidy()
        svg = etree.tostring(self.root, encoding="utf-8") + b"\n"
        facts = self._facts()
        drawing = self.layout.drawing
        judged = Judged(
            drawing.view, drawing.mm_per_unit, self.layout.language, self.set, facts, shapes, self.pictures
        )
        for one in judge(judged):
            item = item_of(self.layout, self.row)
            self.findings.append(ROW.finds(one.code, item, one.what, one.fix, one.numbers))
        if worst(self.findings) is Severity.STOP:
            svg = b""
        inks = tuple(
            (slot.label, map_box(slot.matrix, done.ink)) for slot, done in self.set if done.ink is not None
        )
        return Filled(self.row, self.version, svg, facts, tuple(self.findings), inks)

    def _set_texts(self, marked: Mapping[str | None, etree._Element]) -> None:
        """Every text in its slot; slots of one name at the size of the least."""
        wanted: list[tuple[TextSlot, str]] = []
        for slot in self.layout.texts:
            element = marked.get(str(slot.number))
            if element is None:
                continue
            text = said(slot.pattern, self.row.cells, self.layout.language)
            if text:
                wanted.append((slot, text))
            else:
                drop(element)
        self._tell_missing(wanted)
        self.set = [(slot, self._setter(slot).set(text)) for slot, text in wanted]
        for name in {slot.same for slot, _ in wanted if slot.same}:
            sizes = [
                max(line.size_mm for line in done.lines) / slot.mm_per_unit
                for slot, done in self.set
                if slot.same == name and done.lines
            ]
            self.set = [
                (slot, self._setter(replace(slot, largest=min(sizes))).set(text))
                if slot.same == name and sizes
                else (slot, done)
                for (slot, done), (_, text) in zip(self.set, wanted, strict=True)
            ]
        self._keep_order(wanted)

    def _keep_order(self, wanted: Sequence[tuple[TextSlot, str]]) -> None:
        """What was drawn clearly smaller than another text does not come out larger than it."""
        for index, (slot, done) in enumerate(self.set):
            above = [
                min(size_of(other), 1e9) / slot.mm_per_unit
                for larger, other in self.set
                if larger.size * larger.mm_per_unit > CLEARLY_LARGER * slot.size * slot.mm_per_unit
                and not larger.same
                and 0 < size_of(other) < size_of(done)
            ]
            if above and slot.align != "level" and not slot.same:
                smaller = replace(slot, largest=min(slot.largest, min(above)))
                self.set[index] = (slot, self._setter(smaller).set(wanted[index][1]))

    def _setter(self, slot: TextSlot) -> Setter:
        fonts = self._fonts_of(slot)
        where = Where(self.row.file, row=self.row.number, field=slot.label)
        faces = {
            number: Face(
                [*(self.fonts[(name, style.weight)] for name in style.fonts), *fonts], style.scale, style.lean
            )
            for number, style in enumerate(slot.spans, start=1)
        }
        return Setter(slot, fonts, self.layout.language, where, faces)

    def _fonts_of(self, slot: TextSlot) -> list[Font]:
        own = [self.fonts[(name, slot.weight)] for name in slot.fonts]
        return [*own, *self.spares.get((slot.fonts[0], slot.weight), ())]

    def _tell_missing(self, wanted: Sequence[tuple[TextSlot, str]]) -> None:
        """All letters that no font has, at once; and whole words that a substitute face will set."""
        lost: dict[str, str] = {}
        for slot, text in wanted:
            fonts = self._fonts_of(slot)
            shown = Setter(slot, fonts, self.layout.language, Where()).shown(text)
            for char in shown:
                if not any(font.covers(char) for font in fonts):
                    lost.setdefault(char, fonts[0].name)
            words = [word for word in plain(shown).split() if not fonts[0].covers(word)]
            if words and not lost:
                what = f"“{words[0]}” is set in a face like {fonts[0].name}, which lacks some of its letters"
                fix = "nothing, if it looks right on the sheet; else choose a face that has them"
                item = item_of(self.layout, self.row)
                self.findings.append(ROW.finds("other-face", item, what, fix, {"words": len(words)}))
        if lost:
            letters = ", ".join(f"{char} (U+{ord(char):04X}{sign_name(char)})" for char in lost)
            names = " or ".join(dict.fromkeys(lost.values()))
            what = f"no font has {letters}: not {names}, nor those that stand in for it"
            raise ShopError(
                "missing-glyph", what, "change the word, or put a font that has it into the fonts folder"
            )

    def _draw_texts(self, marked: Mapping[str | None, etree._Element], steps: Steps) -> None:
        moved = []
        for slot, done in self.set:
            scale, key = scale_of(slot.matrix) or 1.0, str(slot.number)
            drawn = done.moved(0.0, steps.own.get(key, 0.0) / scale, slot.matrix)
            carried = steps.carried[key][5] if key in steps.carried else 0.0
            moved.append((slot, drawn.moved(0.0, carried / scale, slot.matrix)))
            replace_element(
                marked[key], drawn_text(self.layout.drawing, slot, marked[key], drawn, self._colour)
            )
        self.set = moved

    def _arts(self, marked: Mapping[str | None, etree._Element]) -> list[tuple[ArtSlot, str]]:
        """The places that the row fills, with their pictures' names."""
        found = []
        for slot in self.layout.arts:
            element = marked.get(str(slot.number))
            if element is None:
                continue
            name = filled(slot.pattern, self.row.cells, self.layout.language)
            if not name:
                drop(element)
            elif name in self.art:
                found.append((slot, name))
            else:
                fix = "put it into the shop's art folder, or correct the cell"
                raise ShopError("bad-art", f"there is no picture “{name}”", fix)
        return found

    def _place_art(
        self, slot: ArtSlot, name: str, ink: Bounds, element: etree._Element, steps: Steps
    ) -> None:
        step, times = steps.own.get(str(slot.number), 0.0), steps.grown.get(str(slot.number), 1.0)
        if not times:
            drop(element)
            return
        if times != 1.0:
            slot, ink = replace(slot, box=_times(slot.box, ink, times)), _times(ink, ink, times)
        tint = self._colour(slot.recolour) if slot.recolour else ""
        placed = picture_element(slot, self.art[name], name, tint, element)
        transform = f"translate(0 {step:.6g}) " * bool(step) + element.get("transform", "")
        if transform.strip() or self.layout.drawing.style(element, "clip-path"):
            group = etree.Element(f"{{{SVG}}}g")
            if transform.strip():
                group.set("transform", transform.strip())
            for kept in ("clip-path", "opacity", "mask"):
                value = self.layout.drawing.style(element, kept)
                if value:
                    group.set(kept, value)
            group.append(placed)
            placed = group
        ink = map_box(slot.matrix, ink)
        ink = Bounds(ink.left, ink.top + step, ink.right, ink.bottom + step)
        carried = steps.carried.get(str(slot.number))
        self.pictures.append((name, ink if carried is None else map_box(carried, ink)))
        replace_element(element, placed)

    def _shapes(self) -> list[tuple[str, Mask]]:
        """Masks of what the layout draws besides the words, where this row shows it."""
        shown = {e.get(SHAPE) for e in elements(self.root) if e.get(SHAPE) is not None}
        moved = {e.get(SHAPE): matrix for e in elements(self.root) if (matrix := moved_by(e)) is not None}
        view = self.layout.drawing.view
        words = [map_box(slot.matrix, done.ink) for slot, done in self.set if done.ink is not None]
        found: list[tuple[str, Mask]] = []
        hidden: Mask | None = None
        # From the top down: what lies under a later shape is not seen there.
        for key, name, shape in reversed(self.layout.shapes):
            if key not in shown:
                continue
            here = shape.moved(moved[key]) if key in moved else shape
            if not any(here.near(ink) for ink in words):
                continue
            mask = here.mask(view)
            found.append((name, mask if hidden is None else mask & ~hidden))
            if shape.filled:
                hidden = mask if hidden is None else mask | hidden
        return found

    def _colour(self, name: str) -> str:
        return colour_of(name, self.colours, self.layout.drawing)

    def _show_and_hide(self) -> None:
        for element in list(elements(self.root)):
            when, unless = take(element, "data-when"), take(element, "data-unless")
            hidden = (when is not None and self._is_empty(when)) or (
                unless is not None and not self._is_empty(unless)
            )
            if hidden or element.get("data-guide") is not None:
                drop(element)

    def _is_empty(self, column: str) -> bool:
        return nothing_visible(filled(shown_when(column), self.row.cells, self.layout.language))

    def _tidy(self) -> None:
        for element in elements(self.root):
            for key in [key for key in attributes(element) if key.startswith("data-")]:
                del element.attrib[key]
        self.root.set(MADE_FROM, self.row.file)
        view, mm = self.layout.drawing.view, self.layout.drawing.mm_per_unit
        self.root.set("width", f"{view[2] * mm:.6g}mm")
        self.root.set("height", f"{view[3] * mm:.6g}mm")
        self.root.set("viewBox", " ".join(f"{value:g}" for value in view))

    def _facts(self) -> SetFacts:
        lines = tuple(line for _, done in self.set for line in done.lines)
        closed = sum(done.counters[0] for _, done in self.set)
        rooms = sum(done.counters[1] for _, done in self.set)
        inks = [done.outline.affine(*slot.matrix) for slot, done in self.set]
        drawing = self.layout.drawing
        smallest = min((line.x_height_mm for line in lines), default=0.0)
        return SetFacts(
            lines=lines,
            smallest_x_height_mm=smallest,
            smallest_x_height_share=smallest / (drawing.view[2] * drawing.mm_per_unit),
            most_shrunk=min((line.shrink for line in lines), default=1.0),
            most_lines=max((len(done.lines) for _, done in self.set), default=0),
            width_variation=max((done.width_variation for _, done in self.set), default=0.0),
            closed_counters=closed / rooms if rooms else 0.0,
            overlap=overlap(inks, drawing.view) if len(inks) > 1 else 0.0,
            characters=sum(len(line.text) for line in lines),
        )


def _times(box: Bounds, ink: Bounds, times: float) -> Bounds:
    """A picture's place made larger, so that its ink grows from the middle of its top."""
    x, y = (ink.left + ink.right) / 2, ink.top
    left, right = x + (box.left - x) * times, x + (box.right - x) * times
    return Bounds(left, y + (box.top - y) * times, right, y + (box.bottom - y) * times)
