"""Workbooks and tables of text are read with all a partner put in; bad ones are refused in a sentence."""

import io
import subprocess
import tracemalloc
import zipfile
from pathlib import Path

import openpyxl
import pytest
from partnerbooks import partner_book

from hundredfold.kernel.errors import ShopError
from hundredfold.learning import delimited, opendocument
from hundredfold.learning.columns import propose
from hundredfold.learning.fieldlists import LISTING
from hundredfold.learning.headings import find_headings, most_chars
from hundredfold.learning.sheetchoice import fillable
from hundredfold.learning.workbook import Workbook


def test_a_partners_workbook_is_seen_with_its_lists_notes_and_hidden_columns() -> None:
    sheets = Workbook("kite.xlsx", partner_book()).seen()
    assert [(sheet.name, sheet.hidden) for sheet in sheets] == [
        ("Read me first", False),
        ("Products", False),
        ("Lists", True),
    ]
    products = sheets[1]
    assert products.allowed == {
        4: ("Black", "White", "Navy", "Red"),
        0: ("add", "amend", "remove"),
    }
    assert products.hidden_columns == {11}
    assert products.notes[11] == ("For our books only",)
    assert products.notes[4] == ("Colour One of our colours",)
    assert products.last_row == 4


def test_the_sheet_to_fill_and_its_headings_are_found() -> None:
    (found,) = fillable(Workbook("kite.xlsx", partner_book()).seen(), LISTING)
    heads = found.headings
    assert found.sheet.name == "Products"
    assert (heads.row, heads.group_row, heads.first_row, heads.example_rows) == (2, 1, 4, (4,))
    sku = heads.columns[1]
    assert (sku.header, sku.group, sku.required, sku.max_chars) == ("Seller SKU *", "Product", True, 40)
    proposals = propose(heads.columns, LISTING)
    assert [f"{p.field} {p.number or ''}".strip() for p in proposals] == [
        "action", "sku", "title", "story", "colour", "size", "price", "picture 1", "picture 2", "maker",
        "maker address", "",
    ]  # fmt: skip


def test_ods_is_read_like_the_workbook_it_came_from(tmp_path: Path) -> None:
    """The same file saved as ODS by LibreOffice."""
    book = tmp_path / "kite.xlsx"
    book.write_bytes(partner_book())
    profile = f"-env:UserInstallation=file://{tmp_path}/profile"
    asked = ["soffice", profile, "--headless", "--convert-to", "ods", "--outdir", str(tmp_path), str(book)]
    subprocess.run(asked, check=True, capture_output=True, timeout=180)
    sheets = opendocument.see("kite.ods", (tmp_path / "kite.ods").read_bytes())
    (found,) = fillable(sheets, LISTING)
    assert (found.sheet.name, found.headings.row, found.headings.first_row) == ("Products", 2, 4)
    assert found.sheet.allowed[4] == ("Black", "White", "Navy", "Red")
    assert found.sheet.hidden_columns >= {11}


def test_a_cell_at_the_far_corner_costs_nothing() -> None:
    book = openpyxl.Workbook()
    page = book.active
    assert page is not None
    for at, header in enumerate(("SKU", "Title", "Price"), start=1):
        page.cell(1, at, header)
    page["XFD1048576"] = "x"
    out = io.BytesIO()
    book.save(out)
    tracemalloc.start()
    (sheet,) = Workbook("far.xlsx", out.getvalue()).seen()
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert peak < 5_000_000
    assert sheet.last_row == 1_048_575
    assert find_headings(sheet, LISTING) is not None


@pytest.mark.parametrize(
    ("data", "slug"),
    [
        (b"PK\x03\x04 no zip at all", "not-a-spreadsheet"),
        (b"\xef\xbb\xbfTitle;Preis\n\xfc;1\n", "wrong-encoding"),
        (("SKU," * 60_000).encode(), "too-wide"),
    ],
)
def test_bad_files_are_refused(data: bytes, slug: str) -> None:
    with pytest.raises(ShopError) as caught:
        Workbook("bad", data) if data.startswith(b"PK") else delimited.see(data, "bad")
    assert caught.value.slug == slug


def test_a_zip_bomb_is_not_unpacked() -> None:
    out = io.BytesIO()
    with (
        zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive,
        archive.open("xl/workbook.xml", "w") as part,
    ):
        for _ in range(450):
            part.write(b"\0" * 1_000_000)
    with pytest.raises(ShopError) as caught:
        Workbook("bomb.xlsx", out.getvalue())
    assert caught.value.slug == "file-too-large"


def test_entities_are_not_expanded() -> None:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as archive:
        archive.writestr("xl/workbook.xml", '<!DOCTYPE a [<!ENTITY b "c">]><workbook>&b;</workbook>')
    with pytest.raises(ShopError) as caught:
        Workbook("entities.xlsx", out.getvalue())
    assert "document type" in str(caught.value)


@pytest.mark.parametrize(
    ("text", "encoding", "separator", "line_end"),
    [
        ("SKU;Größe;Preis\r\nA;L;1,50\r\n", "cp1252", ";", "\r\n"),
        ("SKU\tTitle\nA\tB\n", "utf-8", "\t", "\n"),
        ("SKU|Title|Price\nA|B, or C|2\n", "utf-8", "|", "\n"),
        ('SKU,Title\r\nA,"x;y;z"\r\n', "utf-16-le", ",", "\r\n"),
    ],
)
def test_dialects(text: str, encoding: str, separator: str, line_end: str) -> None:
    seen, dialect = delimited.see(text.encode(encoding), "t.csv")
    assert (dialect.encoding, dialect.separator, dialect.line_end) == (encoding, separator, line_end)
    assert seen.rows[0][0] == "SKU"


@pytest.mark.parametrize(
    ("note", "most"),
    [
        ("Max. 80 characters", 80),
        ("höchstens 40 Zeichen", 40),
        ("80 caractères maximum", 80),
        ("up to 200", 200),
        ("max 2000 px", None),
        ("Optional", None),
    ],
)
def test_lengths_in_notes(note: str, most: int | None) -> None:
    assert most_chars(note) == most
