"""A partner's own file as the base of a table: that it is still the one learned, and what it allows."""

from collections.abc import Mapping

from hundredfold.catalogue.channels import Channel
from hundredfold.catalogue.sheets import Sheet, TableKind
from hundredfold.handoff.sheets import Filler
from hundredfold.kernel.errors import ShopError, Where
from hundredfold.learning import delimited
from hundredfold.learning.sheet import Seen
from hundredfold.learning.words import letter_of
from hundredfold.learning.workbook import Workbook

_AGAIN = "learn it again (hundredfold channels learn FILE), or put the file back that was learned"


def form_seen(sheet: Sheet, form: bytes) -> Seen:
    """The worksheet that is filled.

    Raises ShopError ``form-missing``, ``form-changed``, ``not-a-spreadsheet``.
    """
    if not form:
        raise ShopError("form-missing", "the partner's own file is not there", _AGAIN, Where(sheet.form))
    if sheet.kind is TableKind.CSV:
        return delimited.see(form, sheet.form, sheet.encoding)[0]
    for seen in Workbook(sheet.form, form).seen():
        if seen.name == sheet.worksheet:
            return seen
    what = f'it has no worksheet "{sheet.worksheet}"'
    raise ShopError("form-changed", what, _AGAIN, Where(sheet.form))


def check_form(sheet: Sheet, form: bytes) -> None:
    """Raises ShopError ``form-changed`` where no row above ours holds the headings of the channel's file."""
    if not sheet.form:
        return
    seen = form_seen(sheet, form)
    wanted = {at: column.header for at, column in enumerate(sheet.columns) if column.header}
    best: tuple[int, int] = (-1, 0)
    for row in range(min(sheet.first_row - 1, len(seen.rows))):
        hits = sum(seen.text(row, at) == header.strip() for at, header in wanted.items())
        best = max(best, (hits, -row))
    hits, row = best[0], -best[1]
    if hits < len(wanted):
        at = next(at for at, header in wanted.items() if seen.text(row, at) != header.strip())
        there = seen.text(row, at) or "nothing"
        cell = f"{letter_of(at)}{row + 1}"
        what = f'cell {cell} says "{there}", where the channel\'s file has "{wanted[at]}"'
        raise ShopError("form-changed", what, _AGAIN, Where(sheet.form, row=row + 1))


def sheet_filler(channel: Channel, sheet: Sheet, forms: Mapping[str, bytes]) -> Filler:
    """What fills the sheet; a form's drop-down lists are kept to."""
    if not sheet.form or sheet.kind is TableKind.CSV:
        return Filler(channel, sheet)
    seen = form_seen(sheet, forms.get(sheet.form, b""))
    return Filler(channel, sheet, {at: frozenset(words) for at, words in seen.allowed.items()})
