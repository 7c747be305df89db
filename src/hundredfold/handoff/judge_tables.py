"""Judges a table: read with a reader of its own, every row's cells, and the channel's text limits."""

import csv
import hashlib
import io
import re
import unicodedata
import zipfile
from collections.abc import Iterator
from decimal import Decimal

from python_calamine import CalamineError, CalamineWorkbook

from hundredfold.handoff.judge_checks import FILE, TABLE
from hundredfold.handoff.judge_common import BROKEN_ZIP, PackSource, wrong
from hundredfold.handoff.manifest_shape import (
    ColumnEntry,
    LimitsEntry,
    Manifest,
    RowEntry,
    SheetEntry,
    TableEntry,
)
from hundredfold.kernel.findings import Finding

_BOM = b"\xef\xbb\xbf"
# What a spreadsheet takes for a formula (OWASP, CWE-1236); an apostrophe in front says "text".
_RISKY = re.compile(r"^[=+\-@\t\r\n\0＝＋－＠](?!\d+([.,]\d+)*$)")
_XLSX_PARTS = re.compile(
    r"\[Content_Types\]\.xml|_rels/\.rels|docProps/(app|core)\.xml|xl/_rels/workbook\.xml\.rels"
    r"|xl/(workbook|styles|sharedStrings)\.xml|xl/theme/theme1\.xml|xl/worksheets/sheet1\.xml"
)


def judge_table(
    table: TableEntry, rows: list[RowEntry], manifest: Manifest, source: PackSource
) -> Iterator[Finding]:
    """Everything wrong with one table, the line named where it can be told."""
    sheet = manifest.terms.sheet
    with source.open(table.file) as stream:
        data = stream.read()
    found: list[Finding] = []
    grid = (
        _csv(table.file, data, sheet, found) if sheet.kind == "csv" else _xlsx(table.file, data, sheet, found)
    )
    if grid is not None:
        found += _judge_grid(table.file, grid, rows, manifest)
    yield from found
    if hashlib.sha256(data).hexdigest() != table.sha256:
        yield wrong(FILE, "changed", table.file, "its bytes are not those the manifest recorded")
    if sheet.max_bytes and len(data) > sheet.max_bytes:
        what = f"{len(data)} bytes where the channel takes {sheet.max_bytes}"
        yield wrong(FILE, "too-large", table.file, what)
    if sheet.max_rows and len(rows) > sheet.max_rows:
        yield wrong(
            TABLE, "too-many-rows", table.file, f"{len(rows)} rows where the channel takes {sheet.max_rows}"
        )


def _csv(file: str, data: bytes, sheet: SheetEntry, found: list[Finding]) -> list[list[str]] | None:
    if data.startswith(_BOM) != sheet.byte_order_mark:
        what = (
            "a byte order mark the channel did not ask for" if data.startswith(_BOM) else "no byte order mark"
        )
        found.append(wrong(TABLE, "byte-order-mark", file, what))
    try:
        text = data.removeprefix(_BOM).decode()
        grid = list(csv.reader(io.StringIO(text, newline=""), strict=True))
    except (UnicodeDecodeError, csv.Error) as error:
        found.append(wrong(TABLE, "unreadable", file, f"it cannot be read as CSV: {error}"))
        return None
    # Our cells hold no line breaks, so that every one ends a record (RFC 4180 section 2.1).
    if re.search(r"(?<!\r)\n|\r(?!\n)", text) or not text.endswith("\r\n") or len(grid) != text.count("\r\n"):
        found.append(wrong(TABLE, "line-ends", file, "a record does not end in CR LF"))
    return grid


def _xlsx(file: str, data: bytes, sheet: SheetEntry, found: list[Finding]) -> list[list[str]] | None:
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as book:
            if damaged := book.testzip():  # what is broken inside is not given to the reader
                raise zipfile.BadZipFile(f"its part {damaged} is damaged")
            for name in sorted(book.namelist()):
                if not _XLSX_PARTS.fullmatch(name):
                    found.append(
                        wrong(TABLE, "foreign-part", f"{file}, {name}", "not a part of a plain table")
                    )
                elif name == "xl/worksheets/sheet1.xml" and re.search(rb"<f[ >/]", book.read(name)):
                    found.append(wrong(TABLE, "formula", f"{file}, {name}", "a cell holds a formula"))
        workbook = CalamineWorkbook.from_filelike(io.BytesIO(data))
        if workbook.sheet_names != [sheet.worksheet]:
            what = f"its sheets are {', '.join(workbook.sheet_names)}; the channel wants {sheet.worksheet}"
            found.append(wrong(TABLE, "wrong-worksheet", file, what))
        cells = workbook.get_sheet_by_index(0).to_python(skip_empty_area=False)
    except (*BROKEN_ZIP, CalamineError) as error:
        found.append(wrong(TABLE, "unreadable", file, f"it cannot be read as XLSX: {error}"))
        return None
    return [[_text(cell) for cell in line] for line in cells]


def _text(cell: object) -> str:
    if isinstance(cell, float):
        return format(Decimal(repr(cell)).normalize(), "f")
    return str(cell)


def _judge_grid(
    file: str, grid: list[list[str]], rows: list[RowEntry], manifest: Manifest
) -> Iterator[Finding]:
    sheet, above = manifest.terms.sheet, manifest.terms.sheet.lines_above
    headers = [column.header for column in sheet.columns]
    for number, line in enumerate(above, start=1):
        if number > len(grid) or _trimmed(grid[number - 1]) != _trimmed(line):
            yield wrong(
                TABLE, "line-above", f"{file}, line {number}", "not the line the channel's form has here"
            )
    if len(grid) <= len(above) or _trimmed(grid[len(above)]) != _trimmed(headers):
        what = "the header is not the channel's"
        yield wrong(TABLE, "header", f"{file}, line {len(above) + 1}", what)
        return
    body = grid[len(above) + 1 :]
    if len(body) != len(rows):
        yield wrong(TABLE, "row-count", file, f"{len(body)} rows where the manifest lists {len(rows)}")
    for row in rows:
        if row.line > len(grid):
            yield wrong(
                TABLE, "row-missing", f"{file}, line {row.line}, {row.sku}", "the row is not in the table"
            )
            continue
        yield from _judge_row(file, grid[row.line - 1], row, manifest)


def _trimmed(line: list[str]) -> list[str]:
    """Without empty cells at the end, which a spreadsheet does not keep."""
    while line and not line[-1]:
        line = line[:-1]
    return line


def _judge_row(file: str, line: list[str], row: RowEntry, manifest: Manifest) -> Iterator[Finding]:
    terms, columns = manifest.terms, manifest.terms.sheet.columns
    item = f"{file}, line {row.line}, {row.sku}"
    csv_table = terms.sheet.kind == "csv"
    if csv_table and len(line) != len(columns):
        yield wrong(TABLE, "row-width", item, f"{len(line)} cells where there are {len(columns)} columns")
    line = (line + [""] * len(columns))[: len(columns)]
    known = _known(row, manifest)
    for column, cell in zip(columns, line, strict=True):
        yield from _judge_cell(f"{item}, column {column.header}", column, cell, row, known, csv_table)
    limits = dict(_limits(terms.limits))
    for column, cell in zip(columns, line, strict=True):
        field = _field(column)
        limit, size = limits.get(re.sub(r"^bullet \d+$", "bullet", field)), len(cell)
        size = len(cell.encode()) if field == "search terms" else size
        if limit is not None and size > limit:
            unit = "bytes" if field == "search terms" else "characters"
            what = f"{size} {unit} where the channel takes {limit}"
            yield wrong(TABLE, "text-too-long", f"{item}, column {column.header}", what)
    if hashlib.sha256("\x1f".join(line).encode()).hexdigest() != row.cells:
        yield wrong(TABLE, "row-changed", item, "its cells are not those the manifest recorded")


def _judge_cell(
    item: str, column: ColumnEntry, cell: str, row: RowEntry, known: dict[str, str], csv_table: bool
) -> Iterator[Finding]:
    applies = not column.only_for or row.role in ("single", column.only_for)
    field = _field(column)
    wanted = known.get(field) if applies else ""
    if wanted is not None and _visible(wanted) not in (_visible(cell), _visible(cell.removeprefix("'"))):
        yield wrong(TABLE, "wrong-cell", item, f"{cell!r} where the manifest says {wanted!r}")
    if column.required and applies and not cell and row.action != "end":
        yield wrong(TABLE, "required-empty", item, "a required cell is empty")
    if column.max_chars and len(cell) > column.max_chars:
        what = f"{len(cell)} characters where {column.max_chars} are allowed"
        yield wrong(TABLE, "text-too-long", item, what)
    if csv_table and _RISKY.match(cell) and field != "price":
        yield wrong(TABLE, "formula", item, "a spreadsheet would take this text for a formula")


def _visible(text: str) -> str:
    """What can be seen of a text: composed, without spaces, control and format characters."""
    return "".join(c for c in unicodedata.normalize("NFC", text) if unicodedata.category(c)[0] not in "CZ")


def _field(column: ColumnEntry) -> str:
    """The field that alone fills the column, or "" where there is more to it."""
    alone = re.fullmatch(r"\s*\{([^{}]*)\}\s*", column.fill)
    return alone.group(1).strip() if alone else ""


def _known(row: RowEntry, manifest: Manifest) -> dict[str, str]:
    """What the manifest says of the row, by field, as it must stand in the table."""
    files = [picture.file for picture in row.pictures]
    translated, sheet = manifest.terms.translated, manifest.terms.sheet
    price = row.price
    if price and sheet.kind == "xlsx":
        price = format(Decimal(price).normalize(), "f")
    known = {f"picture {n}": "" for n in range(1, 21)} | {
        f"picture {n}": f for n, f in enumerate(files, start=1)
    }
    known |= {f"artwork {area}": file for area, file in row.artwork.items()}
    return known | {
        "sku": row.sku,
        "action": translated.get(f"action {row.action}", row.action),
        "role": translated.get(f"role {row.role}", row.role),
        "revision": str(row.revision),
        "price": price,
        "currency": row.currency,
        "design": row.design,
        "blank": row.blank,
        "colour": row.colour,
        "size": row.size,
        "date": manifest.date,
        "artwork": ";".join(sorted(set(row.artwork.values()))),
        "pictures": ";".join(files),
        "other pictures": ";".join(files[1:]),
    }


def _limits(limits: LimitsEntry) -> Iterator[tuple[str, int]]:
    yield "title", limits.title_chars
    yield "bullet", limits.bullet_chars
    yield "description", limits.description_chars
    yield "search terms", limits.search_bytes
