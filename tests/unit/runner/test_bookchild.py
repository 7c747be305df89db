"""Workbooks from strangers: what kills their reader ends a child, and one sentence says so."""

import io
import zipfile
from datetime import date, datetime, time
from typing import Any

import openpyxl
import pytest

from hundredfold.kernel.errors import ShopError
from hundredfold.runner.bookchild import BookLimits, read_workbook


def workbook(cells: dict[str, Any]) -> bytes:
    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    for address, value in cells.items():
        sheet[address] = value
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def with_sheet(data: bytes, old: bytes, new: bytes) -> bytes:
    """The workbook with its worksheet's XML changed."""
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(data)) as book, zipfile.ZipFile(out, "w") as changed:
        for name in book.namelist():
            part = book.read(name)
            if name.endswith("sheet1.xml"):
                assert old in part
                part = part.replace(old, new)
            changed.writestr(name, part)
    return out.getvalue()


def test_cells_of_every_kind() -> None:
    at = datetime.fromisoformat("2026-01-02T03:04:05")
    ((name, (row,)),) = read_workbook(
        workbook({"A1": "x", "B1": 4.1, "C1": True, "D1": at, "E1": date(2026, 1, 2), "G1": time(3, 4)}), "a"
    )
    assert name == "Sheet"
    assert row[:4] == ("x", 4.1, True, at)
    assert row[5:] == (None, time(3, 4))


@pytest.mark.parametrize(
    ("old", "new"),
    [
        (b'r="A1"', b'r="XFD1048576"'),  # the farthest cell there is: 17,179,869,184 up to it
        (b'r="A1"', b'r="XFE1048577"'),  # past the grid
        (b'r="A1"', b'r="ZZZZZZZ99999999999"'),
        (b"<v>7</v>", b"<v>\xff\xfe\x80</v>"),  # bytes that are no UTF-8
        (b"<v>7</v>", b"<v>7"),
    ],
)
def test_what_kills_the_reader_is_one_sentence(old: bytes, new: bytes) -> None:
    data = with_sheet(workbook({"A1": 7}), old, new)
    try:
        read_workbook(data, "bad.xlsx", BookLimits(memory_bytes=1_000_000_000))
    except ShopError as error:
        said = error
    else:
        return  # read without harm
    assert said.slug in ("not-a-spreadsheet", "file-too-large")
    assert said.where.file == "bad.xlsx"


def test_the_farthest_cell_is_told_as_too_large() -> None:
    data = with_sheet(workbook({"A1": 7}), b'r="A1"', b'r="XFD1048576"')
    with pytest.raises(ShopError) as caught:
        read_workbook(data, "far.xlsx", BookLimits(memory_bytes=1_000_000_000))
    assert caught.value.slug == "file-too-large"
    assert "far to the right" in caught.value.fix


def test_more_cells_than_are_read() -> None:
    with pytest.raises(ShopError) as caught:
        read_workbook(workbook({"A1": 1, "J10": 2}), "wide.xlsx", BookLimits(cells=99))
    assert caught.value.slug == "file-too-large"
