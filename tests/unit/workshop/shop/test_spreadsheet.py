"""Files as sellers have them: every delimiter, encoding and workbook kind, and what is refused."""

import io
import os
import zipfile
from datetime import date, datetime
from pathlib import Path

import openpyxl
import pytest

from hundredfold.kernel.errors import ShopError
from hundredfold.kernel.grid import Grid, cell_text, find_headers
from hundredfold.workshop.shop import spreadsheet
from hundredfold.workshop.shop.files import ShopFiles
from hundredfold.workshop.shop.folder import open_shop
from hundredfold.workshop.shop.learnsheet import learn_sheet
from hundredfold.workshop.shop.newshop import new_shop
from hundredfold.workshop.shop.spreadsheet import read_spreadsheet
from hundredfold.workshop.shop.typefaces import find_font, own_fonts

ROWS = [("Code", "Größe, cm", "Cost"), ("A-1", 'say "hi"', "4.10"), ("A-2", "two\nlines", "")]


def texts(grid: Grid) -> list[tuple[str, ...]]:
    return [grid.texts(index) for index in range(len(grid.rows))]


def quoted(delimiter: str) -> str:
    return "".join(
        delimiter.join('"' + cell.replace('"', '""') + '"' for cell in row) + "\r\n" for row in ROWS
    )


@pytest.mark.parametrize("delimiter", [",", ";", "\t", "|"])
@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "cp1252"])
def test_a_csv_in_any_common_dress(tmp_path: Path, delimiter: str, encoding: str) -> None:
    path = tmp_path / "list.csv"
    path.write_bytes(quoted(delimiter).encode(encoding))
    (grid,) = read_spreadsheet(path)
    assert texts(grid) == [tuple(row) for row in ROWS]


def test_a_workbook_gives_each_sheet_with_exact_numbers(tmp_path: Path) -> None:
    book = openpyxl.Workbook()
    first = book.active
    assert first is not None
    first.title = "Prices"
    first.append(["Code", "Cost", "From", "Sold"])
    first.append([])
    first.append([12345, 4.1, date(2026, 12, 1), True])
    book.create_sheet("Notes").append(["hello"])
    book.save(tmp_path / "list.bin")
    prices, notes = read_spreadsheet(tmp_path / "list.bin")
    assert (prices.sheet, notes.sheet) == ("Prices", "Notes")
    assert prices.texts(2) == ("12345", "4.1", "2026-12-01", "yes")


@pytest.mark.parametrize(
    ("cell", "text"),
    [
        (None, ""),
        ("  a\u00a0b ", "a b"),
        (0.1 + 0.2, "0.30000000000000004"),
        (1e16, "10000000000000000"),
        (1e-7, "0.0000001"),
        (-3.0, "-3"),
        (False, "no"),
        (date(2026, 1, 2), "2026-01-02"),
        (datetime.fromisoformat("2026-01-02T03:04:00"), "2026-01-02T03:04:00"),
    ],
)
def test_what_a_cell_says(cell: str | float | bool | date | None, text: str) -> None:
    assert cell_text(cell) == text


def damaged_workbook() -> bytes:
    data = io.BytesIO()
    with zipfile.ZipFile(data, "w") as archive:
        archive.writestr("xl/workbook.xml", "<nonsense")
    return data.getvalue()


@pytest.mark.parametrize(
    ("data", "slug"),
    [
        (damaged_workbook(), "not-a-spreadsheet"),
        (damaged_workbook()[:60], "not-a-spreadsheet"),
        (b"\xd0\xcf\x11\xe0 old", "not-a-spreadsheet"),
        (b"\x89PNG\r\n\x1a\n\x00\x00\x00", "not-a-spreadsheet"),
    ],
    ids=["damaged", "cut short", "old kind", "picture"],  # the bytes hold the time of day
)
def test_what_is_no_spreadsheet_is_refused(tmp_path: Path, data: bytes, slug: str) -> None:
    (tmp_path / "list.xlsx").write_bytes(data)
    with pytest.raises(ShopError) as caught:
        read_spreadsheet(tmp_path / "list.xlsx")
    assert (caught.value.slug, caught.value.where.file) == (slug, "list.xlsx")


def test_a_missing_file_and_a_folder_are_refused(tmp_path: Path) -> None:
    for path in (tmp_path / "none.csv", tmp_path):
        with pytest.raises(ShopError) as caught:
            read_spreadsheet(path)
        assert caught.value.slug == "file-unreadable"


def test_a_bomb_is_refused_before_it_is_unpacked(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with zipfile.ZipFile(tmp_path / "bomb.xlsx", "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("xl/worksheets/sheet1.xml", b" " * 3_000_000)
    monkeypatch.setattr(spreadsheet, "MAX_UNPACKED_BYTES", 1_000_000)
    with pytest.raises(ShopError) as caught:
        read_spreadsheet(tmp_path / "bomb.xlsx")
    assert caught.value.slug == "file-too-large"
    monkeypatch.setattr(spreadsheet, "MAX_BYTES", 100)
    with pytest.raises(ShopError, match="more than the 0 MB"):
        read_spreadsheet(tmp_path / "bomb.xlsx")


SYNONYMS = {"code": ("item code", "sku"), "cost": ("price", "net price"), "size": ()}


def test_headers_are_found_below_other_rows_and_by_synonym() -> None:
    grid = Grid("f", "", (("Price list", None), (None,), ("Item-Code", "NET  PRICE", "Carton"), ("a", "1")))
    found = find_headers(grid, SYNONYMS)
    assert found is not None
    assert (found.row, dict(found.columns), found.unused) == (2, {"code": 0, "cost": 1}, ("Carton",))
    assert found.names["cost"] == "NET  PRICE"


def test_the_own_name_wins_over_synonyms_and_twins_are_told() -> None:
    found = find_headers(Grid("f", "", (("SKU", "Price", "Code", "price"),)), SYNONYMS)
    assert found is not None
    assert dict(found.columns) == {"code": 2, "cost": 1}
    assert found.twice == (("cost", "Price", "price"),)


def test_no_header_at_all() -> None:
    assert find_headers(Grid("f", "", (("a", "b"),)), SYNONYMS) is None


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no named pipes")
def test_a_pipe_is_no_file(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "list.csv")
    with pytest.raises(ShopError) as caught:
        read_spreadsheet(tmp_path / "list.csv")
    assert caught.value.slug == "file-unreadable"


def test_a_table_of_too_many_cells(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(spreadsheet, "MAX_CELLS", 1000)
    (tmp_path / "long.csv").write_text("a,b\n" * 400)
    with pytest.raises(ShopError) as caught:
        read_spreadsheet(tmp_path / "long.csv")
    assert caught.value.slug == "file-too-large"


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no named pipes")
def test_a_pipe_is_no_form_and_no_font(tmp_path: Path) -> None:
    """Reading it would wait for ever."""
    new_shop(tmp_path / "mine", sample=True)
    os.mkfifo(tmp_path / "form.csv")
    with pytest.raises(ShopError) as caught:
        learn_sheet(open_shop(tmp_path / "mine"), tmp_path / "form.csv", "new-partner")
    assert caught.value.slug == "file-unreadable"
    os.mkfifo(tmp_path / "Odd.ttf")
    assert own_fonts(tmp_path) == ()
    with pytest.raises(ShopError) as caught:
        find_font("Odd", folder=tmp_path)
    assert caught.value.slug == "unknown-font"
    assert not [path for path in ShopFiles(tmp_path).listed(tmp_path) if path.suffix == ".ttf"]
