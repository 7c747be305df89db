"""A real XLSX of our own making. Same cells, same bytes.

Text that a spreadsheet would take for a formula gets the cell's own text mark; the value stays as it is.
"""

import io
from collections.abc import Iterable, Sequence
from datetime import datetime

import xlsxwriter

from hundredfold.catalogue.sheets import Sheet
from hundredfold.handoff.cells import Cell
from hundredfold.kernel.errors import ShopError
from hundredfold.kernel.formulas import is_formula

# Sheet limits of the XLSX format.
MAX_ROWS, MAX_COLUMNS, MAX_CHARS = 1_048_576, 16_384, 32_767
_CREATED = datetime(2000, 1, 1)  # noqa: DTZ001 - the format keeps no zone; fixed so that bytes are the same


def book_bytes(sheet: Sheet, rows: Iterable[Sequence[Cell]]) -> bytes:
    """The whole workbook. Raises ShopError ``table-too-large`` past what a worksheet can hold."""
    out = io.BytesIO()
    options = {"in_memory": True, "strings_to_formulas": False, "strings_to_urls": False}
    book = xlsxwriter.Workbook(out, options)
    book.set_properties({"created": _CREATED})
    page = book.add_worksheet(sheet.worksheet)
    plain = book.add_format({"num_format": "@"})
    marked = book.add_format({"num_format": "@", "quote_prefix": True})
    numbers = {places: book.add_format({"num_format": _pattern(places)}) for places in (2, *_places(sheet))}
    bold = book.add_format({"bold": True, "num_format": "@"})
    days = book.add_format({"num_format": "yyyy-mm-dd"}) if _has_days(sheet) else plain
    header = tuple(column.header for column in sheet.columns)
    tops = [(line, plain) for line in sheet.lines_above]
    tops += [(header, bold), *((line, plain) for line in sheet.lines_below)]
    for top, (line, style) in enumerate(tops):
        for column, words in enumerate(line):
            _string(page, top, column, words, style)
    for number, row in enumerate(rows, start=len(tops)):
        if number >= MAX_ROWS or len(row) > MAX_COLUMNS:
            what = f"more than {MAX_ROWS} rows or {MAX_COLUMNS} columns do not fit one XLSX sheet"
            raise ShopError("table-too-large", what, "give the channel a smaller max_rows")
        for column, cell in enumerate(row):
            if cell.number is not None:
                page.write_number(number, column, float(cell.number), numbers[_decimals(sheet, column)])
            elif cell.day is not None:
                page.write_datetime(number, column, cell.day, days)
            elif cell.text:
                _string(page, number, column, cell.text, marked if is_formula(cell.text) else plain)
    page.freeze_panes(len(tops), 0)
    for column, words in enumerate(header):
        page.set_column(column, column, min(60, max(10, len(words) + 2)))
    book.close()
    return out.getvalue()


def _places(sheet: Sheet) -> list[int]:
    return sorted({_decimals(sheet, at) for at in range(len(sheet.columns))} - {2})


def _decimals(sheet: Sheet, at: int) -> int:
    column = sheet.columns[at]
    if column.decimals is not None:
        return column.decimals
    return 2 if "price" in column.fill else -1


def _pattern(places: int) -> str:
    if places < 0:
        return "General"
    return "0." + "0" * places if places else "0"


def _has_days(sheet: Sheet) -> bool:
    return any(column.cell == "date" for column in sheet.columns)


def _string(page: "xlsxwriter.worksheet.Worksheet", row: int, column: int, text: str, style: object) -> None:
    if len(text) > MAX_CHARS:
        what = f"a cell of {len(text)} characters; an XLSX cell holds {MAX_CHARS}"
        raise ShopError("table-too-large", what, "give the column a max_chars the texts can meet")
    page.write_string(row, column, text, style)
