"""Tables as bytes: CSV by RFC 4180, or a real XLSX. Same cells, same bytes.

Text that a spreadsheet would take for a formula is made harmless: an apostrophe in front in CSV, the
cell's own text mark in XLSX, where the value stays as it is.
"""

import csv
import io
from collections.abc import Iterable, Sequence
from datetime import datetime

import xlsxwriter

from hundredfold.catalogue.channels import Sheet, TableKind
from hundredfold.handoff.sheets import Cell
from hundredfold.kernel.errors import ShopError
from hundredfold.kernel.formulas import is_formula

# Sheet limits of the XLSX format.
MAX_XLSX_ROWS, MAX_XLSX_COLUMNS, MAX_XLSX_CHARS = 1_048_576, 16_384, 32_767
_CREATED = datetime(2000, 1, 1)  # noqa: DTZ001 - the format keeps no zone; fixed so that bytes are the same
_BOM = b"\xef\xbb\xbf"


def table_bytes(sheet: Sheet, rows: Sequence[Sequence[Cell]]) -> bytes:
    """The whole table: the channel's lines above, the header, the rows.

    Raises ShopError ``table-too-large`` past what an XLSX sheet can hold.
    """
    header = tuple(column.header for column in sheet.columns)
    if sheet.kind is TableKind.CSV:
        above = csv_lines([*sheet.lines_above, header])
        body = csv_lines([[cell.as_read(sheet.kind) for cell in row] for row in rows])
        return (_BOM if sheet.byte_order_mark else b"") + above + body
    return _xlsx(sheet, header, rows)


def csv_lines(rows: Iterable[Sequence[str]]) -> bytes:
    """RFC 4180 records: commas, quotes doubled, CRLF; UTF-8."""
    text = io.StringIO()
    csv.writer(text, lineterminator="\r\n").writerows(rows)
    return text.getvalue().encode()


def _xlsx(sheet: Sheet, header: Sequence[str], rows: Sequence[Sequence[Cell]]) -> bytes:
    if len(rows) + len(sheet.lines_above) + 1 > MAX_XLSX_ROWS or len(header) > MAX_XLSX_COLUMNS:
        what = f"{len(rows)} rows and {len(header)} columns do not fit one XLSX sheet"
        raise ShopError("table-too-large", what, "give the channel a smaller max_rows")
    out = io.BytesIO()
    options = {"in_memory": True, "strings_to_formulas": False, "strings_to_urls": False}
    book = xlsxwriter.Workbook(out, options)
    book.set_properties({"created": _CREATED})
    page = book.add_worksheet(sheet.worksheet)
    text, marked = (
        book.add_format({"num_format": "@"}),
        book.add_format({"num_format": "@", "quote_prefix": True}),
    )
    money, bold = book.add_format({"num_format": "0.00"}), book.add_format({"bold": True, "num_format": "@"})
    top = 0
    for line in sheet.lines_above:
        for column, words in enumerate(line):
            _string(page, top, column, words, text)
        top += 1
    for column, words in enumerate(header):
        _string(page, top, column, words, bold)
    for number, row in enumerate(rows, start=top + 1):
        for column, cell in enumerate(row):
            if cell.number:
                page.write_number(number, column, float(cell.text), money)
            elif cell.text:
                _string(page, number, column, cell.text, marked if is_formula(cell.text) else text)
    page.freeze_panes(top + 1, 0)
    for column, words in enumerate(header):
        page.set_column(column, column, min(60, max(10, len(words) + 2)))
    book.close()
    return out.getvalue()


def _string(page: "xlsxwriter.worksheet.Worksheet", row: int, column: int, text: str, style: object) -> None:
    if len(text) > MAX_XLSX_CHARS:
        what = f"a cell of {len(text)} characters; an XLSX cell holds {MAX_XLSX_CHARS}"
        raise ShopError("table-too-large", what, "give the column a max_chars the texts can meet")
    page.write_string(row, column, text, style)
