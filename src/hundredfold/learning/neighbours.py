"""Headings that lean on the one before them: Manufacturer, Address, E-mail."""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from hundredfold.learning.meaning import meaning_of
from hundredfold.learning.seen import SeenColumn

_WHO = frozenset({"maker", "responsible"})
_LEANING = frozenset({"address", "contact", "name", "url"})


def with_neighbours(columns: Sequence[SeenColumn]) -> Iterator[SeenColumn]:
    """The columns; a bare "Address" or "E-mail" is grouped under the person named just before it."""
    who = ""
    for column in columns:
        known = meaning_of(column.header or column.key).known
        if known & _WHO:
            who = column.header or column.key
        elif not known or not known <= _LEANING:
            who = ""
        elif who and not column.group:
            column = replace(column, group=who)
        yield column
