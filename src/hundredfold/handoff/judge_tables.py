"""Judges a table: read with a reader of its own, every row's cells, and the channel's text limits."""

import hashlib
import re
import unicodedata
from collections.abc import Iterator, Mapping

from hundredfold.handoff.judge_cells import Known, applies, field_of, known_of, wanted
from hundredfold.handoff.judge_checks import FILE, TABLE
from hundredfold.handoff.judge_common import PackSource, wrong
from hundredfold.handoff.judge_delimited import read_delimited
from hundredfold.handoff.judge_workbooks import read_workbook
from hundredfold.handoff.manifest_shape import (
    ColumnEntry,
    LimitsEntry,
    Manifest,
    MoreTableEntry,
    RowEntry,
    SheetEntry,
    TableEntry,
)
from hundredfold.kernel.findings import Finding

# What a spreadsheet takes for a formula (OWASP, CWE-1236); an apostrophe in front says "text".
_RISKY = re.compile(r"^[=+\-@\t\r\n\0＝＋－＠](?!\d+([.,]\d+)*$)")


def judge_table(
    table: TableEntry,
    rows: list[RowEntry],
    manifest: Manifest,
    source: PackSource,
    forms: Mapping[str, bytes],
) -> Iterator[Finding]:
    """Everything wrong with the first table, the line named where it can be told."""
    sheet = manifest.terms.sheet
    grid, found = opened_table(table, sheet, source, forms)
    yield from found
    if grid is not None:
        yield from _judge_grid(table.file, grid, rows, manifest)
    if sheet.max_rows and table.rows > sheet.max_rows:
        what = f"{table.rows} rows where the channel takes {sheet.max_rows}"
        yield wrong(TABLE, "too-many-rows", table.file, what)


def judge_more_table(
    table: MoreTableEntry,
    rows: list[RowEntry],
    manifest: Manifest,
    source: PackSource,
    forms: Mapping[str, bytes],
) -> Iterator[Finding]:
    """Everything wrong with a table beside the first."""
    if table.sheet > len(manifest.terms.more_sheets):
        yield wrong(TABLE, "unknown-table", table.file, "the terms know no such table")
        return
    sheet = manifest.terms.more_sheets[table.sheet - 1]
    grid, found = opened_table(table, sheet, source, forms)
    yield from found
    if grid is None:
        return
    yield from _judge_head(table.file, grid, sheet)
    by_sku = {row.sku: row for row in rows}
    body = grid[sheet.top :]
    if not len(body) == table.rows == len(table.lines):
        what = f"{len(body)} rows where the manifest lists {table.rows}"
        yield wrong(TABLE, "row-count", table.file, what)
    for number, (line, told) in enumerate(zip(body, table.lines, strict=False), start=sheet.top + 1):
        item = f"{table.file}, line {number}, {told.sku}"
        row = by_sku.get(told.sku)
        if row is None:
            yield wrong(TABLE, "row-unknown", item, "no row of the pack has this SKU")
            continue
        if applies(sheet.only_for, row) is False:
            yield wrong(
                TABLE, "row-not-meant", item, f"a row to {row.action} does not belong into this table"
            )
        yield from _judge_line(item, line, row, manifest, sheet)
        if _digest([filled_up(line, sheet)]) != told.cells:
            yield wrong(TABLE, "row-changed", item, "its cells are not those the manifest recorded")


def opened_table(
    table: TableEntry, sheet: SheetEntry, source: PackSource, forms: Mapping[str, bytes]
) -> tuple[list[list[str]] | None, list[Finding]]:
    """The table's lines as a reader gets them, None where it cannot be read, with what is wrong in it."""
    with source.open(table.file) as stream:
        data = stream.read()
    found: list[Finding] = []
    read = read_delimited if sheet.kind == "csv" else read_workbook
    grid = read(table.file, data, sheet, forms.get(sheet.form) if sheet.form else None, found)
    if hashlib.sha256(data).hexdigest() != table.sha256:
        what = "its bytes are not those the manifest recorded"
        found.append(wrong(FILE, "changed", table.file, what))
    if sheet.max_bytes and len(data) > sheet.max_bytes:
        what = f"{len(data)} bytes where the channel takes {sheet.max_bytes}"
        found.append(wrong(FILE, "too-large", table.file, what))
    return grid, found


def _judge_grid(
    file: str, grid: list[list[str]], rows: list[RowEntry], manifest: Manifest
) -> Iterator[Finding]:
    sheet = manifest.terms.sheet
    heads = list(_judge_head(file, grid, sheet))
    yield from heads
    if any(finding.code == "header" for finding in heads):
        return
    body, listed = grid[sheet.top :], sum(row.lines for row in rows)
    if len(body) != listed:
        yield wrong(TABLE, "row-count", file, f"{len(body)} rows where the manifest lists {listed}")
    for row in rows:
        if row.lines and row.line + row.lines - 1 > len(grid):
            item = f"{file}, line {row.line}, {row.sku}"
            yield wrong(TABLE, "row-missing", item, "the row is not in the table")
            continue
        lines = grid[row.line - 1 : row.line - 1 + row.lines] if row.lines else []
        for number, line in enumerate(lines, start=row.line):
            yield from _judge_line(f"{file}, line {number}, {row.sku}", line, row, manifest, sheet)
        if _digest([filled_up(line, sheet) for line in lines]) != row.cells:
            item = f"{file}, line {row.line}, {row.sku}"
            yield wrong(TABLE, "row-changed", item, "its cells are not those the manifest recorded")


def _judge_head(file: str, grid: list[list[str]], sheet: SheetEntry) -> Iterator[Finding]:
    """The lines above our rows; of a partner's own file, that its headings stand there."""
    headers = [column.header for column in sheet.columns]
    if sheet.form:
        there = [[cell.strip() for cell in line] for line in grid[: sheet.top]]
        said = [(at, header.strip()) for at, header in enumerate(headers) if header.strip()]
        if not any(all(at < len(line) and line[at] == header for at, header in said) for line in there):
            yield wrong(TABLE, "header", f"{file}, line {sheet.top}", "the header is not the channel's")
        return
    above, below = sheet.lines_above, sheet.lines_below
    for number, line in [*enumerate(above, start=1), *enumerate(below, start=len(above) + 2)]:
        if number > len(grid) or _trimmed(grid[number - 1]) != _trimmed(line):
            item = f"{file}, line {number}"
            yield wrong(TABLE, "line-above", item, "not the line the channel's form has here")
    if len(grid) <= len(above) or _trimmed(grid[len(above)]) != _trimmed(headers):
        yield wrong(TABLE, "header", f"{file}, line {len(above) + 1}", "the header is not the channel's")


def _trimmed(line: list[str]) -> list[str]:
    """Without empty cells at the end, which a spreadsheet does not keep."""
    while line and not line[-1]:
        line = line[:-1]
    return line


def filled_up(line: list[str], sheet: SheetEntry) -> list[str]:
    """A line with a cell for every column of the sheet, and no more."""
    return (line + [""] * len(sheet.columns))[: len(sheet.columns)]


def _digest(lines: list[list[str]]) -> str:
    return hashlib.sha256("\x1e".join("\x1f".join(line) for line in lines).encode()).hexdigest()


def _judge_line(
    item: str, line: list[str], row: RowEntry, manifest: Manifest, sheet: SheetEntry
) -> Iterator[Finding]:
    columns = sheet.columns
    if sheet.kind == "csv" and len(line) != len(columns):
        yield wrong(TABLE, "row-width", item, f"{len(line)} cells where there are {len(columns)} columns")
    known = known_of(row, manifest)
    for column, cell in zip(columns, filled_up(line, sheet), strict=True):
        place = f"{item}, column {column.header}"
        yield from _judge_cell(place, column, cell, row, known, manifest, sheet)
        for what in _too_long(field_of(column), cell, manifest.terms.limits):
            if column.text == "plain":
                yield wrong(TABLE, "text-too-long", place, what)


def _judge_cell(
    item: str,
    column: ColumnEntry,
    cell: str,
    row: RowEntry,
    known: Known,
    manifest: Manifest,
    sheet: SheetEntry,
) -> Iterator[Finding]:
    must = wanted(column, row, known, manifest, sheet)
    if must is not None and not _says(cell, must, field_of(column)):
        yield wrong(TABLE, "wrong-cell", item, f"{cell!r} where the manifest says {must!r}")
    needed = (
        applies(column.required_for, row)
        if column.required_for
        else column.required and row.action != "end" and row.in_stock
    )
    if needed and applies(column.only_for, row) and not cell:
        yield wrong(TABLE, "required-empty", item, "a required cell is empty")
    if column.max_chars and len(cell) > column.max_chars:
        what = f"{len(cell)} characters where {column.max_chars} are allowed"
        yield wrong(TABLE, "text-too-long", item, what)
    if sheet.kind == "csv" and _RISKY.match(cell) and field_of(column) != "price":
        yield wrong(TABLE, "formula", item, "a spreadsheet would take this text for a formula")


def _says(cell: str, must: str, field: str) -> bool:
    """Whether a reader finds there what must stand there; a file by its very name."""
    if re.fullmatch(r"artwork( .*)?|(other )?pictures|picture \d+", field):
        return cell == must
    return _visible(must) in (_visible(cell), _visible(cell.removeprefix("'")))


def _visible(text: str) -> str:
    """What can be seen of a text: composed, without spaces, control and format characters."""
    return "".join(c for c in unicodedata.normalize("NFC", text) if unicodedata.category(c)[0] not in "CZ")


def _too_long(field: str, cell: str, limits: LimitsEntry) -> Iterator[str]:
    """In words, each limit that a text is over."""
    kind = re.sub(r"^(search word|point) \d+$", r"\1", field)
    counted = {
        "title": limits.title_chars,
        "point": limits.point_chars,
        "story": limits.story_chars,
        "search words": limits.search_chars,
        "search word": limits.tag_chars if limits.tags else 0,
    }
    size = _size(cell, limits.counts)
    limit = counted.get(kind, 0)
    if limit and size > limit and not (kind == "search words" and limits.tags):
        yield f"{size} {_UNITS[limits.counts]} where the channel takes {limit}"
    if kind == "search words":
        total = len(cell.encode())
        if limits.search_bytes and total > limits.search_bytes:
            yield f"{total} bytes where the channel takes {limits.search_bytes}"
        words = len(cell.split())
        if limits.search_words and words > limits.search_words:
            yield f"{words} words where the channel takes {limits.search_words}"


_UNITS = {"characters": "characters", "utf-16": "UTF-16 units", "bytes": "bytes"}


def _size(text: str, counts: str) -> int:
    if counts == "utf-16":
        return len(text.encode("utf-16-le")) // 2
    return len(text.encode()) if counts == "bytes" else len(text)
