"""Tables against RFC 4180, ZIP's APPNOTE, the XLSX limits, and the lists of formula starts.

RFC 4180 section 2: records end in CRLF; fields with line breaks, quotes or commas are quoted; quotes inside
are doubled; spaces are part of a field. Formula injection: OWASP "CSV Injection", CWE-1236 (= + - @, tab,
carriage return), ASVS 4.0.3 5.3.10 / 5.0 1.2.10 adding NUL. APPNOTE 4.4.7 CRC-32 check value of "123456789".
Excel's cell holds 32,767 characters (from memory of ECMA-376 / Excel limits; openpyxl cuts there silently).
"""

import csv
import io
import shutil
import subprocess
import zipfile
import zlib
from decimal import Decimal
from pathlib import Path

import openpyxl
import pytest
from goods import TinyPack, channel, design, mug, sheet, shirt, written
from python_calamine import CalamineWorkbook

from hundredfold.catalogue.sheets import Column, TableKind
from hundredfold.handoff.cells import Cell
from hundredfold.handoff.tables import table_bytes
from hundredfold.kernel.errors import ShopError
from hundredfold.kernel.formulas import harmless, is_formula


def test_rfc_4180_example() -> None:
    """The fields of the RFC's own rules in one record, byte for byte."""
    one = sheet(columns=tuple(Column(name) for name in ("a", 'b"c', "d,e", "f\ng", " x ")))
    assert table_bytes(one, []) == b'a,"b""c","d,e","f\ng", x \r\n'


def test_records_end_in_crlf_and_have_equal_length() -> None:
    rows = [[Cell("1"), Cell("")], [Cell("ü"), Cell("x,y")]]
    data = table_bytes(sheet(columns=(Column("a", ""), Column("b", "")), byte_order_mark=True), rows)
    assert data == b"\xef\xbb\xbf" + 'a,b\r\n1,\r\nü,"x,y"\r\n'.encode()
    assert {len(row) for row in csv.reader(io.StringIO(data.decode("utf-8-sig"), newline=""))} == {2}


@pytest.mark.parametrize("start", ["=", "+", "-", "@", "\t", "\r", "\0", "\n", "＝", "＋", "－", "＠"])
def test_formula_starts_are_made_harmless(start: str) -> None:
    text = f"{start}HYPERLINK(1)"
    assert is_formula(text)
    assert harmless(text) == f"'{text}"


@pytest.mark.parametrize("text", ["-5", "+44 20", "+1", "-1.50", "1-2", "a=b", "", "x@y"])
def test_what_only_looks_like_one(text: str) -> None:
    """Plain negative numbers are the known false positives; a number with spaces is marked to be safe."""
    assert is_formula(text) == (text == "+44 20")


def test_zip_checksums() -> None:
    assert zlib.crc32(b"123456789") == 0xCBF43926
    pack = TinyPack(channel())
    pack.add(design(), mug())
    files, _ = written(pack, [mug()])
    with zipfile.ZipFile(io.BytesIO(files["artwork.zip"])) as archive:
        assert archive.testzip() is None
        for entry in archive.infolist():
            assert zlib.crc32(pack.files[entry.filename]) == entry.CRC


def xlsx(rows: list[list[Cell]]) -> bytes:
    columns = tuple(Column(name, "") for name in ("Ref", "Text"))
    columns += (Column("Price", "{price}"),)
    wide = sheet(TableKind.XLSX, columns=columns, worksheet="New items", lines_above=(("Form 7", ""),))
    return table_bytes(wide, rows)


ROWS = [
    [Cell("00123"), Cell("=1+1"), Cell("14.95", Decimal("14.95"))],
    [Cell("PG-1"), Cell('-x <&> "q" ü 👩‍🌾 _x0041_'), Cell("3.00", Decimal("3.00"))],
    [Cell("PG-2"), Cell("https://example.org"), Cell("")],
]


def test_an_xlsx_keeps_text_as_text_and_prices_as_numbers() -> None:
    book = openpyxl.load_workbook(io.BytesIO(xlsx(ROWS)))
    page = book["New items"]
    assert [cell.value for cell in page[3]] == ["00123", "=1+1", 14.95]
    assert [cell.data_type for cell in page[3]] == ["s", "s", "n"]
    assert page["B3"].quotePrefix
    assert page["B4"].value == ROWS[1][1].text
    assert page["B5"].hyperlink is None
    assert (page["A1"].value, page["A2"].value) == ("Form 7", "Ref")
    assert book.properties.created.year == 2000
    read = CalamineWorkbook.from_filelike(io.BytesIO(xlsx(ROWS))).get_sheet_by_name("New items").to_python()
    assert read[2:4] == [["00123", "=1+1", 14.95], ["PG-1", ROWS[1][1].text, 3.0]]


def test_nothing_is_cut_at_the_cell_limit() -> None:
    assert xlsx([[Cell("1"), Cell("x" * 32_767), Cell("")]])
    with pytest.raises(ShopError) as caught:
        xlsx([[Cell("1"), Cell("x" * 32_768), Cell("")]])
    assert caught.value.slug == "table-too-large"


@pytest.mark.skipif(shutil.which("soffice") is None, reason="LibreOffice is not installed here")
def test_libreoffice_reads_the_same_cells(tmp_path: Path) -> None:
    """A pack's XLSX opened by LibreOffice and saved as CSV has our cells."""
    pack = TinyPack(channel(sheet=sheet(TableKind.XLSX)))
    pack.add(design("e", "=sea & “swim”"), mug())
    pack.add(design("f", "café, 00123"), shirt())
    files, _ = written(pack, [mug(), shirt()])
    (tmp_path / "listings.xlsx").write_bytes(files["listings.xlsx"])
    profile = f"-env:UserInstallation=file://{tmp_path}/profile"
    command = [
        "soffice",
        profile,
        "--headless",
        "--convert-to",
        "csv:Text - txt - csv (StarCalc):44,34,76,1,,0,false,false",
    ]
    files_of = ["--outdir", str(tmp_path), str(tmp_path / "listings.xlsx")]
    subprocess.run([*command, *files_of], check=True, timeout=180, capture_output=True)
    converted = list(csv.reader(io.StringIO((tmp_path / "listings.csv").read_text("utf-8"), newline="")))
    ours = (
        CalamineWorkbook.from_filelike(io.BytesIO(files["listings.xlsx"])).get_sheet_by_index(0).to_python()
    )
    text = [[f"{v:.2f}" if isinstance(v, float) else v for v in row] for row in ours]
    assert [
        [f"{float(v):.2f}" if n == 7 and r else v for n, v in enumerate(row)]
        for r, row in enumerate(converted)
    ] == text
    assert "“=Sea & “Swim”" in converted[1][3]
    assert converted[3][2] == "00123"


@pytest.mark.skipif(shutil.which("unzip") is None, reason="unzip is not installed here")
def test_info_zip_finds_nothing_wrong(tmp_path: Path) -> None:
    """Another reader of APPNOTE's format tests every member of both archives."""
    pack = TinyPack(channel())
    pack.add(design(), mug())
    files, _ = written(pack, [mug()])
    for name in ("artwork.zip", "pictures.zip"):
        (tmp_path / name).write_bytes(files[name])
        done = subprocess.run(
            ["unzip", "-t", str(tmp_path / name)], check=False, capture_output=True, text=True
        )
        assert done.returncode == 0, done.stdout
        assert "No errors detected" in done.stdout
