"""A report on disk as rows, as often as they are asked for: CSV, packed or not, or a workbook."""

import csv
import gzip
import hashlib
import io
import zlib
from collections.abc import Collection, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import BinaryIO, cast

from hundredfold.kernel.errors import ExitCode, ShopError, Where
from hundredfold.learning.delimited import best_separator
from hundredfold.results.mapping import heading_row, heading_score
from hundredfold.workshop.shop.spreadsheet import read_spreadsheet

_GZIP, _ZIP, _OLD_OFFICE = b"\x1f\x8b", b"PK\x03\x04", b"\xd0\xcf\x11\xe0"
_HEAD = 256_000


@dataclass(frozen=True)
class ReportFile:
    """A report, its first rows read. ``top`` is the 0-based place of its headings among them."""

    path: Path
    digest: str
    head: tuple[tuple[str, ...], ...]
    top: int
    encoding: str = ""  # "" for a workbook
    separator: str = ","
    sheet: tuple[tuple[str, ...], ...] = ()

    def rows(self) -> Iterator[tuple[int, Sequence[str]]]:
        """The rows below the headings, each with its number as a spreadsheet shows it.

        Raises ShopError ``report-cut-short``, ``not-a-spreadsheet``.
        """
        if not self.encoding:
            yield from enumerate(self.sheet[self.top + 1 :], self.top + 2)
            return
        csv.field_size_limit(10_000_000)
        with _opened(self.path) as stream:
            text = io.TextIOWrapper(cast(BinaryIO, stream), self.encoding, newline="")
            try:
                reader = csv.reader(text, delimiter=self.separator)
                for number, cells in enumerate(reader, 1):
                    if number > self.top + 1:
                        yield number, cells
            except csv.Error as error:
                fix = "open it in your spreadsheet program and save it again as CSV"
                raise ShopError(
                    "not-a-spreadsheet", f"it cannot be read as CSV ({error})", fix, Where(self.path.name)
                ) from None


def open_report(path: Path, said: Collection[str] = ()) -> ReportFile:
    """Look at a report's first rows; ``said`` are headings that the seller named.

    Raises ShopError ``file-unreadable``, ``not-a-spreadsheet``, ``locked-workbook``, ``file-too-large``,
    ``report-cut-short``, and ``missing-column`` where no row of headings is found.
    """
    try:
        digest, start = _digest(path)
    except OSError as error:
        fix = "check the spelling, and that the file is not open elsewhere"
        what = f"it cannot be read: {error.strerror}"
        raise ShopError("file-unreadable", what, fix, Where(str(path)), ExitCode.WRONG_USE) from error
    if start.startswith((_ZIP, _OLD_OFFICE)):
        return _workbook(path, digest, said)
    with _opened(path) as stream:
        head = stream.read(_HEAD)
    if b"\0" in head and not head.startswith((b"\xff\xfe", b"\xfe\xff")):
        fix = "save it from your spreadsheet program as XLSX or CSV"
        raise ShopError("not-a-spreadsheet", "it is neither a workbook nor a CSV", fix, Where(path.name))
    encoding = _encoding(path, head)
    whole = head[: head.rfind(b"\n") + 1] if len(head) == _HEAD and encoding != "utf-16" else head
    text = whole.decode(encoding, "replace")
    separator = best_separator(text)
    rows = tuple(tuple(row) for row in csv.reader(io.StringIO(text, newline=""), delimiter=separator))[:400]
    top = heading_row(rows, said)
    if top is None:
        raise _no_headings(path)
    return ReportFile(path, digest, rows, top, encoding, separator)


def _workbook(path: Path, digest: str, said: Collection[str]) -> ReportFile:
    best: tuple[float, int, tuple[tuple[str, ...], ...]] | None = None
    for grid in read_spreadsheet(path):
        rows = tuple(grid.texts(at) for at in range(len(grid.rows)))
        top = heading_row(rows, said)
        if top is not None and (best is None or heading_score(rows[top]) > best[0]):
            best = (heading_score(rows[top]), top, rows)
    if best is None:
        raise _no_headings(path)
    return ReportFile(path, digest, best[2][:400], best[1], sheet=best[2])


def _no_headings(path: Path) -> ShopError:
    fix = "check that it is the right file; a report has a row of headings such as Order, Date, SKU, Amount"
    return ShopError("missing-column", "no row of headings was found", fix, Where(path.name))


def _digest(path: Path) -> tuple[str, bytes]:
    digest, start = hashlib.sha256(), b""
    with path.open("rb") as file:
        while block := file.read(1 << 20):
            start = start or block[:8]
            digest.update(block)
    return digest.hexdigest(), start


def _encoding(path: Path, head: bytes) -> str:
    """UTF-8 where every byte of the file is, else what spreadsheet programs on Windows save."""
    if head.startswith((b"\xff\xfe", b"\xfe\xff")):
        return "utf-16"
    try:
        with _opened(path) as stream:
            text = io.TextIOWrapper(cast(BinaryIO, stream), "utf-8-sig")
            while text.read(1 << 20):
                pass
    except UnicodeDecodeError:
        return "cp1252" if not any(byte in head for byte in b"\x81\x8d\x8f\x90\x9d") else "latin-1"
    return "utf-8-sig"


@contextmanager
def _opened(path: Path) -> Iterator[BinaryIO | gzip.GzipFile]:
    with path.open("rb") as file:
        packed = file.read(2) == _GZIP
        file.seek(0)
        try:
            if packed:
                with gzip.GzipFile(fileobj=file) as stream:
                    yield stream
            else:
                yield file
        except (EOFError, zlib.error, gzip.BadGzipFile) as error:
            what = (
                f"the compressed report ends before its content does, or is damaged ({error}); "
                f"nothing was read in"
            )
            fix = "download it again, and add it again"
            raise ShopError("report-cut-short", what, fix, Where(path.name), ExitCode.PROBLEMS) from None
