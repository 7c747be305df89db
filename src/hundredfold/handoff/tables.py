"""A table's file, whatever its format; same cells, same bytes."""

import io
from collections.abc import Iterable, Sequence
from typing import BinaryIO

from hundredfold.catalogue.sheets import Sheet, TableKind
from hundredfold.handoff.cells import Cell
from hundredfold.handoff.formats import delimited, filledbook, newbook


def write_table(sheet: Sheet, rows: Iterable[Sequence[Cell]], out: BinaryIO, form: bytes = b"") -> None:
    """Writes the table as its rows come; ``form`` is the partner's own file where the sheet names one.

    Raises ShopError ``table-too-large``, ``form-changed``, ``merged-cells``.
    """
    if sheet.kind is TableKind.CSV:
        out.write(delimited.head(sheet, form))
        for block in delimited.records(sheet, rows):
            out.write(block)
    elif sheet.form:
        filledbook.write_filled(sheet, form, rows, out)
    else:
        out.write(newbook.book_bytes(sheet, rows))


def table_bytes(sheet: Sheet, rows: Iterable[Sequence[Cell]], form: bytes = b"") -> bytes:
    """The whole table in memory."""
    out = io.BytesIO()
    write_table(sheet, rows, out, form)
    return out.getvalue()


def suffix_of(sheet: Sheet) -> str:
    """The ending of the table's file; a form with macros keeps its own."""
    return "xlsm" if sheet.form.casefold().endswith(".xlsm") else sheet.kind.value
