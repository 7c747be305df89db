"""Filling a layout with a row: an outlined SVG, its quality, and what a person should know."""

import copy
import math
from collections.abc import Mapping
from dataclasses import dataclass

from lxml import etree

from hundredfold.designs.checks import ROW
from hundredfold.designs.layouts.cells import complaint_about
from hundredfold.designs.layouts.drawing import SVG, local, number
from hundredfold.designs.layouts.elements import attributes, drop, elements, replace, take
from hundredfold.designs.layouts.layout import MARK, Layout
from hundredfold.designs.layouts.pattern import column_key, filled
from hundredfold.designs.layouts.pictures import picture_element
from hundredfold.designs.layouts.quality import SetFacts, overlap
from hundredfold.designs.layouts.roles import colour_of, paint
from hundredfold.designs.layouts.rows import PALETTE, Row
from hundredfold.designs.layouts.settext import Setter, SetText
from hundredfold.designs.layouts.slots import TextSlot
from hundredfold.designs.layouts.transforms import map_box, scale_of
from hundredfold.designs.layouts.worn import worn_mask
from hundredfold.designs.typesetting.fonts import Font
from hundredfold.designs.typesetting.outline import Bounds
from hundredfold.kernel.errors import ShopError, Where
from hundredfold.kernel.findings import Finding, Severity

_KEPT_ON_TEXT = ("opacity", "clip-path", "mask", "filter", "display", "visibility")
_PEN_KEPT = ("stroke-linejoin", "paint-order", "stroke-opacity", "fill-opacity")
_FINEST = 400_000  # steps of a coordinate along the longer side: a hundredth of a pixel at 4000
MADE_FROM = "data-made-from"  # on the root of every design: the list it came from

Fonts = Mapping[tuple[str, int], Font]


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
    layout: Layout, row: Row, fonts: Fonts, art: Mapping[str, bytes] | None = None, version: str = ""
) -> Filled:
    """Fill a layout. What is wrong with the row becomes findings; nothing is raised for it.

    ``fonts`` holds every pair of ``layout.fonts()``; ``art`` the pictures that rows name. ``version`` is one
    of ``layout.versions``. The same arguments give the same bytes.
    """
    findings = list(_judge_cells(layout, row))
    if any(finding.severity is Severity.STOP for finding in findings):
        return Filled(row, version, b"", None, tuple(findings))
    try:
        return _Filling(layout, row, fonts, art or {}, version, findings).run()
    except ShopError as error:
        finding = ROW.finds_error(error, _item(layout, row))
        return Filled(row, version, b"", None, (*findings, finding))


def _judge_cells(layout: Layout, row: Row) -> list[Finding]:
    findings = []
    optional = layout.optional()
    for name in layout.columns():
        key = column_key(name)
        text = row.cells.get(key, "")
        if not text.strip():
            if key not in optional:
                what = f"the cell “{name}” is empty"
                fix = "fill it, or mark the slot in the layout as optional: {" + name + "?}"
                findings.append(ROW.finds("empty-cell", _item(layout, row), what, fix))
            continue
        complaint = complaint_about(text)
        if complaint is not None:
            what = f"{complaint.what}, in “{name}”"
            findings.append(
                ROW.finds(complaint.code, _item(layout, row), what, complaint.fix, complaint.numbers)
            )
    return findings


def _item(layout: Layout, row: Row) -> str:
    return f"{row.file}, row {row.number}, with {layout.name}"


class _Filling:
    def __init__(
        self,
        layout: Layout,
        row: Row,
        fonts: Fonts,
        art: Mapping[str, bytes],
        version: str,
        findings: list[Finding],
    ) -> None:
        self.layout, self.row, self.fonts, self.art, self.version = layout, row, fonts, art, version
        self.findings = findings
        self.colours = layout.colours(version, row.cell(PALETTE))
        self.root = copy.deepcopy(layout.drawing.root)
        self.set: list[tuple[TextSlot, SetText]] = []

    def run(self) -> Filled:
        self._show_and_hide()
        marked = {e.get(MARK): e for e in elements(self.root) if e.get(MARK) is not None}
        for text in self.layout.texts:
            element = marked.get(str(text.number))
            if element is not None:
                self._fill_text(text, element)
        for slot in self.layout.arts:
            element = marked.get(str(slot.number))
            if element is None:
                continue
            name = filled(slot.pattern, self.row.cells, self.layout.language)
            if not name:
                drop(element)
                continue
            if name not in self.art:
                what, fix = (
                    f"there is no picture “{name}”",
                    "put it into the shop's art folder, or correct the cell",
                )
                raise ShopError("bad-art", what, fix)
            tint = self._colour(slot.recolour) if slot.recolour else ""
            replace(element, picture_element(slot, self.art[name], name, tint))
        self._wear()
        paint(self.root, self.colours)
        self._tidy()
        svg = etree.tostring(self.root, encoding="utf-8") + b"\n"
        facts = self._facts()
        self.findings.extend(self._judge(facts))
        inks = tuple(
            (slot.label, map_box(slot.matrix, done.ink)) for slot, done in self.set if done.ink is not None
        )
        return Filled(self.row, self.version, svg, facts, tuple(self.findings), inks)

    def _colour(self, name: str) -> str:
        return colour_of(name, self.colours, self.layout.drawing)

    def _show_and_hide(self) -> None:
        for element in list(elements(self.root)):
            column = take(element, "data-when")
            hidden = column is not None and not self.row.cell(column).strip()
            if hidden or element.get("data-guide") is not None:
                drop(element)

    def _fill_text(self, slot: TextSlot, element: etree._Element) -> None:
        text = filled(slot.pattern, self.row.cells, self.layout.language)
        if not text:
            drop(element)
            return
        fonts = [self.fonts[(name, slot.weight)] for name in slot.fonts]
        where = Where(self.row.file, row=self.row.number, field=slot.label)
        done = Setter(slot, fonts, self.layout.language, where).set(text)
        self.set.append((slot, done))
        replace(element, self._drawn(slot, element, done))

    def _drawn(self, slot: TextSlot, element: etree._Element, done: SetText) -> etree._Element:
        drawing = self.layout.drawing
        group = etree.Element(f"{{{SVG}}}g")
        for name in ("id", "transform", "data-distress"):
            if element.get(name):
                group.set(name, str(element.get(name)))
        for name in _KEPT_ON_TEXT:
            # Asked of the untouched drawing by the mark: rules and inline styles count there.
            value = drawing.style(element, name)
            if value:
                group.set(name, value)
        data = done.outline.path_data(self._decimals(slot))
        if slot.shadow is not None:
            right, down = slot.shadow.right_mm / slot.mm_per_unit, slot.shadow.down_mm / slot.mm_per_unit
            colour = self._colour(slot.shadow.colour)
            shade = _path(group, data, colour, colour if slot.stroke else "", slot.stroke)
            shade.set("transform", f"translate({right:.6g} {down:.6g})")
        for index in range(len(slot.edges) - 1, -1, -1):
            width = 2 * sum(edge.width_mm for edge in slot.edges[: index + 1]) / slot.mm_per_unit
            colour = self._colour(slot.edges[index].colour)
            _path(group, data, colour, colour, width)
        face = _path(group, data, self._colour(slot.fill), "", 0)
        if slot.pen is not None:
            _stroke(face, self._colour(slot.pen[0]), slot.pen[1])
            for name in _PEN_KEPT:
                value = drawing.style(element, name)
                if value:
                    face.set(name, value)
        return group

    def _decimals(self, slot: TextSlot) -> int:
        """Places of a coordinate, so that a drawing in millimetres is as fine as one in pixels."""
        side = max(self.layout.drawing.view[2:]) / (scale_of(slot.matrix) or 1.0)
        return max(0, math.ceil(math.log10(_FINEST / side)))

    def _wear(self) -> None:
        layout = self.layout
        masks: dict[str, str] = {}
        for element in list(elements(self.root)):
            asked = take(element, "data-distress")
            if asked is None:
                continue
            if asked.startswith("#"):
                element.set("mask", f"url({asked})")
                continue
            parts = asked.replace(",", " ").split() or ["0"]
            share, seed = number(parts[0]), int(number(parts[1])) if len(parts) > 1 else 1
            name = f"worn-{share:g}-{seed}".replace(".", "_")
            masks[name] = worn_mask(name, layout.drawing.view, layout.drawing.mm_per_unit, share, seed)
            if element is self.root:
                element = self._wrapped()
            element.set("mask", f"url(#{name})")
        for text in masks.values():
            self.root.insert(0, etree.fromstring(text))

    def _wrapped(self) -> etree._Element:
        """The whole drawing as one group: the root itself takes no mask."""
        group = etree.Element(f"{{{SVG}}}g")
        for child in list(self.root):
            if local(child) not in ("defs", "style"):
                group.append(child)
        self.root.append(group)
        return group

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

    def _judge(self, facts: SetFacts) -> list[Finding]:
        found = []
        small = min(
            (line for line in facts.lines if line.x_height_mm < line.least_x_height_mm - 1e-9),
            key=lambda line: line.x_height_mm / line.least_x_height_mm,
            default=None,
        )
        if small is not None:
            what = (
                f"“{small.text}” only fits with letters {small.x_height_mm:.2f} mm tall; "
                f"the layout's least is {small.least_x_height_mm:g} mm"
            )
            numbers = {"x_height_mm": round(small.x_height_mm, 3), "least_mm": small.least_x_height_mm}
            fix = "shorten the words, or use a layout with more room"
            found.append(ROW.finds("too-small", _item(self.layout, self.row), what, fix, numbers))
        return found


def _path(parent: etree._Element, data: str, fill: str, stroke: str, width: float) -> etree._Element:
    path = etree.SubElement(parent, f"{{{SVG}}}path", d=data, fill=fill)
    # The drawing's own inherited pen must not draw round the letters a second time.
    _stroke(path, stroke or "none", width)
    return path


def _stroke(path: etree._Element, colour: str, width: float) -> None:
    path.set("stroke", colour)
    if colour != "none":
        path.set("stroke-width", f"{width:.6g}")
        path.set("stroke-linejoin", "round")
