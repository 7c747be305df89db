"""The fields a fill may name: what each gives for a row; docs/channels.md shows the same table (tested)."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date
from decimal import ROUND_HALF_UP, ROUND_UP, Decimal

from hundredfold.catalogue.channels import Channel
from hundredfold.handoff.rows import PackRow
from hundredfold.kernel.measures import Measure
from hundredfold.kernel.money import minor_digits
from hundredfold.planning.listings import Action

# A text, a number, a day, a measure, or a list of texts; None is nothing.
Value = str | Decimal | date | Measure | tuple[str, ...] | None

FIELDS: tuple[tuple[str, str], ...] = (
    ("sku", "our SKU of the row"),
    ("family sku", "the SKU of the family head; empty where the channel has no families"),
    ("role", "head, member or single"),
    ("action", "new, change or end"),
    ("revision", "1 for a new listing, one more with each change"),
    ("title", "the listing's title"),
    ("story", "the listing's text"),
    ("points", "all points, a list"),
    ("point N", "the Nth point"),
    ("search words", "all search words, a list; apart by spaces where nothing else is said"),
    ("search word N", "the Nth search word"),
    ("price", "the price, like 14.95; a number in XLSX"),
    ("price in CUR", "the price in another currency by the shop's rate, rounded up: `{price in EUR}`"),
    ("price without tax", "the price less the tax that is in it at the channel's destination"),
    ("currency", "the channel's currency code"),
    ("stock", "the channel's `stock` where the variant can be had, else 0; 0 on an end row"),
    ("design", "the design's id"),
    ("design title", "the design's own title"),
    ("keywords", "the design's keywords, a list"),
    ("niche", "the design's niche"),
    ("occasion", "the design's occasion"),
    ("blank", "the blank's code"),
    ("blank name", "the blank's name"),
    ("form", "the kind of goods: mug, t-shirt"),
    ("material", "what the blank is made of"),
    ("process", "how it is decorated"),
    ("partner code", "the partner's own code of the variant, for the channel's destination where it has one"),
    ("colour", "the colour's code"),
    ("colour name", "the colour's name"),
    ("size", "the size"),
    ("width", "how wide the thing is, in the column's `unit`"),
    ("height", "how high"),
    ("diameter", "its outer diameter"),
    ("capacity", "what it holds"),
    ("barcode", "the variant's own barcode, else one of your bought list"),
    (
        "value NAME",
        "what the variant, size, colour, blank, channel or shop says under that name in `[values]`",
    ),
    ("shop", "the shop's name"),
    ("language", "the channel's language"),
    ("destination", "the country the channel's goods go to"),
    ("date", "the day of the pack"),
    ("artwork AREA", "the file of the art for that print area, like `{artwork front}`"),
    ("artwork", "all files of art, a list"),
    ("areas", "the print areas that have art, a list"),
    ("picture N", "the file of the Nth picture; 1 is the main one"),
    ("pictures", "all picture files, a list"),
    ("other pictures", "all picture files but the first, a list"),
    ("file", "in a table of pictures or print files: the row's file"),
    ("file role", "main or more of a picture, the print area of a print file"),
    ("file number", "which of the row's files it is, from 1"),
    ("extra NAME", "a fixed word from the channel's own [extra] table"),
)
# How a list is joined where the column does not say.
JOINS = {"search words": " ", "keywords": ", ", "points": " "}
USUAL_JOIN = ";"


@dataclass(frozen=True)
class RowContext:
    """A row and what its cells follow from; ``file`` is set in tables of pictures or print files."""

    row: PackRow
    channel: Channel
    day: date
    family_sku: str = ""
    rates: Mapping[tuple[str, str], Decimal] | None = None
    tax: Decimal | None = None  # in the price, at the channel's destination
    file: str = ""
    file_role: str = ""
    file_number: int = 0


Getter = Callable[[RowContext], Value]


def getter(name: str, extra: Mapping[str, str]) -> Getter | None:
    """What gives a field's value; None for a field there is not."""
    if name in _PLAIN:
        return _PLAIN[name]
    if name in _WORDS:
        return lambda context: context.row.fields.get(name)
    kind, _, rest = name.partition(" ")
    if kind == "extra":
        word = extra.get(rest)
        return None if word is None else lambda _: word
    if kind == "artwork" and rest:
        return lambda context: context.row.artwork.get(rest)
    if kind == "value" and rest:
        return lambda context: context.row.values.get(rest)
    if name.startswith("price in ") and len(name) == 12 and name[9:].isupper():
        return lambda context: _in_currency(context, name[9:])
    start, _, number = name.rpartition(" ")
    if number.isdecimal() and int(number) >= 1 and start in _LISTS:
        place = int(number) - 1
        whole = _LISTS[start]
        return lambda context: _nth(whole(context), place)
    return None


def known_names(extra: Mapping[str, str]) -> list[str]:
    """Names to suggest for one that is not known."""
    numbered = [f"{start} {n}" for start in _LISTS for n in range(1, 10)]
    return sorted({*_PLAIN, *_WORDS, *numbered, *(f"extra {name}" for name in extra)})


def _nth(items: tuple[str, ...], place: int) -> str | None:
    return items[place] if place < len(items) else None


def _list(name: str) -> Callable[[RowContext], tuple[str, ...]]:
    def items(context: RowContext) -> tuple[str, ...]:
        value = context.row.fields.get(name, ())
        return value if isinstance(value, tuple) else (value,) if value else ()

    return items


def _pictures(context: RowContext) -> tuple[str, ...]:
    return tuple(picture.file for picture in context.row.pictures)


def _in_currency(context: RowContext, currency: str) -> Decimal | None:
    price, rates = context.row.price, context.rates or {}
    if price is None:
        return None
    rate = Decimal(1) if currency == price.currency else rates.get((price.currency, currency))
    if rate is None:
        back = rates.get((currency, price.currency))
        rate = 1 / back if back else None
    return None if rate is None else _minor(price.amount * rate, currency, ROUND_UP)


def _without_tax(context: RowContext) -> Decimal | None:
    price = context.row.price
    if price is None or context.tax is None:
        return None
    return _minor(price.amount / (1 + context.tax), price.currency, ROUND_HALF_UP)


def _minor(amount: Decimal, currency: str, rounding: str) -> Decimal:
    return amount.quantize(Decimal(1).scaleb(-minor_digits(currency)), rounding)


def _stock(context: RowContext) -> Decimal:
    gone = context.row.action is Action.END or not context.row.in_stock
    return Decimal(0 if gone else context.channel.stock)


def _measure(name: str) -> Getter:
    return lambda context: context.row.measures.get(name)


_LISTS: dict[str, Callable[[RowContext], tuple[str, ...]]] = {
    "point": _list("points"),
    "search word": _list("search words"),
    "picture": _pictures,
    "keyword": _list("keywords"),
}
# Texts that are made with the row: handoff/rows.py.
_WORDS = frozenset(
    {
        "title", "story", "design title", "niche", "occasion", "blank name", "form", "material", "process",
        "partner code", "colour name", "shop", "barcode",
    }
)  # fmt: skip
_PLAIN: dict[str, Getter] = {
    "sku": lambda c: c.row.sku,
    "family sku": lambda c: c.family_sku,
    "role": lambda c: c.row.role.value,
    "action": lambda c: c.row.action.value,
    "revision": lambda c: Decimal(c.row.revision),
    "points": _list("points"),
    "search words": _list("search words"),
    "keywords": _list("keywords"),
    "price": lambda c: c.row.price.amount if c.row.price else None,
    "price without tax": _without_tax,
    "currency": lambda c: c.row.price.currency if c.row.price else None,
    "stock": _stock,
    "design": lambda c: c.row.listing.design,
    "blank": lambda c: c.row.listing.blank,
    "colour": lambda c: c.row.colour,
    "size": lambda c: c.row.size,
    "width": _measure("width"),
    "height": _measure("height"),
    "diameter": _measure("diameter"),
    "capacity": _measure("capacity"),
    "language": lambda c: c.channel.language,
    "destination": lambda c: c.channel.destination,
    "date": lambda c: c.day,
    "artwork": lambda c: tuple(sorted(set(c.row.artwork.values()))),
    "areas": lambda c: tuple(sorted(c.row.artwork)),
    "pictures": _pictures,
    "other pictures": lambda c: _pictures(c)[1:],
    "file": lambda c: c.file,
    "file role": lambda c: c.file_role,
    "file number": lambda c: Decimal(c.file_number) if c.file_number else None,
}
