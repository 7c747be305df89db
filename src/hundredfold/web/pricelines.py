"""Prices as the page draws them: variants that cost the same on one line, its parts as lengths of a bar."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal

from hundredfold.workshop.records.state import PriceRecord

Key = tuple[str, str, str, str]  # blank, channel, colour, size


@dataclass(frozen=True)
class BarPart:
    """A part of a bar: beginning and length, in hundredths of the dearest price of its currency."""

    kind: str
    name: str
    amount: str
    x: str
    width: str


@dataclass(frozen=True)
class PriceLine:
    """Variants of a blank in a channel with one price; ``was`` is the kept one, "" where it is the same."""

    blank: str
    channel: str
    colours: tuple[str, ...]
    sizes: tuple[str, ...]
    base_cost: str
    price: str
    was: str
    step: Decimal
    profit: str
    wanted: str
    short: bool
    margin: str
    working: tuple[str, ...]
    trouble: str
    fix: str
    bar: tuple[BarPart, ...]


def price_lines(now: Iterable[PriceRecord], kept: Iterable[PriceRecord] = ()) -> tuple[PriceLine, ...]:
    """One line a blank, channel and price; those that earn too little first, then the largest change."""
    before = {_key(one): one.price for one in kept}
    groups: dict[tuple[str, ...], list[PriceRecord]] = {}
    every = list(now)
    for one in every:
        was = before.get(_key(one), one.price)
        groups.setdefault((one.blank, one.channel, one.price or "", was or "", one.base_cost), []).append(one)
    dearest: dict[str, Decimal] = {}  # bars of one currency are of one scale
    for one in every:
        coins = _currency(one.price)
        dearest[coins] = max(dearest.get(coins, Decimal(0)), _amount(one.price))
    lines = [_line(each, before, dearest[_currency(each[0].price)] or Decimal(1)) for each in groups.values()]
    return tuple(sorted(lines, key=lambda line: (not line.trouble, not line.short, -abs(line.step))))


def _key(one: PriceRecord) -> Key:
    return one.blank, one.channel, one.colour, one.size


def _line(group: list[PriceRecord], before: Mapping[Key, str | None], dearest: Decimal) -> PriceLine:
    one = group[0]
    was = before.get(_key(one), one.price) or ""
    price = one.price or ""
    profit = _amount(one.profit)
    return PriceLine(
        one.blank,
        one.channel,
        tuple(dict.fromkeys(each.colour for each in group)),
        tuple(dict.fromkeys(each.size for each in group if each.size)),
        one.base_cost,
        price,
        was if was != price else "",
        _amount(price) - _amount(was),
        one.profit or "",
        one.wanted,
        bool(one.wanted) and profit < _amount(one.wanted),
        one.margin,
        one.working,
        one.finding.what if one.finding else "",
        one.finding.fix if one.finding else "",
        _bar(one, dearest),
    )


def _bar(one: PriceRecord, dearest: Decimal) -> tuple[BarPart, ...]:
    parts: dict[str, Decimal] = {}
    names: dict[str, list[str]] = {}
    for part in one.parts:
        parts[part.kind] = parts.get(part.kind, Decimal(0)) + Decimal(part.amount)
        names.setdefault(part.kind, []).append(part.name)
    at, found = Decimal(0), []
    for kind, amount in parts.items():
        length = max(amount, Decimal(0)) * 100 / dearest
        found.append(BarPart(kind, ", ".join(names[kind]), str(amount), f"{at:.2f}", f"{length:.2f}"))
        at += length
    return tuple(found)


def _currency(text: str | None) -> str:
    return (text or "").partition(" ")[2]


def _amount(text: str | None) -> Decimal:
    """The number of an amount such as ``12.95 GBP``; nothing where there is none."""
    number = (text or "").partition(" ")[0]
    try:
        return Decimal(number) if number else Decimal(0)
    except ArithmeticError:
        return Decimal(0)
