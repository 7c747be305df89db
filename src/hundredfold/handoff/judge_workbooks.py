"""Reads a workbook back, with readers of its own, and judges what else is in it."""

import hashlib
import io
import re
import zipfile
from collections.abc import Iterator
from datetime import date, timedelta
from decimal import Decimal

from python_calamine import CalamineError, CalamineWorkbook

from hundredfold.handoff.judge_checks import TABLE
from hundredfold.handoff.judge_common import BROKEN_ZIP, wrong
from hundredfold.handoff.manifest_shape import SheetEntry
from hundredfold.kernel.errors import ShopError
from hundredfold.kernel.findings import Finding
from hundredfold.learning.workbook import Workbook

_PARTS = re.compile(
    r"\[Content_Types\]\.xml|_rels/\.rels|docProps/(app|core)\.xml|xl/_rels/workbook\.xml\.rels"
    r"|xl/(workbook|styles|sharedStrings)\.xml|xl/theme/theme1\.xml|xl/worksheets/sheet1\.xml"
)
_RECKONED = {"[Content_Types].xml", "xl/_rels/workbook.xml.rels", "xl/calcChain.xml"}


def read_workbook(
    file: str, data: bytes, sheet: SheetEntry, form: bytes | None, found: list[Finding]
) -> list[list[str]] | None:
    """The table's cells, or None where it cannot be read."""
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as book:
            if damaged := book.testzip():  # what is broken inside is not given to the reader
                raise zipfile.BadZipFile(f"its part {damaged} is damaged")
            if not sheet.form:
                found += _foreign(file, book)
        if sheet.form:
            return _filled(file, data, sheet, form, found)
        workbook = CalamineWorkbook.from_filelike(io.BytesIO(data))
        if workbook.sheet_names != [sheet.worksheet]:
            what = f"its sheets are {', '.join(workbook.sheet_names)}; the channel wants {sheet.worksheet}"
            found.append(wrong(TABLE, "wrong-worksheet", file, what))
        cells = workbook.get_sheet_by_index(0).to_python(skip_empty_area=False)
    except (*BROKEN_ZIP, CalamineError, ShopError) as error:
        found.append(wrong(TABLE, "unreadable", file, f"it cannot be read as XLSX: {error}"))
        return None
    return [[_text(cell) for cell in line] for line in cells]


def _foreign(file: str, book: zipfile.ZipFile) -> Iterator[Finding]:
    for name in sorted(book.namelist()):
        if not _PARTS.fullmatch(name):
            yield wrong(TABLE, "foreign-part", f"{file}, {name}", "not a part of a plain table")
        elif name == "xl/worksheets/sheet1.xml" and re.search(rb"<f[ >/]", book.read(name)):
            yield wrong(TABLE, "formula", f"{file}, {name}", "a cell holds a formula")


def _filled(
    file: str, data: bytes, sheet: SheetEntry, form: bytes | None, found: list[Finding]
) -> list[list[str]] | None:
    """A filled form: read sparsely, since a partner's sheet may reach anywhere."""
    book = Workbook(file, data)
    part = next((each.part for each in book.sheets if each.name == sheet.worksheet), None)
    if part is None:
        found.append(wrong(TABLE, "wrong-worksheet", file, f"there is no worksheet {sheet.worksheet}"))
        return None
    page = book.package.read(part)
    width = len(sheet.columns)
    rows = book.rows(page, part, 1 << 20, whole=True)
    if form is not None:
        found += _as_it_was(file, data, form, part, sheet)
    if re.search(rb"<(?:\w+:)?f[ >/]", _below(page, sheet.first_row)):
        found.append(wrong(TABLE, "formula", f"{file}, {part}", "a cell of ours holds a formula"))
    days = {at for at, column in enumerate(sheet.columns) if column.cell == "date"}
    return [
        [_day(row.get(at, "")) if at in days else row.get(at, "") for at in range(width)]
        if number >= sheet.first_row
        else [row.get(at, "") for at in range(width)]
        for number, row in enumerate(rows, start=1)
    ]


def _below(page: bytes, first: int) -> bytes:
    at = re.search(rb'<(?:\w+:)?row\b[^>]*?\br="%d"' % first, page)
    return page[at.start() :] if at else b""


def _as_it_was(file: str, data: bytes, form: bytes, part: str, sheet: SheetEntry) -> Iterator[Finding]:
    """Every other part is the partner's own, and so is each cell above our rows."""
    with zipfile.ZipFile(io.BytesIO(data)) as ours, zipfile.ZipFile(io.BytesIO(form)) as theirs:
        here, there = set(ours.namelist()), set(theirs.namelist())
        for name in sorted((here ^ there) - _RECKONED):
            yield wrong(
                TABLE, "form-changed", f"{file}, {name}", "the partner's workbook has another set of parts"
            )
        for name in sorted((here & there) - {part} - _RECKONED):
            if hashlib.sha256(ours.read(name)).digest() != hashlib.sha256(theirs.read(name)).digest():
                yield wrong(TABLE, "form-changed", f"{file}, {name}", "it is not the partner's own any more")
    new, old = Workbook(file, data), Workbook(file, form)
    above = sheet.first_row - 1
    if new.rows(new.package.read(part), part, above) != old.rows(old.package.read(part), part, above):
        yield wrong(
            TABLE, "form-changed", f"{file}, {part}", "a cell above the rows is not the partner's any more"
        )


def _day(text: str) -> str:
    """A workbook's day number as a date (day 61 is 1 March 1900; ECMA-376 part 1, 18.17.4.1)."""
    return (date(1899, 12, 30) + timedelta(days=int(text))).isoformat() if text.isdigit() else text


def _text(cell: object) -> str:
    if isinstance(cell, float):
        return format(Decimal(repr(cell)).normalize(), "f")
    return str(cell)
