"""The statement of a month or a year for whoever does the books: a workbook, a PDF and a record."""

from calendar import monthrange
from collections.abc import Iterator
from contextlib import closing
from datetime import date
from decimal import Decimal
from pathlib import Path

from hundredfold.catalogue.charges import CollectedBy
from hundredfold.kernel.errors import ShopError
from hundredfold.kernel.money import Money
from hundredfold.results.amounts import PLACES
from hundredfold.results.statement import (
    COLUMNS,
    Statement,
    StatementLine,
    entry_line,
    item_line,
    parts_of_statement,
)
from hundredfold.runner.atomic import write_whole
from hundredfold.runner.diskerrors import writing_to
from hundredfold.store.shopstore import Store
from hundredfold.workshop.earning.statementbook import statement_book
from hundredfold.workshop.earning.statementpaper import statement_paper
from hundredfold.workshop.records.earned import StatementPartRecord, StatementView
from hundredfold.workshop.shop.folder import Shop, open_shop
from hundredfold.workshop.shop.record import open_record

CAUTION = (
    "This statement adds up what reports and bills told. It knows nothing of what they leave out: other "
    "costs, stock, "
    "private use, the rates of the day.",
    "It is no tax return and no advice. What is income, when it counts, and what tax is due differ from "
    "place to "
    "place: have it checked by somebody who is licensed to advise on it where you live.",
)


def period_of(month: str = "", year: str = "") -> tuple[str, str, str]:
    """A title and the first and last day.

    Raises ShopError ``wrong-use`` unless one of them is given and right.
    """
    fix = "say --month 2027-01 or --year 2027"
    if bool(month) == bool(year):
        raise ShopError("wrong-use", "a statement is of one month or of one year", fix)
    try:
        if year:
            first = date(int(year), 1, 1)
            return year, first.isoformat(), date(first.year, 12, 31).isoformat()
        first = date.fromisoformat(f"{month}-01")
        return month, first.isoformat(), first.replace(day=monthrange(first.year, first.month)[1]).isoformat()
    except ValueError:
        raise ShopError("wrong-use", f"{month or year!r} is no {'month' if month else 'year'}", fix) from None


def statement_of(folder: Path, month: str = "", year: str = "") -> Statement:
    """Read it from the record; no lock is taken. Raises ShopError ``wrong-use``, and what opening raises."""
    title, first, last = period_of(month, year)
    shop = open_shop(folder)
    with closing(open_record(shop.paths)) as store:
        lines = tuple(_lines(shop, store, first, last))
        sums = store.sales.sums(first[:7], last[:7])
    pieces: dict[tuple[str, str], int] = {}
    for one in sums:
        pieces[one.channel, one.currency] = pieces.get((one.channel, one.currency), 0) + (one.units or 0)
    parts = tuple(parts_of_statement(lines, lambda channel, currency: pieces.get((channel, currency), 0)))
    settings = shop.settings
    return Statement(settings.name, title, first, last, settings.tax_registered, parts, lines)


def _lines(shop: Shop, store: Store, first: str, last: str) -> Iterator[StatementLine]:
    taxes = {channel.code: _tax(shop, channel.code) for channel in shop.channels}
    told: dict[tuple[str, str], set[str]] = {}
    for channel, order, field in store.sales.told_by_entries():
        told.setdefault((channel, order), set()).add(field)
    nothing: frozenset[str] = frozenset()
    for item in store.sales.items(first, last):
        order = item.item.order
        beside = frozenset(told.get((item.channel, order), nothing)) if order else nothing
        yield item_line(item.channel, item.file, item.item, beside, taxes.get(item.channel, Decimal(0)))
    for entry in store.sales.entries(first, last):
        yield entry_line(entry.channel, entry.file, entry.entry, taxes.get(entry.channel, Decimal(0)))


def _tax(shop: Shop, code: str) -> Decimal:
    """The rate of tax inside a channel's prices that the seller pays over; 0 for none."""
    channel = shop.channel(code)
    places = channel.charges.destinations
    named = [place for place in places if place.code == channel.destination]
    place = next(iter((*named, *places)), None)
    if place is None or not shop.settings.tax_registered or not place.tax_included:
        return Decimal(0)
    return place.tax if place.collected_by in (CollectedBy.SELLER, CollectedBy.CHANNEL) else Decimal(0)


def cautions(statement: Statement) -> tuple[str, ...]:
    """What is to be said with the sums: whose goods no bill has told of, and where to have it checked."""
    goods = COLUMNS.index("goods bought")
    bare = [one.channel for one in statement.parts if one.pieces and not one.sums[goods]]
    if not bare:
        return CAUTION
    names = ", ".join(dict.fromkeys(bare))
    bill = "no bill told of what the goods cost, so their cost is missing here (sales add FILE --bill)."
    return (f"Of {names} {bill}", *CAUTION)


def write_statement(statement: Statement, folder: Path) -> tuple[Path, Path]:
    """Write the workbook and the PDF, each whole or not at all. Raises what the disk raises."""
    book, paper = (folder / f"statement-{statement.title}.{kind}" for kind in ("xlsx", "pdf"))
    with writing_to(folder):
        folder.mkdir(parents=True, exist_ok=True)
        write_whole(book, statement_book(statement, cautions(statement)))
        write_whole(paper, statement_paper(statement, cautions(statement)))
    return book, paper


def statement_view(statement: Statement) -> StatementView:
    """The statement as a record; its lines are in the workbook."""

    def plain(amount: int, currency: str) -> str:
        return Money(Decimal(amount).scaleb(-PLACES), currency).plain()

    parts = tuple(
        StatementPartRecord(
            one.channel,
            one.currency,
            one.lines,
            one.pieces,
            {
                name: plain(amount, one.currency)
                for name, amount in zip(COLUMNS, one.sums, strict=True)
                if amount
            },
            plain(one.sold, one.currency),
            plain(one.profit, one.currency),
        )
        for one in statement.parts
    )
    return StatementView(
        statement.shop,
        statement.title,
        statement.first,
        statement.last,
        statement.registered,
        parts,
        cautions(statement),
    )
