"""A CSV or its kin as it is seen: its encoding, separator, line ends, and its first rows."""

import csv
import io
import re
from dataclasses import dataclass

from hundredfold.kernel.errors import ShopError, Where
from hundredfold.learning.addresses import MAX_COLUMNS
from hundredfold.learning.sheet import Seen

SEPARATORS = (",", ";", "\t", "|")
_HEAD = 400_000  # characters that are looked at
_CELL = 2_000


@dataclass(frozen=True)
class Dialect:
    """How a table of text is written."""

    encoding: str  # Python's name of it
    byte_order_mark: bool
    separator: str
    line_end: str  # "\r\n", "\n" or "\r"
    quote_all: bool


def decode(data: bytes, file: str, encoding: str = "") -> tuple[str, str, bool]:
    """The text, the encoding's name, and whether a byte order mark led it.

    Raises ShopError ``wrong-encoding`` where a mark or the named encoding does not hold what follows.
    """
    marks = ((b"\xef\xbb\xbf", "utf-8"), (b"\xff\xfe", "utf-16-le"), (b"\xfe\xff", "utf-16-be"))
    for mark, name in marks:
        if data.startswith(mark):
            return _strict(data[len(mark) :], name, file, "its byte order mark says"), name, True
    if encoding:
        return _strict(data, encoding, file, "you said"), encoding, False
    if b"\0" in data[:4000]:
        odd = data[1:4000:2].count(0) > data[0:4000:2].count(0)
        name = "utf-16-le" if odd else "utf-16-be"
        return _strict(data, name, file, "its zero bytes say"), name, False
    try:
        return data.decode("utf-8"), "utf-8", False
    except UnicodeDecodeError:
        pass
    try:
        return data.decode("cp1252"), "cp1252", False
    except UnicodeDecodeError:
        return data.decode("latin-1"), "latin-1", False


def _strict(data: bytes, name: str, file: str, who: str) -> str:
    try:
        return data.decode(name)
    except (UnicodeDecodeError, LookupError) as error:
        line = data.count(b"\n", 0, getattr(error, "start", 0)) + 1
        fix = "save it again as UTF-8, or say its encoding with --encoding, like --encoding cp1252"
        raise ShopError(
            "wrong-encoding", f"{who} {name}, and line {line} is not", fix, Where(file, line)
        ) from None


def see(data: bytes, file: str, encoding: str = "", rows: int = 60) -> tuple[Seen, Dialect]:
    """The first rows and the dialect.

    Raises ShopError ``wrong-encoding``, ``not-a-spreadsheet``, ``too-wide``.
    """
    text, name, marked = decode(data, file, encoding)
    head = text[:_HEAD]
    if len(text) > _HEAD:
        head = head[: head.rfind("\n") + 1] or head
    separator = best_separator(head)
    line_end = next((end for end in ("\r\n", "\n", "\r") if end in head), "\r\n")
    csv.field_size_limit(10_000_000)
    found: list[dict[int, str]] = []
    try:
        for cells in csv.reader(io.StringIO(head, newline=""), delimiter=separator):
            if len(cells) > MAX_COLUMNS:
                what = (
                    f"row {len(found) + 1} has {len(cells)} columns; {MAX_COLUMNS} are the most a table has"
                )
                raise ShopError(
                    "too-wide", what, "check its separator, or delete the empty columns", Where(file)
                )
            found.append({at: cell.strip()[:_CELL] for at, cell in enumerate(cells) if cell.strip()})
            if len(found) >= rows:
                break
    except csv.Error as error:
        fix = "open it in your spreadsheet program and save it again as CSV"
        raise ShopError(
            "not-a-spreadsheet", f"it cannot be read as CSV ({error})", fix, Where(file)
        ) from None
    lines = head.splitlines()[:20]
    quoted = [line for line in lines if line.strip()]
    sign = re.escape(separator)
    pattern = re.compile(rf'"[^"]*"({sign}"[^"]*")*')
    quote_all = bool(quoted) and all(pattern.fullmatch(line) for line in quoted)
    last = text.count("\n") - 1 if text.endswith("\n") else text.count("\n")
    return Seen(file, "", tuple(found), last), Dialect(name, marked, separator, line_end, quote_all)


def best_separator(text: str) -> str:
    """The separator that splits the first lines into the most cells, and evenly."""
    head = "\n".join(text.splitlines()[:25])
    return max(SEPARATORS, key=lambda each: (_evenness(head, each), -SEPARATORS.index(each)))


def _evenness(head: str, separator: str) -> float:
    try:
        widths = [len(row) for row in csv.reader(io.StringIO(head), delimiter=separator) if len(row) > 1]
    except csv.Error:
        return 0.0
    if not widths:
        return 0.0
    usual = max(set(widths), key=widths.count)
    return sum(widths) * (0.5 + 0.5 * widths.count(usual) / len(widths))
