"""What reports told of sales: items of orders and entries of money, each once, the later word counting."""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime
from itertools import islice

from sqlalchemy import Connection, and_, delete, func, insert, or_, select

from hundredfold.results.entries import ITEM_MONEY, SUM_FIELDS, SUM_KEYS, MoneyEntry, OrderItem, SalesSum
from hundredfold.store.database import Database
from hundredfold.store.mapping import time_text
from hundredfold.store.schema import money_entries, order_items, sales_files, sales_sums

_BATCH = 5_000
COUNTED = frozenset({"views", "clicks", "advert views", "advert clicks"})
_DOUBLED = (
    "fee",
    "payment",
    "advert",
    "refund",
)  # told by an order's row and by entries of the order: once counts
_ITEM = ("key", "sku", "day", "units", "currency", *ITEM_MONEY, "order_no", "line")
_ENTRY = ("key", "item", "field", "sku", "day", "units", "currency", "amount", "order_no", "line")


@dataclass(frozen=True)
class Taken:
    """What a file brought: rows that are new, those that changed what was held, and those held already."""

    new: int
    changed: int
    known: int


@dataclass(frozen=True)
class StoredItem:
    """An order's item as it is held, and the report that said it last."""

    channel: str
    item: OrderItem
    file: str


@dataclass(frozen=True)
class StoredEntry:
    """An entry of money as it is held, and the report that said it last."""

    channel: str
    entry: MoneyEntry
    file: str


class SalesBook:
    """The tables of sales. Every method is one transaction."""

    def __init__(self, database: Database, clock: Callable[[], datetime]) -> None:
        self._database = database
        self._clock = clock

    def has_file(self, digest: str) -> bool:
        """Whether a report of this digest was read already."""
        with self._database.reading() as connection:
            return (
                connection.scalar(select(sales_files.c.number).where(sales_files.c.digest == digest))
                is not None
            )

    def take(
        self,
        channel: str,
        name: str,
        digest: str,
        kept: Iterable[OrderItem | MoneyEntry],
        own_days: bool = True,
    ) -> Taken:
        """Keep what a report says, all or nothing. ``own_days``: its days are those of the orders.

        What it does not tell stays as it was. Whatever ``kept`` raises leaves everything as it was.
        """
        with self._database.writing() as connection:
            before = _rows(connection)
            row = {"digest": digest, "name": name, "channel": channel, "at": time_text(self._clock())}
            file = connection.execute(
                insert(sales_files).values(row).returning(sales_files.c.number)
            ).scalar_one()
            items, entries = _upserts(connection, own_days)
            given = touched = 0
            waiting: list[tuple[object, ...]] = []
            rows = iter(kept)
            while batch := list(islice(rows, _BATCH)):
                given += len(batch)
                waiting = [(channel, file, *one) for one in batch if isinstance(one, OrderItem)]
                touched += _many(connection, items, waiting)
                waiting = [(channel, file, *one) for one in batch if isinstance(one, MoneyEntry)]
                touched += _many(connection, entries, waiting)
            new = _rows(connection) - before
            _add_up(connection)
        return Taken(new, touched - new, given - touched)

    def sums(self, first: str = "", last: str = "9999") -> tuple[SalesSum, ...]:
        """The sums of the months from ``first`` to ``last`` (YYYY-MM, both included)."""
        names = (*SUM_KEYS, *SUM_FIELDS)
        query = select(*(sales_sums.c[name] for name in names)).where(sales_sums.c.month.between(first, last))
        with self._database.reading() as connection:
            return tuple(
                sorted((SalesSum(*row) for row in connection.execute(query)), key=lambda one: one[:4])
            )

    def items(self, first: str, last: str) -> Iterator[StoredItem]:
        """The order items of these days (YYYY-MM-DD, both included), by day."""
        columns = [order_items.c[name] for name in _ITEM]
        query = (
            select(order_items.c.channel, sales_files.c.name, *columns)
            .join(sales_files, sales_files.c.number == order_items.c.file)
            .where(order_items.c.day.between(first, last))
            .order_by(order_items.c.day, order_items.c.channel, order_items.c.key)
        )
        with self._database.reading() as connection:
            for channel, file, *rest in connection.execute(query):
                yield StoredItem(channel, OrderItem(*rest), file)

    def entries(self, first: str, last: str) -> Iterator[StoredEntry]:
        """The entries of money of these days, by day; no counts of views."""
        columns = [money_entries.c[name] for name in _ENTRY]
        query = (
            select(money_entries.c.channel, sales_files.c.name, *columns)
            .join(sales_files, sales_files.c.number == money_entries.c.file)
            .where(money_entries.c.day.between(first, last), money_entries.c.field.not_in(COUNTED))
            .order_by(money_entries.c.day, money_entries.c.channel, money_entries.c.key)
        )
        with self._database.reading() as connection:
            for channel, file, *rest in connection.execute(query):
                yield StoredEntry(channel, MoneyEntry(*rest), file)

    def told_by_entries(self) -> frozenset[tuple[str, str, str]]:
        """Channel, order and field of what entries tell: the order's own columns do not count then."""
        with self._database.reading() as connection:
            return frozenset(tuple(row) for row in connection.execute(_TOLD))


def _rows(connection: Connection) -> int:
    return sum(
        connection.execute(select(func.count()).select_from(t)).scalar_one()
        for t in (order_items, money_entries)
    )


def _many(connection: Connection, statement: str, rows: list[tuple[object, ...]]) -> int:
    return max(0, connection.exec_driver_sql(statement, rows).rowcount) if rows else 0


def _upserts(connection: Connection, own_days: bool) -> tuple[str, str]:
    """The two statements, as the driver takes them: a million rows go through, each a bare tuple."""
    server = connection.dialect.name == "postgresql"
    mark, unlike = ("%s", "IS DISTINCT FROM") if server else ("?", "IS NOT")
    said = {name: f"COALESCE(excluded.{name}, order_items.{name})" for name in ("units", *ITEM_MONEY)}
    said |= {
        name: f"CASE WHEN excluded.{name} = '' THEN order_items.{name} ELSE excluded.{name} END"
        for name in ("sku", "currency", "order_no")
    }
    if own_days:
        said["day"] = "excluded.day"
    items = _upsert("order_items", _ITEM, said, mark, unlike)
    same = {name: f"excluded.{name}" for name in _ENTRY if name not in ("key", "line")}
    return items, _upsert("money_entries", _ENTRY, same, mark, unlike)


def _upsert(table: str, columns: tuple[str, ...], said: dict[str, str], mark: str, unlike: str) -> str:
    names = ("channel", "file", *columns)
    changes = ", ".join([f"{name} = {value}" for name, value in said.items()])
    differs = " OR ".join(f"{table}.{name} {unlike} {value}" for name, value in said.items())
    return (
        f"INSERT INTO {table} ({', '.join(names)}) VALUES ({', '.join(mark for _ in names)}) "
        f"ON CONFLICT (channel, key) DO UPDATE SET {changes}, file = excluded.file, line = excluded.line "
        f"WHERE {differs}"
    )


_TOLD = (
    select(money_entries.c.channel, money_entries.c.order_no, money_entries.c.field)
    .where(money_entries.c.order_no != "", money_entries.c.field.in_(_DOUBLED))
    .distinct()
)


_Key = tuple[str, str, str, str]
_Sums = dict[_Key, dict[str, int]]
_GROUP = (
    func.substr(order_items.c.day, 1, 7), order_items.c.channel, order_items.c.sku, order_items.c.currency
)  # fmt: skip


def _add_up(connection: Connection) -> None:
    """Make the sums anew from both tables."""
    fields = ("units", *ITEM_MONEY)
    query = select(*_GROUP, *(func.sum(order_items.c[name]) for name in fields)).group_by(*_GROUP)
    sums: _Sums = {}
    for when, channel, sku, currency, *amounts in connection.execute(query):
        told = {name: int(one) for name, one in zip(fields, amounts, strict=True) if one is not None}
        sums[when, channel, sku, currency] = told
    _without_doubled(connection, sums)
    _with_entries(connection, sums)
    connection.execute(delete(sales_sums))
    columns = sales_sums.c.keys()
    mark = "%s" if connection.dialect.name == "postgresql" else "?"
    statement = f"INSERT INTO sales_sums ({', '.join(columns)}) VALUES ({', '.join(mark for _ in columns)})"
    rows: list[tuple[object, ...]] = [(*key, *map(told.get, SUM_FIELDS)) for key, told in sums.items()]
    for start in range(0, len(rows), _BATCH):
        connection.exec_driver_sql(statement, rows[start : start + _BATCH])


def _without_doubled(connection: Connection, sums: _Sums) -> None:
    told = _TOLD.subquery()
    same = and_(told.c.channel == order_items.c.channel, told.c.order_no == order_items.c.order_no)
    for name in _DOUBLED:
        column = order_items.c[name]
        query = select(*_GROUP, func.sum(column)).join(told, and_(same, told.c.field == name))
        for *key, amount in connection.execute(query.where(column.is_not(None)).group_by(*_GROUP)):
            sums[key[0], key[1], key[2], key[3]][name] -= int(amount)


def _with_entries(connection: Connection, sums: _Sums) -> None:
    """An entry without a SKU belongs to that of its order, where the order has one alone."""
    e = money_entries.c
    single = (
        select(order_items.c.channel, order_items.c.order_no, func.min(order_items.c.sku).label("sku"))
        .where(order_items.c.order_no != "")
        .group_by(order_items.c.channel, order_items.c.order_no)
        .having(func.min(order_items.c.sku) == func.max(order_items.c.sku))
        .subquery()
    )
    month, amounts = func.substr(e.day, 1, 7), (func.sum(e.amount), func.sum(e.units))
    own = (month, e.channel, e.sku, e.currency, e.field)
    named = select(*own, *amounts).where(or_(e.sku != "", e.order_no == "")).group_by(*own)
    by_order = (month, e.channel, func.coalesce(single.c.sku, ""), e.currency, e.field)
    same = and_(single.c.channel == e.channel, single.c.order_no == e.order_no)
    nameless = select(*by_order, *amounts).outerjoin(single, same).where(e.sku == "", e.order_no != "")
    for query in (named, nameless.group_by(*by_order)):
        for when, channel, sku, currency, field, amount, units in connection.execute(query):
            told = sums.setdefault((when, channel, sku, currency), {})
            name = field.replace(" ", "_")
            told[name] = told.get(name, 0) + int(units if field in COUNTED else amount)
            if field in ("refund", "base cost"):
                told[f"{name}_units"] = told.get(f"{name}_units", 0) + int(units)
