"""Fills a channel's sheet: each column's fill and options become a cell's text. Nothing is cut silently."""

import html
import re
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import date
from decimal import Decimal
from functools import lru_cache

from hundredfold.catalogue.channels import Channel
from hundredfold.catalogue.sheets import CellKind, Column, Cut, RowsOf, Sheet, TableKind, TextForm
from hundredfold.handoff.cells import Cell
from hundredfold.handoff.checks import CELLS
from hundredfold.handoff.encoding import unsayable
from hundredfold.handoff.fields import JOINS, USUAL_JOIN, Getter, RowContext, Value, getter, known_names
from hundredfold.handoff.rows import PackRow, RowRole
from hundredfold.kernel.errors import ShopError, Where
from hundredfold.kernel.findings import Finding
from hundredfold.kernel.measures import Measure, measure_of
from hundredfold.kernel.nearest import did_you_mean, nearest
from hundredfold.kernel.written import day_text, number_text
from hundredfold.learning.words import letter_of
from hundredfold.planning.listings import Action
from hundredfold.wording.clean import fit_words, one_line

_TOKEN = re.compile(r"\{\{|\}\}|\{([^{}]*)\}|[{}]")
ROLES, ACTIONS = ("head", "member", "single"), ("new", "change", "end")
# What these fields were called before.
FORMER_FIELDS = {"description": "story", "bullet": "point", "search terms": "search words"}
_ANY = "*"  # their word for all of ours that have none of their own


Fill = Callable[[RowContext], Cell]
Tokens = tuple[tuple[str, Getter | None, str], ...]  # fixed text, or a field's getter and name
_EMPTY = Cell("")


def check_sheet(channel: Channel, file: str = "") -> None:
    """Raises ShopError ``unknown-field`` or ``bad-fill`` for what no column of the channel can be."""
    for sheet in (channel.sheet, *channel.more_tables):
        for column in sheet.columns:
            for fill in (column.fill, column.if_empty):
                _tokens(fill, channel, column.header, file)
            if column.their_words and column.their_words not in channel.their_words:
                hint = did_you_mean(column.their_words, channel.their_words)
                what = f"there is no table [their_words.{column.their_words}]"
                raise ShopError("unknown-field", what, hint, Where(file, field=column.header))


def fields_in(column: Column, file: str = "") -> tuple[str, ...]:
    """The fields a column's fills name. Raises ShopError ``bad-fill`` for a brace without its partner."""
    fills = (column.fill, column.if_empty)
    return tuple(name for fill in fills for _, name in _split(fill, column.header, file) if name)


class Filler:
    """A channel's sheet ready to fill rows: what each column needs is worked out once."""

    def __init__(
        self,
        channel: Channel,
        sheet: Sheet | None = None,
        allowed: Mapping[int, frozenset[str]] | None = None,
    ) -> None:
        """``allowed`` are the only words some columns take, by 0-based column."""
        self.sheet = sheet or channel.sheet
        self._allowed = dict(allowed or {})
        self._fills = [
            (column, _compiled(column, channel, self.sheet), _row_test(column.only_for))
            for column in self.sheet.columns
        ]

    def row(self, context: RowContext) -> tuple[Cell, ...]:
        """The cells of one row in the sheet's column order."""
        return tuple(fill(context) if test(context.row) else _EMPTY for _, fill, test in self._fills)

    def problems(self, row: PackRow, cells: Sequence[Cell]) -> Iterator[Finding]:
        """What keeps a filled row out of the table."""
        sheet = self.sheet
        for at, ((column, _, test), cell) in enumerate(zip(self._fills, cells, strict=True)):
            if cell.wrong or not cell.text or column.max_chars or column.max_bytes:
                yield from _problems(column, row, cell, sheet.kind, test(row))
            choices = self._allowed.get(at)
            if cell.text and choices and cell.text not in choices:
                yield _not_allowed(row, column, at, cell.text, choices)
            letter = unsayable(sheet, cell.text)
            if letter:
                item = f"{row.sku}, column {column.header}"
                what = f'the channel\'s {sheet.encoding} has no sign for "{letter}" (U+{ord(letter):04X})'
                fix = "write it without that sign, or ask the channel whether it takes UTF-8"
                yield CELLS.finds("no-such-sign", item, what, fix)


def expand(context: RowContext, rows: RowsOf) -> Iterator[RowContext]:
    """The lines a row takes in a table: itself, or one for each of its pictures or print files."""
    if rows is RowsOf.PICTURES:
        for number, picture in enumerate(context.row.pictures, start=1):
            yield replace(context, file=picture.file, file_role=picture.role, file_number=number)
    elif rows is RowsOf.PRINT_FILES:
        for number, (area, file) in enumerate(sorted(context.row.artwork.items()), start=1):
            yield replace(context, file=file, file_role=area, file_number=number)
    else:
        yield context


def meant_for(words: Iterable[str], row: PackRow) -> bool:
    """Whether row words speak of a row: one of each kind must fit; see docs/channels.md, "Rows"."""
    return _row_test(tuple(words))(row)


@lru_cache(maxsize=4096)
def _row_test(words: tuple[str, ...]) -> Callable[[PackRow], bool]:
    if not words:
        return lambda _: True
    roles = {word for word in words if word in ROLES}
    actions = {word for word in words if word in ACTIONS}
    values: dict[str, set[str]] = {}
    for word in words:
        if word not in roles and word not in actions:
            field, _, value = word.partition(" ")
            values.setdefault(field, set()).add(value)

    def fits(row: PackRow) -> bool:
        if roles and row.role is not RowRole.SINGLE and row.role.value not in roles:
            return False
        if actions and row.action.value not in actions:
            return False
        return all(_of(row, field) in wanted for field, wanted in values.items())

    return fits


def _of(row: PackRow, field: str) -> str:
    own = {"blank": row.listing.blank, "colour": row.colour, "size": row.size, "design": row.listing.design}
    value = own.get(field, row.fields.get(field, ""))
    return value if isinstance(value, str) else ""


def _problems(column: Column, row: PackRow, cell: Cell, kind: TableKind, applies: bool) -> Iterator[Finding]:
    item = f"{row.sku}, column {column.header}"
    if cell.wrong:
        fix = "say it in the channel's file; docs/channels.md has an example"
        yield CELLS.finds("cannot-say", item, cell.wrong, fix)
    elif not cell.text and applies and _needed(column, row):
        fix = "give the value in the shop's files or mark the column as not required"
        what = "a required cell is empty"
        yield CELLS.finds("required-empty", item, what, fix)
    read = cell.as_read(kind)
    for unit, size, most in (
        ("characters", len(read), column.max_chars),
        ("bytes", len(read.encode()) if column.max_bytes else 0, column.max_bytes),
    ):
        if most is not None and size > most:
            what = f"{size} {unit} where {most} are allowed"
            key = "chars" if unit == "characters" else "bytes"
            fix = "shorten the text; nothing is cut silently"
            numbers = {key: size, f"max_{key}": most}
            yield CELLS.finds("too-long", item, what, fix, numbers)


def _not_allowed(row: PackRow, column: Column, at: int, text: str, choices: frozenset[str]) -> Finding:
    item = f"{row.sku}, column {letter_of(at)} ({column.header})"
    some = ", ".join(sorted(choices)[:4])
    what = f'"{text[:60]}" is not among the form\'s choices ({some}{", …" if len(choices) > 4 else ""})'
    near = nearest(text, choices)
    table = column.their_words or "NAME"
    fix = f'give their word for it under [their_words.{table}] and their_words = "{table}" in the column'
    return CELLS.finds("not-a-choice", item, what, f'{fix}; nearest: "{near}"' if near else fix)


def _needed(column: Column, row: PackRow) -> bool:
    if column.required_for:
        return _row_test(column.required_for)(row)
    return column.required and row.action is not Action.END and row.in_stock


def _split(fill: str, header: str, file: str) -> Iterator[tuple[str, str]]:
    """Fixed text and field names in turn: (text, "") or ("", name)."""
    at = 0
    for token in _TOKEN.finditer(fill):
        yield fill[at : token.start()], ""
        at = token.end()
        if token.group() in ("{", "}"):
            fix = "close every { with }, and double a brace you mean as itself"
            raise ShopError("bad-fill", f"{fill!r} has a single brace", fix, Where(file, field=header))
        yield ("", token.group(1).strip()) if token.group(1) is not None else (token.group()[:1], "")
    yield fill[at:], ""


def _tokens(fill: str, channel: Channel, header: str, file: str = "") -> Tokens:
    found: list[tuple[str, Getter | None, str]] = []
    for text, name in _split(fill, header, file):
        if name:
            get = getter(name, channel.extra)
            if get is None:
                former = FORMER_FIELDS.get(name.rstrip(" 0123456789"))
                hint = (
                    f"it is called {former} now: hundredfold words --new-names rewrites the shop's old names"
                    if former
                    else did_you_mean(name, known_names(channel.extra))
                )
                raise ShopError(
                    "unknown-field", f"there is no field {{{name}}}", hint, Where(file, field=header)
                )
            found.append(("", get, name))
        elif text:
            found.append((text, None, ""))
    return tuple(found)


def _compiled(column: Column, channel: Channel, sheet: Sheet) -> Fill:
    first = _filled(_tokens(column.fill, channel, column.header), column, channel, sheet)
    if not column.if_empty:
        return first
    second = _filled(_tokens(column.if_empty, channel, column.header), column, channel, sheet)

    def fill(context: RowContext) -> Cell:
        cell = first(context)
        return cell if cell.text or cell.wrong else second(context)

    return fill


def _filled(tokens: Tokens, column: Column, channel: Channel, sheet: Sheet) -> Fill:
    words = channel.their_words.get(column.their_words) if column.their_words else None
    if not any(get for _, get, _ in tokens):
        fixed = _finished("".join(text for text, _, _ in tokens), column)
        return lambda _: fixed
    if len(tokens) == 1:
        _, get, name = tokens[0]
        assert get is not None
        return _alone(get, name, column, sheet, words)

    def mixed(context: RowContext) -> Cell:
        parts, filled = [], False
        for text, get, name in tokens:
            if get is None:
                parts.append(text)
                continue
            said = _text(get(context), name, column, sheet)
            if isinstance(said, Cell):
                return said
            filled = filled or bool(said)
            parts.append(said)
        return _translated("".join(parts), column, words) if filled else _EMPTY

    return mixed


def _alone(get: Getter, name: str, column: Column, sheet: Sheet, words: Mapping[str, str] | None) -> Fill:
    numeric = column.cell is CellKind.NUMBER or (column.cell is None and name == "price")

    def fill(context: RowContext) -> Cell:
        value = get(context)
        if value is None or value == "" or value == ():
            return _translated("", column, words) if words and "" in words else _EMPTY
        if isinstance(value, tuple):
            return _listed(value, name, column, words)
        if isinstance(value, str) and words is None:
            if column.unit:
                value = measure_of(value) or value
            elif not numeric:
                return _finished(value, column)
        said = _text(value, name, column, sheet)
        if isinstance(said, Cell):
            return said
        cell = _translated(said, column, words)
        if numeric and not cell.wrong:
            return _numbered(value, cell, column)
        if column.cell is CellKind.DATE and isinstance(value, date):
            return cell._replace(day=value)
        return cell

    return fill


def _numbered(value: Value, cell: Cell, column: Column) -> Cell:
    if isinstance(value, Measure):
        value = value.within(column.unit or value.unit, column.decimals)
    if isinstance(value, str):
        try:
            return cell._replace(number=Decimal(value.strip()))
        except ArithmeticError:
            return Cell("", wrong=f'"{value[:40]}" is not a number')
    return cell._replace(number=value) if isinstance(value, Decimal) else cell


def _text(value: Value, name: str, column: Column, sheet: Sheet) -> str | Cell:
    """A value as text; a cell that says what is wrong where it cannot be written so."""
    if value is None:
        return ""
    if isinstance(value, tuple):
        return _joined(value, name, column)
    if isinstance(value, date):
        return day_text(value, column.written or sheet.days_written)
    if isinstance(value, Measure):
        if not column.unit:
            return str(value)
        amount = value.within(column.unit, column.decimals)
        if amount is None:
            return Cell("", wrong=f"{value} cannot be given in {column.unit}")
        value = amount
    if isinstance(value, Decimal):
        if column.decimals is not None:
            value = round(value, column.decimals)
        style = column.written or sheet.numbers_written
        text = number_text(value, style)
        return Cell("", wrong=f"{value:f} cannot be written like {style}") if text is None else text
    return value


def _joined(items: Iterable[str], name: str, column: Column) -> str:
    kept = [item for item in items if item and len(item) <= (column.item_chars or len(item))]
    mark = column.join if column.join is not None else JOINS.get(name, USUAL_JOIN)
    return mark.join(f"{column.prefix}{item}" for item in kept[: column.items])


def _listed(items: Sequence[str], name: str, column: Column, words: Mapping[str, str] | None) -> Cell:
    if words is not None:
        said = [_word(item, words) for item in items]
        missing = next((item for item, word in zip(items, said, strict=True) if word is None), None)
        if missing is not None:
            return Cell("", wrong=_no_word(missing, column))
        items = [word for word in said if word]
    if column.text is TextForm.HTML:
        parts = "".join(f"<li>{html.escape(one_line(item))}</li>" for item in items[: column.items] if item)
        return Cell(f"<ul>{parts}</ul>" if parts else "")
    return _shortened(one_line(_joined(items, name, column)), column)


def _translated(text: str, column: Column, words: Mapping[str, str] | None) -> Cell:
    if words is None:
        return _finished(text, column)
    word = _word(text, words)
    return Cell("", wrong=_no_word(text, column)) if word is None else _finished(word, column)


def _word(text: str, words: Mapping[str, str]) -> str | None:
    if text in words:
        return words[text]
    folded = text.casefold()
    return next((theirs for ours, theirs in words.items() if ours.casefold() == folded), words.get(_ANY))


def _no_word(text: str, column: Column) -> str:
    return f'the channel has no word for "{text}" in [their_words.{column.their_words}]'


def _finished(text: str, column: Column) -> Cell:
    if column.text is TextForm.HTML:
        paragraphs = [html.escape(one_line(part)) for part in text.split("\n") if part.strip()]
        return Cell("".join(f"<p>{part}</p>" for part in paragraphs))
    text = one_line(text)
    return _shortened(f"{column.prefix}{text}" if text else "", column)


def _shortened(text: str, column: Column) -> Cell:
    if column.cut is Cut.WORD and column.max_chars is not None:
        text = fit_words(text, column.max_chars)
    return Cell(text)
