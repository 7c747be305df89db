"""What each SKU earned: what reports told, and the plan where none has told yet. Start here: ``earned_of``.

What is really charged takes the place of the estimate part by part. Fee, payment, goods and delivery are
told of a SKU and a month; adverts and refunds fall on some pieces only, so that a channel's month that
tells of any has told of all.
"""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from decimal import ROUND_DOWN, Decimal
from typing import Any

from hundredfold.kernel.money import minor_digits
from hundredfold.pricing.sale import Sums
from hundredfold.results.amounts import PLACES
from hundredfold.results.entries import SalesSum
from hundredfold.results.piece import PARTS, Piece, piece_of

ZERO = Decimal(0)
Convert = Callable[[str, str], Decimal | None]  # what one unit of a currency is in another; None for no rate


@dataclass(frozen=True)
class Earned:
    """One SKU's month in a channel, in ten-thousandths of its currency's unit.

    ``costs`` and ``planned_costs`` are the PARTS, ``estimated`` says which of the costs no report has told
    yet. ``planned`` is what the same pieces at the same prices would have earned by the plan; both are None
    of a SKU without a plan.
    """

    month: str
    channel: str
    sku: str
    currency: str
    units: int
    income: Decimal
    costs: tuple[Decimal, ...]
    profit: Decimal
    planned_income: Decimal | None = None
    planned_costs: tuple[Decimal, ...] | None = None
    planned: Decimal | None = None
    estimated: frozenset[str] = frozenset()
    returned: int = 0
    views: int = 0
    clicks: int = 0


@dataclass(frozen=True)
class MonthsTold:
    """Which channels' months have told of adverts and of refunds."""

    adverts: frozenset[tuple[str, str]]
    refunds: frozenset[tuple[str, str]]


def told_by(sums: Iterable[SalesSum]) -> MonthsTold:
    """What the reports have told of whole months."""
    rows = tuple(sums)
    return MonthsTold(
        frozenset((one.channel, one.month) for one in rows if one.advert is not None),
        frozenset((one.channel, one.month) for one in rows if one.refund is not None),
    )


def earned_of(
    sums: Iterable[SalesSum], plans: Callable[[str], Sums | None], convert: Convert
) -> tuple[list[Earned], list[str]]:
    """The results, and the currencies that a bill came in and no rate is known for.

    ``plans`` gives a SKU's plan, None for a SKU that is none of the shop's.
    """
    rows = tuple(sums)
    told = told_by(rows)
    reckoner = _Reckoner(plans, told)
    found: list[Earned] = []
    missing: set[str] = set()
    for one in _merged(rows, convert, missing):
        found.append(reckoner.earned(one))
    return found, sorted(missing)


def _merged(rows: Iterable[SalesSum], convert: Convert, missing: set[str]) -> Iterable[SalesSum]:
    """Each SKU's month in one currency: that it was sold in. A bill in another one is converted."""
    groups: dict[tuple[str, str, str], list[SalesSum]] = {}
    for one in rows:
        groups.setdefault(one[:3], []).append(one)
    for group in groups.values():
        if len(group) == 1:
            yield group[0]
            continue
        sold = [one for one in group if one.units is not None and one.currency]
        others = [one for one in group if one not in sold]
        first = sold[0] if sold else next((one for one in others if one.currency), others[0])
        for more in others:
            if more is not first:
                first = _with(first, more, convert, missing)
        yield first
        yield from sold[1:]


_COUNTS = ("refund_units", "base_cost_units", "views", "clicks", "advert_views", "advert_clicks")
_BILLED = ("fee", "payment", "advert", "refund", "base_cost", "delivery", "tax_withheld", "other")


def _with(first: SalesSum, more: SalesSum, convert: Convert, missing: set[str]) -> SalesSum:
    rate = Decimal(1) if not more.currency else convert(more.currency, first.currency)
    if rate is None:
        missing.add(more.currency)
        return first
    changes: dict[str, Any] = {}
    for name in (*_COUNTS, *_BILLED):
        amount = getattr(more, name)
        if amount is not None:
            add = amount if name in _COUNTS else round(amount * rate)
            changes[name] = (getattr(first, name) or 0) + add
    return first._replace(**changes)


class _Reckoner:
    def __init__(self, plans: Callable[[str], Sums | None], told: MonthsTold) -> None:
        self._plans, self._told = plans, told
        self._sums: dict[str, Sums | None] = {}
        self._pieces: dict[tuple[int, int], Piece] = {}

    def earned(self, one: SalesSum) -> Earned:
        if one.sku not in self._sums:
            self._sums[one.sku] = self._plans(one.sku) if one.sku else None
        sums = self._sums[one.sku]
        units = one.units or 0
        received = (one.paid or 0) + (one.postage or 0) - (one.discount or 0)
        if sums is None or sums.currency != one.currency or units <= 0:
            return self._as_told(one, units, received, sums)
        piece = self._piece(sums, (one.paid or 0) - (one.discount or 0), units)
        tax, due = ZERO, sums.included and sums.tax
        if due:
            tax = Decimal(one.tax) if one.tax is not None else piece.tax * units
        costs, guessed = self._costs(one, units, piece)
        if due and one.refund:
            costs[3] -= one.refund * sums.tax / (1 + sums.tax)
        income = received - tax
        planned = tuple(cost * units for cost in piece.costs)
        return Earned(
            one.month, one.channel, one.sku, one.currency, units, income, tuple(costs),
            income - sum(costs, ZERO),
            piece.income * units, planned, piece.profit * units, frozenset(guessed), one.refund_units or 0,
            one.views or 0, one.clicks or 0,
        )  # fmt: skip

    def _piece(self, sums: Sums, paid: int, units: int) -> Piece:
        """The plan at the price that was paid, in whole coins: prices of several sales are averaged."""
        coins = Decimal(paid) / units / 10 ** (PLACES - minor_digits(sums.currency))
        price = int(coins.to_integral_value(ROUND_DOWN))
        key = (id(sums), price)
        found = self._pieces.get(key)
        if found is None:
            found = self._pieces[key] = piece_of(sums, max(price, 0))
        return found

    def _costs(self, one: SalesSum, units: int, piece: Piece) -> tuple[list[Decimal], set[str]]:
        plan = [cost * units for cost in piece.costs]
        costs, guessed = list(plan), {name for name, cost in zip(PARTS, plan, strict=True) if cost}
        month = (one.channel, one.month)

        def tell(at: int, amount: Decimal | int | None) -> None:
            costs[at] = Decimal(amount or 0)
            guessed.discard(PARTS[at])

        if one.fee is not None:
            tell(0, one.fee)
            tell(4, 0)  # a report that tells of fees tells of those for being listed
        if one.payment is not None:
            tell(1, one.payment)
        if month in self._told.adverts:
            tell(2, one.advert)
        if month in self._told.refunds:
            tell(3, one.refund)
        left = max(0, units - (one.base_cost_units or 0))
        if one.base_cost is not None:
            costs[5] = one.base_cost + piece.costs[5] * left
            guessed -= set() if left else {"goods"}
        if one.delivery is not None:
            rest = left if one.base_cost is not None else 0
            costs[6] = one.delivery + piece.costs[6] * rest
            guessed -= set() if rest else {"delivery"}
        costs[7] = Decimal((one.other or 0) + (one.tax_withheld or 0))
        return costs, guessed

    def _as_told(self, one: SalesSum, units: int, received: int, sums: Sums | None) -> Earned:
        """A SKU without a plan, or a month without pieces: only what reports told."""
        told = (
            one.fee, one.payment, one.advert, one.refund, 0, one.base_cost, one.delivery,
            (one.other or 0) + (one.tax_withheld or 0),
        )  # fmt: skip
        costs = tuple(Decimal(cost or 0) for cost in told)
        none = ZERO if sums is not None else None
        income = Decimal(received)
        return Earned(
            one.month, one.channel, one.sku, one.currency, units, income, costs, income - sum(costs, ZERO),
            none, tuple(ZERO for _ in PARTS) if sums is not None else None, none, frozenset(),
            one.refund_units or 0, one.views or 0, one.clicks or 0,
        )  # fmt: skip


@dataclass(frozen=True)
class EarnedGroup:
    """Results together, in one currency, ten-thousandths of its unit; see ``Earned``."""

    name: str
    currency: str
    units: int
    returned: int
    income: Decimal
    costs: tuple[Decimal, ...]
    profit: Decimal
    planned: Decimal
    differs: tuple[tuple[str, Decimal], ...]  # what made it differ from the plan, by part, the most first
    estimated: frozenset[str]
    views: int
    clicks: int


def grouped(
    results: Iterable[Earned], name_of: Callable[[Earned], str], currency: str, convert: Convert
) -> tuple[EarnedGroup, ...]:
    """Results by name in one currency, the most profit first. What has no rate is left out."""
    sums: dict[str, dict[str, list[Decimal]]] = {}
    marks: dict[str, set[str]] = {}
    rates: dict[str, Decimal | None] = {}
    for one in results:
        rates.setdefault(one.currency, convert(one.currency, currency) if one.currency else Decimal(1))
        if rates[one.currency] is None:
            continue
        name = name_of(one)
        held = sums.setdefault(name, {}).setdefault(one.currency, [ZERO] * (8 + 2 * len(PARTS)))
        _add(held, one)
        marks.setdefault(name, set()).update(one.estimated)
    found = [_group(name, by_currency, rates, currency, marks[name]) for name, by_currency in sums.items()]
    return tuple(sorted(found, key=lambda each: (-each.profit, each.name)))


def _add(held: list[Decimal], one: Earned) -> None:
    planned = one.planned is not None
    flat = (
        one.units, one.returned, one.views, one.clicks, one.income, one.profit,
        one.planned if planned else one.profit,
        one.planned_income if planned else one.income,
        *one.costs,
        *((one.planned_costs or one.costs) if planned else one.costs),
    )  # fmt: skip
    for at, amount in enumerate(flat):
        held[at] += amount or 0


def _group(
    name: str,
    by_currency: Mapping[str, list[Decimal]],
    rates: Mapping[str, Decimal | None],
    currency: str,
    estimated: set[str],
) -> EarnedGroup:
    flat = [ZERO] * (8 + 2 * len(PARTS))
    for source, held in by_currency.items():
        rate = rates[source] or Decimal(1)
        for at, amount in enumerate(held):
            flat[at] += amount if at < 4 else amount * rate
    costs, planned_costs = flat[8 : 8 + len(PARTS)], flat[8 + len(PARTS) :]
    differs = [("income", flat[4] - flat[7])]
    differs += [(part, plan - real) for part, plan, real in zip(PARTS, planned_costs, costs, strict=True)]
    return EarnedGroup(
        name, currency, int(flat[0]), int(flat[1]), flat[4], tuple(costs), flat[5], flat[6],
        tuple(sorted(((part, by) for part, by in differs if by), key=lambda each: (-abs(each[1]), each[0]))),
        frozenset(estimated), int(flat[2]), int(flat[3]),
    )  # fmt: skip
