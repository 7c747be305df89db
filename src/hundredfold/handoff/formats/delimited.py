"""Tables of text: RFC 4180, or with another separator, encoding or line end where the channel wants one."""

import csv
import io
from collections.abc import Iterable, Iterator, Sequence

from hundredfold.catalogue.sheets import Sheet, TableKind
from hundredfold.handoff.cells import Cell
from hundredfold.kernel.errors import ShopError, Where

MARKS = {"utf-8": b"\xef\xbb\xbf", "utf-16-le": b"\xff\xfe", "utf-16-be": b"\xfe\xff"}
_TOGETHER = 512  # rows encoded in one go


def head(sheet: Sheet, form: bytes = b"") -> bytes:
    """All that stands above our rows: the form's own bytes, or our lines and the header."""
    if sheet.form:
        return form_head(sheet, form)
    header = [column.header for column in sheet.columns]
    lines = [*sheet.lines_above, header, *sheet.lines_below]
    mark = MARKS.get(sheet.encoding, b"") if sheet.byte_order_mark else b""
    return mark + _encoded(sheet, lines)


def records(sheet: Sheet, rows: Iterable[Sequence[Cell]]) -> Iterator[bytes]:
    """The rows' bytes, some rows at a time; formulas made harmless."""
    block: list[list[str]] = []
    for row in rows:
        block.append([cell.as_read(TableKind.CSV) for cell in row])
        if len(block) >= _TOGETHER:
            yield _encoded(sheet, block)
            block = []
    if block:
        yield _encoded(sheet, block)


def form_head(sheet: Sheet, form: bytes) -> bytes:
    """The bytes of the partner's own file above our first row, exactly.

    Raises ShopError ``form-changed`` where it has fewer lines than that, or is not in the encoding it was.
    """
    try:
        lines = form.decode(sheet.encoding).splitlines(keepends=True)
        reader = csv.reader(lines, delimiter=sheet.separator)
        for _ in range(sheet.first_row - 1):
            next(reader)
    except (UnicodeDecodeError, StopIteration, csv.Error):
        what = f"it has no {sheet.first_row - 1} lines of {sheet.encoding} above the first row"
        fix = "learn the partner's file again: hundredfold channels learn FILE"
        raise ShopError("form-changed", what, fix, Where(sheet.form)) from None
    text = "".join(lines[: reader.line_num])
    kept = text.encode(sheet.encoding)
    return kept if text.endswith(("\n", "\r")) else kept + sheet.line_end.encode(sheet.encoding)


def _encoded(sheet: Sheet, rows: Iterable[Sequence[str]]) -> bytes:
    text = io.StringIO()
    writer = csv.writer(
        text,
        delimiter=sheet.separator,
        lineterminator=sheet.line_end,
        quoting=csv.QUOTE_ALL if sheet.quote_all else csv.QUOTE_MINIMAL,
    )
    writer.writerows(rows)
    return text.getvalue().encode(sheet.encoding)
