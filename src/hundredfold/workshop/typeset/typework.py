"""One row set, drawn and written, in a worker process; layouts and fonts are read once a process."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import lru_cache
from hashlib import sha256
from pathlib import Path

from hundredfold.designs.checks import ROW
from hundredfold.designs.layouts.casing import apply_case
from hundredfold.designs.layouts.fill import Filled, fill_layout
from hundredfold.designs.layouts.layout import Layout, parse_layout
from hundredfold.designs.layouts.letters import nothing_visible
from hundredfold.designs.layouts.pattern import column_key, filled, said
from hundredfold.designs.layouts.rows import NAME, NICHE, Row
from hundredfold.designs.typesetting.fonts import Font
from hundredfold.designs.typesetting.spans import plain
from hundredfold.kernel.errors import ShopError
from hundredfold.kernel.findings import Finding
from hundredfold.kernel.units import MM_PER_INCH
from hundredfold.placement.encode import with_head
from hundredfold.runner.allocator import keep_freed_memory
from hundredfold.runner.atomic import write_whole
from hundredfold.runner.svgchild import rasterise_png
from hundredfold.workshop.shop.checks import FONTS
from hundredfold.workshop.shop.standins import stand_ins
from hundredfold.workshop.shop.typefaces import find_font
from hundredfold.workshop.typeset.naming import slug

_LONGEST_TITLE = 120


@dataclass(frozen=True)
class RowWork:
    """What a worker needs for one design; plain values, so that it travels."""

    layout: bytes
    layout_name: str
    row: Row
    version: str
    fonts: str
    art: str
    svg: str
    png: str
    png_width: int
    before: str  # sha256 of the design as it was last written, "" when it was not


@dataclass(frozen=True)
class DoneRow:
    """What came of it. ``sha256`` is empty when a finding stopped the row."""

    sha256: str
    written: bool
    title: str
    findings: tuple[Finding, ...]
    facts: Mapping[str, float]
    says: tuple[str, ...] = ()


def set_row(work: RowWork) -> DoneRow:
    """Fill the layout, write the SVG and the PNG where they are new or changed."""
    keep_freed_memory()
    layout = _layout(work.layout, work.layout_name)
    done = fill_row(layout, work.row, work.fonts, work.art, work.version)
    title = title_of(layout, work.row)
    if not done.svg or done.facts is None:
        return DoneRow("", False, title, done.findings, {})
    digest = sha256(done.svg).hexdigest()
    svg, picture = Path(work.svg), Path(work.png) if work.png else None
    same = digest == work.before and svg.is_file() and svg.stat().st_size == len(done.svg)
    written = not same
    findings = done.findings
    drawn = b""
    if picture is not None and (not same or not picture.is_file()):
        try:
            drawn = draw_png(done.svg, layout, work.png_width, svg.name)
            written = True
        except ShopError as error:
            if error.slug in ("disk-full", "cannot-write", "file-in-use"):
                raise
            item = f"{work.row.file}, row {work.row.number}, with {work.layout_name}"
            stop = ROW.finds_error(error, item)
            return DoneRow("", False, title, (*findings, stop), {})
    # Both or neither: a row that cannot be drawn leaves no drawing behind.
    if not same:
        write_whole(svg, done.svg, durable=False)
    if picture is not None and drawn:
        write_whole(picture, drawn, durable=False)
    return DoneRow(digest, written, title, findings, done.facts.as_json(), lines_of(layout, work.row))


def fill_row(layout: Layout, row: Row, fonts_folder: str, art_folder: str, version: str) -> Filled:
    """Fill a layout from a row with the fonts and pictures of these folders."""
    fonts = {key: _font(*key, fonts_folder) for key in layout.fonts()}
    row = with_niche_picture(layout, row, Path(art_folder))
    spares = spares_for(layout, row, fonts, Path(fonts_folder))
    return fill_layout(layout, row, fonts, _art(layout, row, Path(art_folder)), version, spares)


def spares_for(
    layout: Layout, row: Row, fonts: Mapping[tuple[str, int], Font], folder: Path
) -> dict[tuple[str, int], tuple[Font, ...]]:
    """For each face of the layout, what stands in for it where this row has letters that it lacks."""
    words = {
        word
        for slot in layout.texts
        for text in (plain(said(slot.pattern, row.cells, layout.language)),)
        for word in (*text.split(), *apply_case(text, slot.case, layout.language).split())
    }
    return {
        (slot.fonts[0], slot.weight): stand_ins(fonts[(slot.fonts[0], slot.weight)], sorted(words), folder)
        for slot in layout.texts
    }


def with_niche_picture(layout: Layout, row: Row, folder: Path) -> Row:
    """The row with the picture that its niche is named after where it names none."""
    stem = slug(row.cell(NICHE))
    names = [
        f"{stem}{ending}"
        for ending in (".svg", ".png", ".jpg")
        if stem and (folder / f"{stem}{ending}").is_file()
    ]
    if not names:
        return row
    empty = {
        column_key(column): names[0]
        for slot in layout.arts
        for column in slot.pattern.columns()
        if nothing_visible(row.cell(column))
    }
    return replace(row, cells={**row.cells, **empty}) if empty else row


def font_findings(layout: Layout, words: str, fonts_folder: str) -> tuple[Finding, ...]:
    """Fonts of the layout that cannot be had; each stops the layout with this list."""
    findings = []
    for key in layout.fonts():
        try:
            _font(*key, fonts_folder)
        except ShopError as error:
            what = f"{error.where}: {error.what}" if str(error.where) else error.what
            item = f"{words} with {layout.name}"
            findings.append(FONTS.finds(error.slug, item, what, error.fix))
    return tuple(findings)


def draw_png(svg: bytes, layout: Layout, width_px: int, name: str) -> bytes:
    """The design as a PNG of that width, transparent where nothing is printed."""
    view = layout.drawing.view
    height_px = max(1, round(width_px * view[3] / view[2]))
    dpi = width_px / (view[2] * layout.drawing.mm_per_unit / MM_PER_INCH)
    return with_head(rasterise_png(svg, width_px, height_px, name), dpi)


def title_of(layout: Layout, row: Row) -> str:
    """What the design says, in reading order of the drawing, or the row's own name for it."""
    if row.cell(NAME):
        return row.cell(NAME)
    return " ".join(lines_of(layout, row))[:_LONGEST_TITLE]


def lines_of(layout: Layout, row: Row) -> tuple[str, ...]:
    """What the design says, slot by slot in reading order."""
    texts = (plain(said(slot.pattern, row.cells, layout.language)) for slot in layout.texts)
    return tuple(" ".join(text.split()) for text in texts if text.strip())


@lru_cache(maxsize=8)
def _layout(data: bytes, name: str) -> Layout:
    return parse_layout(data, name)


@lru_cache(maxsize=64)
def _font(name: str, weight: int, folder: str) -> Font:
    return find_font(name, weight, Path(folder))


def _art(layout: Layout, row: Row, folder: Path) -> dict[str, bytes]:
    """The pictures the row names; a name that is no file of the folder is left out, and judged later."""
    found = {}
    for slot in layout.arts:
        name = filled(slot.pattern, row.cells, layout.language)
        path = folder / name
        if name and path.is_file() and path.resolve().is_relative_to(folder.resolve()):
            found[name] = path.read_bytes()
    return found
