"""Reading somebody's CSV or workbook: any common delimiter and encoding, XLSX, XLS and ODS."""

import csv
import io
import zipfile
from collections.abc import Iterable, Sequence
from pathlib import Path

from hundredfold.kernel.errors import ExitCode, ShopError, Where
from hundredfold.kernel.grid import Cell, Grid
from hundredfold.runner.bookchild import read_workbook

MAX_CELLS = 5_000_000
MAX_BYTES = 200_000_000
MAX_UNPACKED_BYTES = 1_000_000_000  # a workbook is a ZIP; a bomb would unpack to far more
DELIMITERS = ",;\t|"
_ZIP, _OLD_OFFICE = b"PK\x03\x04", b"\xd0\xcf\x11\xe0"


def read_spreadsheet(path: Path) -> tuple[Grid, ...]:
    """The worksheets of a workbook in their order, or a CSV as one grid; what it is is told by its content.

    Raises ShopError ``file-unreadable``, ``file-too-large``, ``not-a-spreadsheet`` or ``locked-workbook``.
    """
    where = Where(path.name)
    try:
        if not path.is_file() and path.exists():
            fix = "name the file that holds the table"
            raise ShopError("file-unreadable", "it is no ordinary file", fix, Where(str(path)))
        if path.stat().st_size > MAX_BYTES:
            raise _too_large(path.stat().st_size, MAX_BYTES, where)
        data = path.read_bytes()
    except OSError as error:
        fix = "check the spelling, and that the file is not open elsewhere"
        what = f"it cannot be read: {error.strerror}"
        raise ShopError("file-unreadable", what, fix, Where(str(path)), ExitCode.WRONG_USE) from error
    if data.startswith((_ZIP, _OLD_OFFICE)):
        return _workbook(data, path.name)
    return (_csv(data, path.name),)


def _workbook(data: bytes, name: str) -> tuple[Grid, ...]:
    where = Where(name)
    try:
        if data.startswith(_ZIP):
            unpacked = _unpacked_bytes(data)
            if unpacked > MAX_UNPACKED_BYTES:
                raise _too_large(unpacked, MAX_UNPACKED_BYTES, where)
        return tuple(Grid(name, sheet, rows) for sheet, rows in read_workbook(data, name))
    except zipfile.BadZipFile as error:
        fix = "open it in your spreadsheet program and save it again as XLSX or CSV"
        raise ShopError(
            "not-a-spreadsheet", f"it cannot be read as a workbook ({error})", fix, where
        ) from None


def _unpacked_bytes(data: bytes) -> int:
    """What the parts of a ZIP come to. Raises BadZipFile whatever is wrong with it."""
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            return sum(info.file_size for info in archive.infolist())
    except (NotImplementedError, OSError, ValueError, RuntimeError) as error:
        raise zipfile.BadZipFile(str(error)) from error


def _csv(data: bytes, name: str) -> Grid:
    if b"\x00" in data and not data.startswith((b"\xff\xfe", b"\xfe\xff")):
        fix = "save it from your spreadsheet program as XLSX or CSV"
        raise ShopError("not-a-spreadsheet", "it is neither a workbook nor a CSV", fix, Where(name))
    text = _decoded(data)
    delimiter = max(DELIMITERS, key=lambda each: _columns(text, each))
    csv.field_size_limit(10_000_000)
    try:
        rows = _rows(csv.reader(io.StringIO(text, newline=""), delimiter=delimiter), Where(name))
    except csv.Error as error:
        fix = "open it in your spreadsheet program and save it again as CSV"
        raise ShopError(
            "not-a-spreadsheet", f"it cannot be read as CSV ({error})", fix, Where(name)
        ) from None
    return Grid(name, "", rows)


def _rows(reader: Iterable[Sequence[str]], where: Where) -> tuple[tuple[Cell, ...], ...]:
    rows, cells = [], 0
    for row in reader:
        cells += len(row) + 1
        if cells > MAX_CELLS:
            what = f"it holds more than the {MAX_CELLS:,} cells that are read"
            raise ShopError("file-too-large", what, "split it into smaller files", where)
        rows.append(tuple(cell or None for cell in row))
    return tuple(rows)


def _decoded(data: bytes) -> str:
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        return data.decode("utf-16", errors="replace")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        return data.decode("cp1252", errors="replace")  # what spreadsheet programs on Windows save


def _columns(text: str, delimiter: str) -> int:
    """How many cells the first lines have together, of the lines that this delimiter splits."""
    head = "\n".join(text.splitlines()[:20])
    try:
        widths = [len(row) for row in csv.reader(io.StringIO(head), delimiter=delimiter) if len(row) > 1]
    except csv.Error:
        return 0
    return sum(widths)


def _too_large(size: int, most: int, where: Where) -> ShopError:
    what = f"it holds {size / 1e6:.0f} MB, more than the {most / 1e6:.0f} MB that are read"
    return ShopError("file-too-large", what, "split it into smaller files", where)
