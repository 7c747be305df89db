"""What the other columns say of one: an address after a maker, the price on an order to a printer."""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from hundredfold.learning.meaning import meaning_of
from hundredfold.learning.seen import Proposal, SeenColumn, Surety

_WHO = frozenset({"maker", "responsible"})
_ART = frozenset({"artwork", "artwork front", "artwork back"})
_SELLING = frozenset({"title", "story", "point", "search words", "search word"})
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


def as_order(proposals: Sequence[Proposal]) -> list[Proposal]:
    """The proposals; in an order to a printer (art, but nothing that sells) a price is what the goods cost.

    A quantity is how many to print there, so that what fills it is not sure. Common practice, no source.
    """
    fields = {one.field for one in proposals}
    if not fields & _ART or fields & _SELLING:
        return list(proposals)
    found = []
    for one in proposals:
        if one.field == "price" and "base cost" not in fields:
            why = (*one.why, "and this is an order to a printer")
            one = replace(one, field="base cost", surety=Surety.LIKELY, why=why)
        if one.field == "stock":
            one = replace(one, surety=Surety.LIKELY)
        found.append(one)
    return found
