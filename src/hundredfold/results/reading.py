"""From the rows of a report to what is kept of them. Start here: ``read_rows``."""

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from typing import Any

from hundredfold.kernel.findings import Finding
from hundredfold.results.amounts import UNIT
from hundredfold.results.cellreading import ReportCells, RowError
from hundredfold.results.checks import ROW
from hundredfold.results.entries import MoneyEntry, OrderItem
from hundredfold.results.forms import ReportForm
from hundredfold.results.survey import Row
from hundredfold.results.typewords import RowKind, both_say

_MOST_TOLD = 50  # rows that are told one by one; of further ones, how many
# Kinds of money beside a sale, by the field that holds them.
FIELD_OF = {
    RowKind.FEE: "fee", RowKind.PAYMENT: "payment", RowKind.ADVERT: "advert", RowKind.REFUND: "refund",
    RowKind.POSTAGE: "delivery", RowKind.TAX: "tax withheld", RowKind.DISCOUNT: "other",
    RowKind.OTHER: "other",
}  # fmt: skip
Kept = OrderItem | MoneyEntry


@dataclass
class RowsTold:
    """What happened to the rows: how many were used, which were not and why."""

    file: str
    used: int = 0
    moved: int = 0  # payouts and the like: money that was earned elsewhere
    again: int = 0  # items told twice in this file
    troubles: list[tuple[int, str]] = field(default_factory=list)
    trouble_rows: int = 0

    def trouble(self, row: int, why: str) -> None:
        """A row that cannot be used."""
        self.trouble_rows += 1
        if len(self.troubles) < _MOST_TOLD:
            self.troubles.append((row, why))

    def findings(self) -> Iterator[Finding]:
        """The rows that could not be used."""
        fix = "correct the row and add the file again; the other rows are done"
        for row, why in self.troubles:
            yield ROW.finds("unusable", f"{self.file}, row {row}", why, fix)
        if self.trouble_rows > len(self.troubles):
            more = self.trouble_rows - len(self.troubles)
            yield ROW.finds("unusable", self.file, f"{more} further rows cannot be used either", fix)


def read_rows(form: ReportForm, cells: ReportCells, rows: Iterable[Row], told: RowsTold) -> Iterator[Kept]:
    """What the rows of one section say; rows that say nothing usable are told and left out."""
    section = _SECTIONS[form](cells)
    for number, row in rows:
        try:
            kept = section.read(number, row)
            kept = None if kept is None else tuple(kept)
        except RowError as trouble:
            told.trouble(number, str(trouble))
            continue
        if kept is None:
            told.moved += 1
            continue
        told.used += 1
        yield from kept
    yield from section.rest()


class _Section:
    """A section being read. What has to be added up over rows is held until the end."""

    def __init__(self, cells: ReportCells) -> None:
        self.cells = cells
        self._times: Counter[str] = Counter()
        self._sums: dict[str, MoneyEntry] = {}

    def read(self, number: int, row: Sequence[str]) -> Iterable[Kept] | None:
        raise NotImplementedError

    def rest(self) -> Iterator[Kept]:
        yield from self._sums.values()

    def item_key(self, row: Sequence[str], sku: str) -> str:
        """Which item of which order it is; "" where the report has neither order nor movement."""
        order = self.cells.text(row, "order")
        if order:
            return f"{order}/{self.cells.text(row, 'item') or sku}"
        return ""

    def nth(self, key: str) -> str:
        """Rows without a number of their own are told apart by what they say and how often it was said."""
        self._times[key] += 1
        return f"{key}|{self._times[key]}"

    def add(self, entry: MoneyEntry) -> None:
        """Entries of one key in one file are parts of one sum."""
        held = self._sums.get(entry.key)
        if held is not None:
            entry = held._replace(amount=held.amount + entry.amount, units=held.units + entry.units)
        self._sums[entry.key] = entry

    def entry(self, row: Sequence[str], number: int, name: str, amount: int, units: int = 0) -> MoneyEntry:
        cells = self.cells
        sku, day = cells.sku(row), cells.day(row)
        item, own = self.item_key(row, sku), cells.text(row, "transaction")
        if own:
            key = f"{own}|{name}"
        elif item:
            key = f"{item}|{name}|{day}|{cells.text(row, 'what')[:40] if cells.how.types_in_what else ''}"
        else:
            key = self.nth(f"|{name}|{day}|{sku}|{amount}")
        order = cells.text(row, "order")
        return MoneyEntry(key, item, name, sku, day, units, cells.currency(row), amount, order, number)


class _Orders(_Section):
    """A row an item of an order, or of a type that the report has a column for."""

    def read(self, number: int, row: Sequence[str]) -> Iterable[Kept] | None:
        cells = self.cells
        kind = RowKind.SALE
        if cells.has("kind"):
            word = cells.text(row, "kind")
            kind = cells.kind(word)
            if kind is RowKind.UNKNOWN and word:
                raise RowError(f'"{word[:40]}" is no type of row that is known')
        elif cells.has("status") and cells.kind(cells.text(row, "status")) in (
            RowKind.CANCELLED,
            RowKind.REFUND,
        ):
            kind = cells.kind(cells.text(row, "status"))
        if kind is RowKind.PAYOUT:
            return None
        if kind in (RowKind.SALE, RowKind.UNKNOWN, RowKind.CANCELLED):
            return self._sale(number, row, kind is RowKind.CANCELLED)
        if kind is RowKind.REFUND:
            return self._refund(number, row)
        return self._other(number, row, kind)

    def _sale(self, number: int, row: Sequence[str], cancelled: bool) -> Iterable[Kept]:
        cells = self.cells
        sku, day, units = cells.sku(row), cells.day(row), cells.units(row)
        paid = self._paid(row, units)
        if not cancelled and ((units or 0) < 0 or (paid or 0) < 0):
            return self._refund(number, row)
        if paid is None and cells.amount(row, "refund") is None:
            raise RowError("it says no amount")
        key = (
            self.item_key(row, sku)
            or cells.text(row, "transaction")
            or self.nth(f"{day}|{sku}|{paid}|{units}")
        )
        discount = cells.amount(row, "discount")
        item = OrderItem(
            key, sku, day, 1 if units is None else units, cells.currency(row), paid,
            cells.amount(row, "postage"),
            None if discount is None else abs(discount), cells.amount(row, "tax"), cells.cost(row, "fee"),
            cells.cost(row, "payment"), cells.cost(row, "advert"), cells.cost(row, "refund"),
            cells.text(row, "order"), number,
        )  # fmt: skip
        if cancelled:
            none: dict[str, Any] = {name: 0 for name in item._fields[5:13] if getattr(item, name) is not None}
            item = item._replace(units=0, **none)
        return (item,)

    def _paid(self, row: Sequence[str], units: int | None) -> int | None:
        """What was paid for the goods: its own column, or price by pieces, or the total less postage."""
        cells = self.cells
        paid = cells.amount(row, "paid")
        if paid is not None:
            return paid
        price = cells.amount(row, "price")
        if price is not None:
            return price if cells.how.price_is_total or units is None else price * units
        each = cells.amount(row, "unit price")
        if each is not None:
            return each * (1 if units is None else units)
        total = cells.amount(row, "total")
        if total is not None:
            return total - (cells.amount(row, "postage") or 0)
        return cells.amount(row, "amount")

    def _refund(self, number: int, row: Sequence[str]) -> Iterable[Kept]:
        """Money given back, and what came back of the channel's charges with it."""
        cells = self.cells
        units = cells.units(row) or 0
        gave = cells.cost(row, "refund")
        if not gave:
            paid = self._paid(row, abs(units) or None) or 0
            gave = abs(paid) + abs(cells.amount(row, "postage") or 0)
        self.add(self.entry(row, number, "refund", gave, abs(units)))
        for name in ("fee", "payment", "advert"):
            amount = cells.cost(row, name)
            if amount:
                self.add(self.entry(row, number, name, -abs(amount)))
        return ()

    def _other(self, number: int, row: Sequence[str], kind: RowKind) -> Iterable[Kept]:
        cells, name = self.cells, FIELD_OF[kind]
        columns = (name, "amount", "net", "total", "paid", "price", "unit price", "fee")
        found = next(((c, a) for c in columns if (a := cells.amount(row, c))), None)
        if found is None:
            raise RowError("it says no amount")
        column, amount = found
        negative = column in cells.how.negative if column in ("fee", "payment", "advert") else (
            kind.value in cells.how.negative)  # fmt: skip
        self.add(
            self.entry(
                row, number, name, -amount if negative or name in ("other", "tax withheld") else amount
            )
        )
        return ()


class _Money(_Section):
    """A row a movement of money; what a sale came to is the sum of its rows."""

    def __init__(self, cells: ReportCells) -> None:
        super().__init__(cells)
        self._items: dict[str, OrderItem] = {}

    def read(self, number: int, row: Sequence[str]) -> Iterable[Kept] | None:
        cells = self.cells
        kind = self._kind(row)
        amount = cells.amount(row, "amount")
        if kind is RowKind.PAYOUT:
            return None
        if amount is None:
            raise RowError("it says no amount")
        if self._of_sale(kind, amount, bool(cells.text(row, "order"))):
            self._sale(number, row, kind, amount)
            self._with_fee(number, row)
            return ()
        name = FIELD_OF[kind]
        turned = kind.value in cells.how.negative or name in ("other", "tax withheld") or (
            kind is RowKind.POSTAGE and "fee" in cells.how.negative)  # fmt: skip
        cost = -amount if turned else amount
        self.add(self.entry(row, number, name, cost, abs(cells.units(row) or 0) if name == "refund" else 0))
        self._with_fee(number, row)
        return ()

    def _of_sale(self, kind: RowKind, amount: int, ordered: bool) -> bool:
        """Whether the amount is a part of what the buyer paid; postage taken from us is not."""
        if kind is RowKind.POSTAGE and amount < 0 and "fee" in self.cells.how.negative:
            return False
        return kind is RowKind.SALE or (ordered and kind in (RowKind.POSTAGE, RowKind.DISCOUNT))

    def _kind(self, row: Sequence[str]) -> RowKind:
        cells = self.cells
        word, more = cells.text(row, "kind"), cells.text(row, "what") if cells.how.types_in_what else ""
        kind = cells.kind(word) if word else RowKind.UNKNOWN
        meant = cells.kind(more) if more else RowKind.UNKNOWN
        kind = both_say(kind, meant)
        if kind in (RowKind.UNKNOWN, RowKind.CANCELLED):
            raise RowError(f'"{(word or more)[:40]}" is no type of row that is known')
        return kind

    def _sale(self, number: int, row: Sequence[str], kind: RowKind, amount: int) -> None:
        cells = self.cells
        sku, day = cells.sku(row), cells.day(row)
        key = self.item_key(row, sku) or cells.text(row, "transaction") or self.nth(f"{day}|{sku}|{amount}")
        held = self._items.get(key) or OrderItem(
            key, sku, day, None, cells.currency(row), order=cells.text(row, "order"), row=number
        )
        if kind is RowKind.SALE:
            units = cells.units(row)
            pieces = (held.units or 0) + (1 if units is None and not held.units else units or 0)
            held = held._replace(paid=(held.paid or 0) + amount, units=pieces)
        elif kind is RowKind.POSTAGE:
            held = held._replace(postage=(held.postage or 0) + amount)
        else:
            held = held._replace(discount=(held.discount or 0) + abs(amount))
        self._items[key] = held

    def _with_fee(self, number: int, row: Sequence[str]) -> None:
        """A column of fees beside the amounts."""
        for name in ("fee", "payment"):
            cost = self.cells.cost(row, name)
            if cost:
                self.add(self.entry(row, number, name, cost))

    def rest(self) -> Iterator[Kept]:
        yield from self._items.values()
        yield from super().rest()


class _Adverts(_Section):
    """What adverts cost, and how often they were seen; sales claimed for them are not sales anew."""

    def read(self, number: int, row: Sequence[str]) -> Iterable[Kept] | None:
        cells = self.cells
        spent = cells.cost(row, "advert")
        sku, day = cells.sku(row), cells.day(row)
        if spent is not None:
            self.add(
                MoneyEntry(
                    f"|advert|{day}|{sku}", "", "advert", sku, day, 0, cells.currency(row), spent, "", number
                )
            )
        _views(self, number, row, "advert ")
        return ()


class _Views(_Section):
    """How often a listing was looked at."""

    def read(self, number: int, row: Sequence[str]) -> Iterable[Kept] | None:
        _views(self, number, row, "")
        return ()


def _views(section: _Section, number: int, row: Sequence[str], prefix: str) -> None:
    cells = section.cells
    sku, day = cells.sku(row), cells.day(row)
    for name in ("views", "clicks"):
        count = cells.amount(row, name)
        if count:
            key = f"|{prefix}{name}|{day}|{sku}"
            section.add(MoneyEntry(key, "", prefix + name, sku, day, count // UNIT, "", 0, "", number))


class _Bill(_Section):
    """What the partner who makes the goods charged for an item of an order."""

    def read(self, number: int, row: Sequence[str]) -> Iterable[Kept] | None:
        cells = self.cells
        units = cells.units(row)
        pieces = 1 if units is None else units
        base = cells.amount(row, "base cost")
        if base is None:
            base = next((a for c in ("paid", "price") if (a := cells.amount(row, c)) is not None), None)
            if (
                base is not None
                and cells.has("price")
                and not cells.has("paid")
                and not cells.how.price_is_total
            ):
                base *= pieces
        if base is None and (each := cells.amount(row, "unit price")) is not None:
            base = each * pieces
        if base is None:
            base = next((a for c in ("total", "amount") if (a := cells.amount(row, c)) is not None), None)
            base = None if base is None else base - (cells.amount(row, "postage") or 0)
        if base is None:
            raise RowError("it says no amount")
        self.add(self.entry(row, number, "base cost", base, pieces))
        postage = cells.amount(row, "postage")
        if postage:
            self.add(self.entry(row, number, "delivery", postage))
        return ()


_SECTIONS: dict[ReportForm, type[_Section]] = {
    ReportForm.ORDERS: _Orders,
    ReportForm.MONEY: _Money,
    ReportForm.ADVERTS: _Adverts,
    ReportForm.VIEWS: _Views,
    ReportForm.BILL: _Bill,
}
