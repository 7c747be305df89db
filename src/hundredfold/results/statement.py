"""Profit and loss from what reports told, line by line: every amount stands in one line and one column.

Nothing is estimated here: what no report or bill has told is not in it. A registered seller's tax is taken
out of what buyers paid, as the report says it or, where it does not, by the destination's rate, half up to
a coin a line.
"""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

from hundredfold.kernel.money import minor_digits
from hundredfold.results.amounts import PLACES
from hundredfold.results.entries import MoneyEntry, OrderItem

COLUMNS = (
    "goods sold", "postage charged", "discounts", "tax in sales", "refunds", "channel fees", "payment fees",
    "adverts", "goods bought", "postage paid", "other",
)  # fmt: skip
INCOME = 5  # so many of them are what buyers paid; the rest are costs
_OF_ENTRY = {
    "refund": 4, "fee": 5, "payment": 6, "advert": 7, "base cost": 8, "delivery": 9, "other": 10,
    "tax withheld": 10,
}  # fmt: skip
ONE = Decimal(1)


@dataclass(frozen=True)
class StatementLine:
    """One line: where it comes from, and its amounts by ``COLUMNS``, from the seller's side: costs are
    negative.

    Amounts are ten-thousandths of the currency's unit.
    """

    channel: str
    currency: str
    day: str
    order: str
    sku: str
    file: str
    row: int
    amounts: tuple[int, ...]

    @property
    def total(self) -> int:
        """What the line leaves."""
        return sum(self.amounts)


@dataclass(frozen=True)
class StatementPart:
    """One channel in one currency: its sums by ``COLUMNS``, over so many lines and pieces."""

    channel: str
    currency: str
    lines: int
    pieces: int
    sums: tuple[int, ...]

    @property
    def sold(self) -> int:
        """What buyers paid, without what was given back and the tax inside."""
        return sum(self.sums[:INCOME])

    @property
    def profit(self) -> int:
        """What is left, before what no report knows of."""
        return sum(self.sums)


def item_line(channel: str, file: str, item: OrderItem, told: frozenset[str], tax: Decimal) -> StatementLine:
    """An order's item as a line; ``told`` are costs that entries tell, ``tax`` the rate inside (0: none)."""
    amounts = [0] * len(COLUMNS)
    amounts[0], amounts[1], amounts[2] = item.paid or 0, item.postage or 0, -(item.discount or 0)
    refund = 0 if "refund" in told else item.refund or 0
    if tax:
        inside = item.tax if item.tax is not None else tax_inside(sum(amounts[:3]), tax, item.currency)
        amounts[3] = tax_inside(refund, tax, item.currency) - inside
    amounts[4] = -refund
    for at, name, cost in ((5, "fee", item.fee), (6, "payment", item.payment), (7, "advert", item.advert)):
        amounts[at] = 0 if name in told else -(cost or 0)
    return StatementLine(
        channel, item.currency, item.day, item.order or item.key, item.sku, file, item.row, tuple(amounts)
    )


def entry_line(channel: str, file: str, entry: MoneyEntry, tax: Decimal) -> StatementLine:
    """An entry of money as a line."""
    amounts = [0] * len(COLUMNS)
    amounts[_OF_ENTRY[entry.field]] = -entry.amount
    if tax and entry.field == "refund":
        amounts[3] = tax_inside(entry.amount, tax, entry.currency)
    return StatementLine(
        channel, entry.currency, entry.day, entry.order, entry.sku, file, entry.row, tuple(amounts)
    )


def tax_inside(amount: int, rate: Decimal, currency: str) -> int:
    """The tax inside an amount that includes it, half up to a coin: amount x rate / (1 + rate)."""
    coin = Decimal(10) ** (PLACES - minor_digits(currency))
    return int((amount * rate / (1 + rate) / coin).quantize(ONE, rounding=ROUND_HALF_UP) * coin)


def parts_of_statement(
    lines: Iterable[StatementLine], pieces: Callable[[str, str], int]
) -> Iterator[StatementPart]:
    """The sums by channel and currency, in their order; ``pieces`` says how many each sold."""
    sums: dict[tuple[str, str], list[int]] = {}
    counts: dict[tuple[str, str], int] = {}
    for line in lines:
        key = (line.channel, line.currency)
        held = sums.setdefault(key, [0] * len(COLUMNS))
        counts[key] = counts.get(key, 0) + 1
        for at, amount in enumerate(line.amounts):
            held[at] += amount
    for key in sorted(sums):
        yield StatementPart(*key, counts[key], pieces(*key), tuple(sums[key]))


@dataclass(frozen=True)
class Statement:
    """A shop's profit and loss of the days from ``first`` to ``last``, by channel and currency."""

    shop: str
    title: str
    first: str
    last: str
    registered: bool  # pays over the tax inside its sales
    parts: tuple[StatementPart, ...]
    lines: tuple[StatementLine, ...]
