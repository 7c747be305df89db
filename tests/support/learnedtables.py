"""The twelve invented partners' sheets as files, learned and filled with rows, for round trips."""

import csv
import io
from dataclasses import dataclass, replace
from pathlib import Path

import openpyxl
from openpyxl.worksheet.datavalidation import DataValidation

from hundredfold.catalogue.sheets import Sheet, TableKind
from hundredfold.handoff.cells import Cell
from hundredfold.handoff.learned import learn_columns
from hundredfold.learning import delimited
from hundredfold.learning.columns import propose
from hundredfold.learning.fieldlists import LISTING
from hundredfold.learning.sheetchoice import fillable
from hundredfold.learning.workbook import Workbook

SHEETS = Path(__file__).parents[1] / "unit" / "learning" / "sheets.txt"


@dataclass(frozen=True)
class Partner:
    """A partner's file."""

    name: str
    data: bytes


def partners() -> list[Partner]:
    """Each sheet as the file its heading says: CSV, TSV, semicolons, cp1252, XLSX with drop-downs."""
    blocks = SHEETS.read_text(encoding="utf-8").split("\n== ")[1:]
    return [_file(block) for block in blocks]


def _file(block: str) -> Partner:
    head, *lines = block.splitlines()
    name, _, about = head.partition(" ")
    columns = [[part.strip() for part in f"{line} ".split("|")] for line in lines if "|" in line]
    if name.endswith(".xlsx"):
        return Partner(name, _book(columns))
    out = io.StringIO()
    mark = ";" if "semicolon" in about else "\t" if "tab" in about else ","
    rows = csv.writer(out, delimiter=mark, lineterminator="\r\n")
    rows.writerow([header for header, _, _ in columns])
    rows.writerow(["" if example[:1] == "{" else example for _, _, example in columns])
    return Partner(name, out.getvalue().encode("cp1252" if "cp1252" in about else "utf-8"))


def _book(columns: list[list[str]]) -> bytes:
    book = openpyxl.Workbook()
    page = book.active
    assert page is not None
    page.title = "Listings"
    page["A1"] = "Fill in below; do not change the headings."
    for at, (header, _, example) in enumerate(columns, start=1):
        page.cell(2, at, header)
        if example[:1] == "{":
            choices = DataValidation("list", formula1='"' + example[1:-1].replace("; ", ",") + '"')
            choices.add(f"{page.cell(3, at).coordinate}:{page.cell(900, at).coordinate}")
            page.add_data_validation(choices)
        elif example:
            page.cell(3, at, example)
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def learned(partner: Partner) -> Sheet:
    """The sheet as it is learned from the file."""
    if partner.name.endswith(".xlsx"):
        (found,) = fillable(Workbook(partner.name, partner.data).seen(), LISTING)
        base = Sheet(TableKind.XLSX, (), worksheet=found.sheet.name)
    else:
        seen, dialect = delimited.see(partner.data, partner.name)
        (found,) = fillable([seen], LISTING)
        base = Sheet(TableKind.CSV, (), separator=dialect.separator, encoding=dialect.encoding)
    columns = learn_columns(propose(found.headings.columns, LISTING), {}, {})
    return replace(
        base,
        columns=tuple(one.column for one in columns),
        form=partner.name,
        first_row=found.headings.first_row + 1,
    )


def rows_for(sheet: Sheet, count: int) -> list[list[Cell]]:
    """Awkward cells in every column: zeros in front, formulas, quotes, separators, accents."""
    texts = (
        "00123",
        "=1+1",
        'a "b"; c, d',
        "Größe\u00a0é",
        "-5",
        "+44 20",
        "plain",
        "x\u2019y",
        "  inner",
        "1e5",
    )
    return [
        [Cell(texts[(row + at) % len(texts)]) for at in range(len(sheet.columns))] for row in range(count)
    ]
