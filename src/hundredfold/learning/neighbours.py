"""What the other columns say of one: an address after a maker, the price on an order to a printer."""

from collections.abc import Collection, Iterator, Sequence
from dataclasses import replace

from hundredfold.learning.meaning import meaning_of
from hundredfold.learning.seen import Proposal, SeenColumn, Surety
from hundredfold.learning.words import split_words

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
        sold = "sell" in meaning_of(one.column.header or one.column.key).known
        if one.field == "price" and "base cost" not in fields and not sold:
            why = (*one.why, "and this is an order to a printer")
            one = replace(one, field="base cost", surety=Surety.LIKELY, why=why)
        if one.field == "stock":
            one = replace(one, surety=Surety.LIKELY)
        found.append(one)
    return found


def as_stock_list(proposals: Sequence[Proposal], kept: Collection[int] = ()) -> list[Proposal]:
    """The proposals; what only the whole of a seller's own list tells.

    There the supplier is the seller: a supplier's number is the SKU where no column else is. A model's code
    is the family's where rows are parents and variants or the SKUs begin with it; a short description beside
    a long one is the title where none is; D beside W and H is the depth. ``kept`` columns
    stay as they are. Common practice, no source.
    """
    fields = {one.field for one in proposals}
    skus = [value for one in proposals if _own(one, fields) for value in one.column.examples]
    found = []
    for one in proposals:
        other = "" if one.column.index in kept else _told_by_the_whole(one, fields, skus)
        if other:
            why = (*one.why, f'beside the other columns it is "{other}"')
            one = replace(one, field=other, number=None, surety=Surety.LIKELY, why=why)
            fields.add(other)
        found.append(one)
    return found


def _told_by_the_whole(one: Proposal, fields: set[str], skus: Sequence[str]) -> str:
    known = meaning_of(one.column.header or one.column.key).known
    goods = bool(fields & {"blank name", *_ART})
    if "sku" not in fields and _own(one, fields):
        return "sku"
    if one.field == "blank code" and "family sku" not in fields and not goods:
        values = one.column.examples
        begun = bool(values) and all(any(sku.startswith(value) for sku in skus) for value in values)
        return "family sku" if begun or "row kind" in fields else ""
    if {"short", "story"} <= known and one.field != "title" and "title" not in fields:
        return "title" if "story" in fields and one.field != "story" else ""
    words = split_words(one.column.header)
    if one.field == "diameter" and words[:1] == ("d",) and {"width", "height"} <= fields - {"depth"}:
        return "" if "depth" in fields else "depth"
    return ""


def _own(one: Proposal, fields: set[str]) -> bool:
    """Whether this is the seller's own number: the SKU, or a supplier's where the seller supplies."""
    if one.field == "sku" or "sku" in fields:
        return one.field == "sku"
    said = meaning_of(one.column.header or one.column.key).known
    return (
        one.field == "partner code"
        and "supplier" in said
        and not fields & {"blank code", "blank name", *_ART}
    )
