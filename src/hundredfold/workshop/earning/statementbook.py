"""The statement as a workbook: sums that are formulas over lines, each with its report and row."""

import io
from collections.abc import Iterator, Sequence
from datetime import UTC, datetime
from decimal import Decimal
from typing import Any

import xlsxwriter

from hundredfold.results.amounts import PLACES
from hundredfold.results.statement import COLUMNS, INCOME, Statement, StatementPart

_CREATED = datetime(2000, 1, 1, tzinfo=UTC).replace(tzinfo=None)  # the same statement is the same file
_HEADS = ("channel", "currency", "day", "order", "SKU", *COLUMNS, "line total", "report", "row")
_FIRST = 5  # the column of the first amount
SHEET_ROWS = 1_000_000  # a worksheet has 1,048,576 rows (ECMA-376; from memory)


def statement_book(statement: Statement, caution: Sequence[str]) -> bytes:
    """The workbook's bytes."""
    out = io.BytesIO()
    book = xlsxwriter.Workbook(
        out, {"in_memory": True, "strings_to_formulas": False, "strings_to_urls": False}
    )
    book.set_properties({"created": _CREATED, "title": f"{statement.shop}, {statement.title}"})
    forms = {
        "bold": book.add_format({"bold": True}),
        "head": book.add_format({"bold": True, "bottom": 1, "text_wrap": True, "valign": "top"}),
        "money": book.add_format({"num_format": "#,##0.00##;[Red]-#,##0.00##"}),
        "sum": book.add_format({"num_format": "#,##0.00;[Red]-#,##0.00", "top": 1, "bold": True}),
        "wrap": book.add_format({"text_wrap": True, "valign": "top"}),
    }
    summary = book.add_worksheet("Profit and loss")
    chunks = [statement.lines[at : at + SHEET_ROWS] for at in range(0, len(statement.lines), SHEET_ROWS)] or [
        ()
    ]
    names = ["Lines" if not number else f"Lines {number + 1}" for number in range(len(chunks))]
    _summary(summary, statement, names, caution, forms)
    for name, lines in zip(names, chunks, strict=True):
        _lines(book.add_worksheet(name), lines, forms)
    book.close()
    return out.getvalue()


def _number(amount: int) -> float:
    return float(Decimal(amount).scaleb(-PLACES))


def _summary(sheet: Any, statement: Statement, names: list[str], caution: Sequence[str], forms: Any) -> None:
    sheet.set_column(0, 0, 44)
    sheet.set_column(1, 20, 16)
    sheet.write_string(
        0, 0, f"{statement.shop}: profit and loss, {statement.first} to {statement.last}", forms["bold"]
    )
    tax = (
        "registered for tax: the tax inside sales is taken out"
        if statement.registered
        else "not registered for tax"
    )
    sheet.write_string(1, 0, tax)
    sheet.write_row(
        3, 0, ["", *(f"{part.channel}, {part.currency}" for part in statement.parts)], forms["head"]
    )
    for row, (label, kind, at) in enumerate(_rows(), 4):
        sheet.write_string(row, 0, label, forms["bold"] if kind == "sum" else None)
        for column, part in enumerate(statement.parts, 1):
            formula, value = _cell(label, at, row, column, part, names)
            sheet.write_formula(row, column, formula, forms[kind], value)
    below = 6 + len(tuple(_rows()))
    for row, text in enumerate(("Every amount is the sum of its column in the lines.", *caution), below):
        sheet.merge_range(row, 0, row, 6, text, forms["wrap"])
        sheet.set_row(row, 32)


def _rows() -> Iterator[tuple[str, str, int]]:
    for at, name in enumerate(COLUMNS[:INCOME]):
        yield name, "money", at
    yield "sold", "sum", -1
    for at, name in enumerate(COLUMNS[INCOME:], INCOME):
        yield name, "money", at
    yield "profit told by reports", "sum", -1


def _cell(
    label: str, at: int, row: int, column: int, part: StatementPart, names: list[str]
) -> tuple[str, float]:
    letter = chr(65 + column) if column < 26 else f"A{chr(39 + column)}"
    if label == "sold":
        return f"=SUM({letter}{row + 1 - INCOME}:{letter}{row})", _number(part.sold)
    if at < 0:
        top = row - len(COLUMNS) + INCOME
        return f"={letter}{top}+SUM({letter}{top + 1}:{letter}{row})", _number(part.profit)
    place = chr(65 + _FIRST + at)
    sums = (
        f"SUMIFS('{name}'!${place}:${place},'{name}'!$A:$A,\"{part.channel}\",'{name}'!$B:$B,\"{part.currency}\")"
        for name in names
    )
    return f"={'+'.join(sums)}", _number(part.sums[at])


def _lines(sheet: Any, lines: Sequence[Any], forms: Any) -> None:
    sheet.freeze_panes(1, 0)
    sheet.set_column(0, 4, 14)
    sheet.set_column(_FIRST, _FIRST + len(COLUMNS), 11)
    sheet.set_column(_FIRST + len(COLUMNS) + 1, _FIRST + len(COLUMNS) + 1, 30)
    sheet.write_row(0, 0, _HEADS, forms["head"])
    for row, line in enumerate(lines, 1):
        for column, text in enumerate((line.channel, line.currency, line.day, line.order, line.sku)):
            sheet.write_string(row, column, text)
        for column, amount in enumerate(line.amounts, _FIRST):
            if amount:
                sheet.write_number(row, column, _number(amount), forms["money"])
        end = _FIRST + len(COLUMNS)
        sheet.write_number(row, end, _number(line.total), forms["money"])
        sheet.write_string(row, end + 1, line.file)
        sheet.write_number(row, end + 2, line.row)
    sheet.autofilter(0, 0, max(1, len(lines)), len(_HEADS) - 1)
