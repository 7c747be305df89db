"""Which rows go into which of a channel's tables: it may have no way to end or change in its first one."""

from collections.abc import Iterator

from hundredfold.catalogue.channels import Asks, Channel
from hundredfold.catalogue.sheets import Column, RowsOf, Sheet, TableKind
from hundredfold.handoff.checks import ASKING
from hundredfold.handoff.rows import PackRow
from hundredfold.handoff.sheets import fields_in, meant_for
from hundredfold.kernel.findings import Finding
from hundredfold.planning.listings import Action

BY_HAND = Sheet(
    kind=TableKind.CSV,
    columns=(
        Column("Do", "{action}"),
        Column("SKU", "{sku}"),
        Column("Title", "{title}"),
        Column("Colour", "{colour name}"),
        Column("Size", "{size}"),
        Column("Price", "{price}"),
        Column("Currency", "{currency}"),
    ),
    name="do-by-hand",
)
_APART = (Asks.TABLE, Asks.BY_HAND)


def tables_of(channel: Channel) -> tuple[Sheet, ...]:
    """The channel's tables beside the first; the list of what is to be done by hand is one of them."""
    by_hand = (BY_HAND,) if Asks.BY_HAND in (channel.ends, channel.changes) else ()
    return (*channel.more_tables, *by_hand)


def in_first(row: PackRow, channel: Channel) -> bool:
    """Whether a row stands in the channel's first table."""
    if row.action is Action.END and channel.ends in _APART:
        return False
    if row.action is Action.CHANGE and channel.changes in _APART:
        return False
    return meant_for(channel.sheet.only_for, row)


def in_table(row: PackRow, sheet: Sheet, channel: Channel) -> bool:
    """Whether a row stands in one of the further tables."""
    if sheet is BY_HAND:
        ends = row.action is Action.END and channel.ends is Asks.BY_HAND
        return ends or (row.action is Action.CHANGE and channel.changes is Asks.BY_HAND)
    if row.action is Action.END and "end" not in sheet.only_for and sheet.rows is not RowsOf.VARIANTS:
        return False  # an end has no pictures and no print files
    return meant_for(sheet.only_for, row)


def cannot_ask(channel: Channel, file: str) -> Iterator[Finding]:
    """What a channel's tables have no way to say, told when the shop is opened."""
    first = _names(channel.sheet)
    asked = [
        ("end", channel.ends, "a row to end a listing would look like a new one"),
        ("change", channel.changes, "a row to change a listing would look like a new one"),
    ]
    for word, way, why in asked:
        item = f"{channel.code}: {word}"
        code = "no-end" if word == "end" else "no-change"
        if way is Asks.ROWS and "action" not in first:
            fix = (
                f'give a column fill = "{{action}}", or write {word}s = "by hand" in {file}; '
                "then a list tells you what to do yourself"
            )
            what = f"no column says what a row is for, so that {why}"
            yield ASKING.finds(code, item, what, fix)
        if way is Asks.STOCK and (word == "change" or "stock" not in first):
            fix = 'give a column fill = "{stock}"' if word == "end" else 'write changes = "rows" or "by hand"'
            what = "nothing in stock is to mean the end, and no column holds the stock"
            if word == "change":
                what = "a change cannot be said by stock"
            yield ASKING.finds(code, item, what, fix)
        if way is Asks.TABLE and not any(word in sheet.only_for for sheet in channel.more_tables):
            fix = f'add [[more_tables]] with only_for = "{word}" in {file}'
            what = f"no further table is for {word}s"
            yield ASKING.finds(code, item, what, fix)


def _names(sheet: Sheet) -> set[str]:
    return {name for column in sheet.columns for name in fields_in(column)}
