"""Rows filled into a copy of the partner's own workbook: every other part of it stays byte for byte.

Only the one worksheet's rows from ``first_row`` on are replaced, written one after the other, so that memory
does not grow with them; its columns, lists, conditional formats, drawings and protection are its own bytes.
Our cells take the styles of the cells that stood in the first row. ECMA-376 part 1, 18.3.1.
"""

import re
import zipfile
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from io import BytesIO
from typing import BinaryIO
from xml.sax.saxutils import escape

from hundredfold.catalogue.sheets import Sheet
from hundredfold.handoff.cells import Cell
from hundredfold.handoff.formats.newbook import MAX_CHARS, MAX_ROWS
from hundredfold.kernel.errors import ShopError, Where
from hundredfold.learning.addresses import area_of, cell_at
from hundredfold.learning.words import letter_of
from hundredfold.learning.workbook import Workbook

_BLOCK = 1 << 16
_EPOCH = date(1899, 12, 30)  # day 0 of a workbook's calendar, for days after February 1900
_CHAIN = "xl/calcChain.xml"
_AGAIN = "learn the partner's file again: hundredfold channels learn FILE"


@dataclass(frozen=True)
class _Cut:
    """A worksheet's bytes around the rows that are ours."""

    before: bytes  # through the last row kept
    after: bytes  # from the end of the rows on
    prefix: str  # of the worksheet's elements, "x:" say
    styles: Mapping[int, str]
    formulas: bool  # whether rows that go held any


def write_filled(sheet: Sheet, form: bytes, rows: Iterable[Sequence[Cell]], out: BinaryIO) -> None:
    """Writes the workbook. ``out`` must seek.

    Raises ShopError ``form-changed``, ``merged-cells``, ``table-too-large`` or ``not-a-spreadsheet``.
    """
    book = Workbook(sheet.form, form)
    part = next((each.part for each in book.sheets if each.name == sheet.worksheet), "")
    if not part:
        names = ", ".join(each.name for each in book.sheets)
        what = f'it has no worksheet "{sheet.worksheet}"; there are {names}'
        raise ShopError("form-changed", what, _AGAIN, Where(sheet.form))
    cut = _cut(book.package.read(part), sheet)
    with zipfile.ZipFile(BytesIO(form)) as source, zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as target:
        for info in source.infolist():
            if cut.formulas and info.filename == _CHAIN:
                continue
            with target.open(_dated(info.filename), "w", force_zip64=info.filename == part) as stream:
                if info.filename == part:
                    for piece in _worksheet(cut, sheet, rows):
                        stream.write(piece)
                else:
                    stream.write(_other(source.read(info), info.filename, cut.formulas))


def check_form(sheet: Sheet, form: bytes) -> None:
    """Raises ShopError where rows could not be filled into the form: ``form-changed``, ``merged-cells``."""
    book = Workbook(sheet.form, form)
    part = next((each.part for each in book.sheets if each.name == sheet.worksheet), "")
    if sheet.form and part:
        _cut(book.package.read(part), sheet)


def _dated(name: str) -> zipfile.ZipInfo:
    info = zipfile.ZipInfo(name, (1980, 1, 1, 0, 0, 0))
    info.compress_type = zipfile.ZIP_DEFLATED
    info.create_system = 3
    info.external_attr = 0o100644 << 16
    return info


def _other(data: bytes, name: str, formulas: bool) -> bytes:
    """A part as it was; where formulas went, the list of what to compute is no longer named."""
    if formulas and name in ("[Content_Types].xml", "xl/_rels/workbook.xml.rels"):
        return re.sub(rb"<(\w+:)?(Override|Relationship)\b[^>]*calcChain[^>]*/>", b"", data)
    return data


def _cut(data: bytes, sheet: Sheet) -> _Cut:
    opening = re.search(rb"<((?:\w+:)?)sheetData\b[^>]*?(/?)>", data)
    if opening is None:
        raise ShopError(
            "form-changed", f'worksheet "{sheet.worksheet}" has no cells', _AGAIN, Where(sheet.form)
        )
    prefix = opening[1]
    if opening[2]:
        before = data[: opening.start()] + b"<" + prefix + b"sheetData>"
        return _Cut(
            before, b"</" + prefix + b"sheetData>" + data[opening.end() :], prefix.decode(), {}, False
        )
    closing = data.rfind(b"</" + prefix + b"sheetData>")
    kept, styles, formulas = opening.end(), {}, False
    for number, span, text in _rows(data, prefix, opening.end(), closing):
        if number < sheet.first_row:
            kept = span[1]
            continue
        if number == sheet.first_row:
            styles = _styles(text)
        formulas = formulas or re.search(rb"<(?:\w+:)?f[ >/]", text) is not None
    _no_merges(data[closing:], sheet)
    return _Cut(data[:kept], data[closing:], prefix.decode(), styles, formulas)


def _rows(data: bytes, prefix: bytes, start: int, end: int) -> Iterator[tuple[int, tuple[int, int], bytes]]:
    tag = re.escape(prefix) + b"row"
    pattern = re.compile(rb"<" + tag + rb"\b([^>]*?)(?:/>|>.*?</" + tag + rb">)", re.DOTALL)
    number = 0
    for found in pattern.finditer(data, start, end):
        said = re.search(rb'\br="(\d+)"', found[1])
        number = int(said[1]) if said else number + 1
        yield number, found.span(), found[0]


def _styles(row: bytes) -> dict[int, str]:
    found = {}
    for cell in re.finditer(rb"<(?:\w+:)?c\b([^>]*)", row):
        place, style = re.search(rb'\br="([A-Z]+\d+)"', cell[1]), re.search(rb'\bs="(\d+)"', cell[1])
        at = cell_at(place[1].decode()) if place else None
        if at and style:
            found[at[1]] = style[1].decode()
    return found


def _no_merges(tail: bytes, sheet: Sheet) -> None:
    for merge in re.finditer(rb'<(?:\w+:)?mergeCell\b[^>]*\bref="([^"]+)"', tail):
        area = area_of(merge[1].decode())
        if area is not None and area.bottom >= sheet.first_row - 1:
            cell = f"{letter_of(area.left)}{area.top + 1}"
            what = f'worksheet "{sheet.worksheet}", cell {cell}: cells are merged where our rows go'
            fix = f"unmerge {merge[1].decode()} in the form, or set first_row below it"
            raise ShopError("merged-cells", what, fix, Where(sheet.form))


def _worksheet(cut: _Cut, sheet: Sheet, rows: Iterable[Sequence[Cell]]) -> Iterator[bytes]:
    yield re.sub(rb"<(\w+:)?dimension\b[^>]*/>", b"", cut.before, count=1)  # it would say the old size
    prefix = cut.prefix
    starts = [
        (f'<{prefix}c r="{letter_of(at)}', f'" s="{cut.styles[at]}"' if at in cut.styles else '"')
        for at in range(len(sheet.columns))
    ]
    block: list[str] = []
    size = 0
    for number, row in enumerate(rows, start=sheet.first_row):
        if number > MAX_ROWS:
            what = f"more than {MAX_ROWS} rows do not fit one XLSX sheet"
            raise ShopError("table-too-large", what, "give the channel a smaller max_rows")
        line = _row(prefix, number, row, starts)
        block.append(line)
        size += len(line)
        if size > _BLOCK:
            yield "".join(block).encode()
            block, size = [], 0
    yield "".join(block).encode()
    yield cut.after


def _row(prefix: str, number: int, row: Sequence[Cell], starts: Sequence[tuple[str, str]]) -> str:
    cells = [f'<{prefix}row r="{number}">']
    for (start, style), cell in zip(starts, row, strict=True):
        value: object = None
        if cell.number is not None:
            value = format(cell.number, "f")
        elif cell.day is not None:
            value = (cell.day - _EPOCH).days
        if value is not None:
            cells.append(f"{start}{number}{style}><{prefix}v>{value}</{prefix}v></{prefix}c>")
        elif cell.text:
            if len(cell.text) > MAX_CHARS:
                what = f"row {number}: a cell of {len(cell.text)} characters; an XLSX cell holds {MAX_CHARS}"
                raise ShopError("table-too-large", what, "give the column a max_chars the texts can meet")
            text = f'<{prefix}is><{prefix}t xml:space="preserve">{escape(cell.text)}</{prefix}t></{prefix}is>'
            cells.append(f'{start}{number}{style} t="inlineStr">{text}</{prefix}c>')
        elif len(style) > 1:
            cells.append(f"{start}{number}{style}/>")
    cells.append(f"</{prefix}row>")
    return "".join(cells)
