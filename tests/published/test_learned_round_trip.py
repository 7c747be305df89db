"""Twelve learned tables filled and opened by others: LibreOffice, pandas, openpyxl and Python's csv say so.

What else a partner put into a workbook is compared cell by cell and part by part.
"""

import csv
import io
import shutil
import subprocess
import zipfile
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from learnedtables import Partner, learned, partners, rows_for
from partnerbooks import partner_book

from hundredfold.catalogue.sheets import Column, Sheet, TableKind
from hundredfold.handoff.cells import Cell
from hundredfold.handoff.tables import table_bytes
from hundredfold.kernel.errors import ShopError

PARTNERS = partners()
pandas = pytest.importorskip("pandas")
OFFICE = shutil.which("soffice")
KITE = Sheet(
    TableKind.XLSX,
    tuple(Column(f"c{n}") for n in range(12)),
    worksheet="Products",
    form="kite.xlsx",
    first_row=5,
)


def written(partner: Partner, count: int = 25) -> tuple[Sheet, list[list[Cell]], bytes]:
    sheet = learned(partner)
    rows = rows_for(sheet, count)
    return sheet, rows, table_bytes(sheet, rows, partner.data)


def as_read(sheet: Sheet, rows: list[list[Cell]]) -> list[list[str]]:
    return [[cell.as_read(sheet.kind) for cell in row] for row in rows]


@pytest.mark.parametrize("partner", PARTNERS, ids=lambda each: each.name)
def test_csv_and_openpyxl_read_the_same_cells(partner: Partner) -> None:
    sheet, rows, data = written(partner)
    if sheet.kind is TableKind.CSV:
        text = data.decode(sheet.encoding)
        read = list(csv.reader(io.StringIO(text, newline=""), delimiter=sheet.separator))
        assert data.startswith(partner.data.splitlines(keepends=True)[0])  # their heading's own bytes
    else:
        page = openpyxl.load_workbook(io.BytesIO(data))[sheet.worksheet]
        width = len(sheet.columns)
        read = [[str(cell.value or "") for cell in row[:width]] for row in page.iter_rows()]
        assert {cell.data_type for row in page.iter_rows(min_row=sheet.first_row) for cell in row} == {"s"}
    assert read[sheet.first_row - 1 :] == as_read(sheet, rows)


@pytest.mark.parametrize("partner", PARTNERS, ids=lambda each: each.name)
def test_pandas_reads_the_same_cells(partner: Partner) -> None:
    sheet, rows, data = written(partner)
    plain: dict[str, Any] = {"header": None, "dtype": str, "keep_default_na": False, "na_filter": False}
    if sheet.kind is TableKind.CSV:
        frame = pandas.read_csv(io.BytesIO(data), sep=sheet.separator, encoding=sheet.encoding, **plain)
    else:
        frame = pandas.read_excel(io.BytesIO(data), sheet_name=sheet.worksheet, **plain)
    read = [list(map(str, line)) for line in frame.iloc[sheet.first_row - 1 :, : len(sheet.columns)].values]
    assert read == as_read(sheet, rows)


@pytest.mark.skipif(OFFICE is None, reason="LibreOffice is not installed here")
def test_libreoffice_reads_the_same_cells(tmp_path: Path) -> None:
    made = {}
    for partner in PARTNERS:
        sheet, rows, data = written(partner)
        if sheet.kind is TableKind.XLSX:
            made[partner.name] = (sheet, rows)
            (tmp_path / partner.name).write_bytes(data)
    profile = f"-env:UserInstallation=file://{tmp_path}/profile"
    filters = "csv:Text - txt - csv (StarCalc):44,34,76,1,,0,false,false"
    asked = ["soffice", profile, "--headless", "--convert-to", filters, "--outdir", str(tmp_path)]
    subprocess.run(
        [*asked, *(str(tmp_path / name) for name in made)], check=True, timeout=180, capture_output=True
    )
    assert len(made) >= 5
    for name, (sheet, rows) in made.items():
        text = (tmp_path / name).with_suffix(".csv").read_text("utf-8")
        read = list(csv.reader(io.StringIO(text, newline="")))[sheet.first_row - 1 :]
        assert read == as_read(sheet, rows), name


def test_all_else_in_the_partners_workbook_stays_as_it_is() -> None:
    form = partner_book()
    rows = [[Cell(f"r{n}") for _ in range(12)] for n in range(700)]
    data = table_bytes(KITE, rows, form)
    with zipfile.ZipFile(io.BytesIO(form)) as theirs, zipfile.ZipFile(io.BytesIO(data)) as ours:
        assert ours.namelist() == theirs.namelist()
        changed = [name for name in ours.namelist() if ours.read(name) != theirs.read(name)]
        assert changed == ["xl/worksheets/sheet2.xml"]
    old, new = openpyxl.load_workbook(io.BytesIO(form)), openpyxl.load_workbook(io.BytesIO(data))
    for page in old:
        for row in page.iter_rows(max_row=4 if page.title == "Products" else None):
            for cell in row:
                same = new[page.title][cell.coordinate]
                assert told(same) == told(cell)
    products = new["Products"]
    assert products.column_dimensions["L"].hidden
    assert {str(rule.sqref): rule.formula1 for rule in products.data_validations.dataValidation} == {
        "E5:E500": "Colours",
        "A5:A500": "Lists!$B$1:$B$3",
    }
    assert (new["Lists"].sheet_state, "Colours" in new.defined_names) == ("hidden", True)
    assert products.max_row == 704


@pytest.mark.skipif(OFFICE is None, reason="LibreOffice is not installed here")
def test_the_drop_downs_still_work_in_libreoffice(tmp_path: Path) -> None:
    """Saved again by LibreOffice, the lists offer the same choices in the filled rows."""
    data = table_bytes(KITE, [[Cell("add"), *[Cell("x")] * 11]] * 3, partner_book())
    (tmp_path / "kite.xlsx").write_bytes(data)
    profile = f"-env:UserInstallation=file://{tmp_path}/profile"
    asked = ["soffice", profile, "--headless", "--convert-to", "xlsx:Calc MS Excel 2007 XML", "--outdir"]
    subprocess.run(
        [*asked, str(tmp_path / "out"), str(tmp_path / "kite.xlsx")],
        check=True,
        timeout=180,
        capture_output=True,
    )
    book = openpyxl.load_workbook(tmp_path / "out" / "kite.xlsx")
    rules = {rule.formula1: str(rule.sqref) for rule in book["Products"].data_validations.dataValidation}
    assert {"Colours": "E5:E500"}.items() <= rules.items()
    assert any(area.startswith("A5:A500") for area in rules.values())
    assert [book["Products"].cell(5, 1).value, book["Lists"]["A1"].value] == ["add", "Black"]


def told(cell: openpyxl.cell.cell.Cell | openpyxl.cell.cell.MergedCell) -> tuple[object, ...]:
    note = cell.comment.text if cell.comment else ""
    return cell.value, repr(cell.font), repr(cell.fill), cell.number_format, note


def test_merged_cells_where_rows_go_are_told_with_sheet_and_cell() -> None:
    book = openpyxl.load_workbook(io.BytesIO(partner_book()))
    book["Products"].merge_cells("B7:C7")
    out = io.BytesIO()
    book.save(out)
    with pytest.raises(ShopError) as caught:
        table_bytes(KITE, [], out.getvalue())
    assert caught.value.slug == "merged-cells"
    assert 'worksheet "Products", cell B7' in caught.value.what


def test_formulas_that_go_take_the_list_of_what_to_compute_with_them() -> None:
    form = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(partner_book())) as book, zipfile.ZipFile(form, "w") as with_chain:
        for name in book.namelist():
            data = book.read(name)
            if name == "xl/worksheets/sheet2.xml":
                data = data.replace(b'<c r="G5" t="n"><v>12.5</v></c>', b'<c r="G5"><f>1+1</f></c>')
                assert b"<f>" in data
            if name == "[Content_Types].xml":
                data = data.replace(
                    b"</Types>", b'<Override PartName="/xl/calcChain.xml" ContentType="x"/></Types>'
                )
            with_chain.writestr(name, data)
        with_chain.writestr("xl/calcChain.xml", "<calcChain/>")
    done = zipfile.ZipFile(io.BytesIO(table_bytes(KITE, [], form.getvalue())))
    assert "xl/calcChain.xml" not in done.namelist()
    assert b"calcChain" not in done.read("[Content_Types].xml")
