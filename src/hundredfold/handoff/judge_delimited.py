"""Reads a table of text back, with a reader of its own, and judges its bytes."""

import csv
import io

from hundredfold.handoff.judge_checks import TABLE
from hundredfold.handoff.judge_common import wrong
from hundredfold.handoff.manifest_shape import SheetEntry
from hundredfold.kernel.findings import Finding

_MARKS = {"utf-8": b"\xef\xbb\xbf", "utf-16-le": b"\xff\xfe", "utf-16-be": b"\xfe\xff"}


def read_delimited(
    file: str, data: bytes, sheet: SheetEntry, form: bytes | None, found: list[Finding]
) -> list[list[str]] | None:
    """The table's cells, or None where it cannot be read."""
    mark = _MARKS.get(sheet.encoding, b"\xef\xbb\xbf")
    marked = data.startswith(mark)
    if not sheet.form and marked != sheet.byte_order_mark:
        what = "a byte order mark the channel did not ask for" if marked else "no byte order mark"
        found.append(wrong(TABLE, "byte-order-mark", file, what))
    try:
        text = data[len(mark) if marked else 0 :].decode(sheet.encoding)
        reader = csv.reader(io.StringIO(text, newline=""), delimiter=sheet.separator, strict=True)
        grid = list(reader)
    except (UnicodeDecodeError, LookupError, csv.Error) as error:
        found.append(wrong(TABLE, "unreadable", file, f"it cannot be read as CSV: {error}"))
        return None
    if form is not None:
        found += _head(file, data, sheet, form)
    else:
        found += _line_ends(file, text, sheet.line_end, len(grid))
    return grid


def _line_ends(file: str, text: str, end: str, records: int) -> list[Finding]:
    """Our cells hold no line breaks, so that every one ends a record (RFC 4180 section 2.1)."""
    bare = text.replace(end, "")
    if "\r" in bare or "\n" in bare or not text.endswith(end) or records != text.count(end):
        name = "CR LF" if end == "\r\n" else "LF"
        return [wrong(TABLE, "line-ends", file, f"a record does not end in {name}")]
    return []


def _head(file: str, data: bytes, sheet: SheetEntry, form: bytes) -> list[Finding]:
    """Above our rows stand the partner's own bytes."""
    lines = form.splitlines(keepends=True) if "16" not in sheet.encoding else []
    head = b"".join(lines[: sheet.first_row - 1]).rstrip(b"\r\n")
    if data[: len(head)] != head:
        return [
            wrong(TABLE, "form-changed", file, "the lines above the rows are not the partner's own bytes")
        ]
    return []
