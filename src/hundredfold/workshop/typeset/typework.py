"""One row set, drawn and written, in a worker process; layouts and fonts are read once a process."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from hashlib import sha256
from pathlib import Path

from hundredfold.designs.checks import ROW
from hundredfold.designs.layouts.fill import Filled, fill_layout
from hundredfold.designs.layouts.layout import Layout, parse_layout
from hundredfold.designs.layouts.pattern import filled
from hundredfold.designs.layouts.rows import NAME, Row
from hundredfold.designs.typesetting.fonts import Font
from hundredfold.kernel.errors import ShopError
from hundredfold.kernel.findings import Finding
from hundredfold.kernel.units import MM_PER_INCH
from hundredfold.placement.encode import with_head
from hundredfold.runner.allocator import keep_freed_memory
from hundredfold.runner.atomic import write_whole
from hundredfold.runner.svgchild import rasterise_png
from hundredfold.workshop.shop.checks import FONTS
from hundredfold.workshop.shop.typefaces import find_font

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
    if not same:
        write_whole(svg, done.svg, durable=False)
    if picture is not None and (not same or not picture.is_file()):
        try:
            write_whole(picture, draw_png(done.svg, layout, work.png_width, svg.name), durable=False)
            written = True
        except ShopError as error:
            if error.slug in ("disk-full", "cannot-write", "file-in-use"):
                raise
            item = f"{work.row.file}, row {work.row.number}, with {work.layout_name}"
            stop = ROW.finds_error(error, item)
            return DoneRow("", False, title, (*findings, stop), {})
    return DoneRow(digest, written, title, findings, done.facts.as_json())


def fill_row(layout: Layout, row: Row, fonts_folder: str, art_folder: str, version: str) -> Filled:
    """Fill a layout from a row with the fonts and pictures of these folders."""
    fonts = {key: _font(*key, fonts_folder) for key in layout.fonts()}
    return fill_layout(layout, row, fonts, _art(layout, row, Path(art_folder)), version)


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
    try:
        texts = [filled(slot.pattern, row.cells, layout.language) for slot in layout.texts]
    except KeyError:
        return ""
    return " ".join(text for text in texts if text)[:_LONGEST_TITLE]


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
        try:
            name = filled(slot.pattern, row.cells, layout.language)
        except KeyError:
            continue
        path = folder / name
        if name and path.is_file() and path.resolve().is_relative_to(folder.resolve()):
            found[name] = path.read_bytes()
    return found
