"""Where each penny of a price goes: parts that add up, the sum in lines, and what eats a price."""

from dataclasses import dataclass
from decimal import ROUND_FLOOR, Decimal

from hundredfold.kernel.money import Money
from hundredfold.pricing.sale import ONE, ZERO, Split, Sums, coin


@dataclass(frozen=True)
class PricePart:
    """One part of what is paid, in whole coins. ``kind`` groups parts that are drawn alike."""

    name: str
    kind: str  # "tax", "goods", "postage", "fees", "adverts", "returns" or "profit"
    amount: Money
    how: str = ""

    def as_json(self) -> dict[str, str]:
        """Plain values; the amount is text."""
        return {"name": self.name, "kind": self.kind, "amount": self.amount.plain(), "how": self.how}


_KINDS = {
    "tax": "tax",
    "base cost": "goods",
    "extra sides": "goods",
    "packaging": "goods",
    "postage": "postage",
    "adverts": "adverts",
    "returns": "returns",
    "profit": "profit",
}


def parts_of(sums: Sums, price: int) -> tuple[PricePart, ...]:
    """Every part that is not nothing, profit last; together exactly what is paid.

    Converted costs and averages have fractions of a coin: profit is rounded down, and of the other parts
    those with the largest remainder get the coins that are left over.
    """
    split = sums.split(price)
    exact = _exact(sums, split)
    whole = [amount.to_integral_value(ROUND_FLOOR) for _, amount in exact]
    profit = split.profit.to_integral_value(ROUND_FLOOR)
    shown = split.paid if sums.included else split.income
    missing = int(shown - profit - sum(whole, ZERO))
    by_rest = sorted(range(len(exact)), key=lambda i: (whole[i] - exact[i][1], i))
    for i in range(missing):
        whole[by_rest[i % len(by_rest)]] += 1
    parts = [
        PricePart(name, _KINDS.get(name, "fees"), _money(sums, amount), _how(sums, split, price, name))
        for (name, _), amount in zip(exact, whole, strict=True)
        if amount
    ]
    return (*parts, PricePart("profit", "profit", _money(sums, profit)))


def eaten_by(sums: Sums, price: int) -> tuple[PricePart, ...]:
    """What takes most of a price first, profit left out."""
    parts = [part for part in parts_of(sums, price) if part.kind != "profit"]
    return tuple(sorted(parts, key=lambda part: -part.amount.amount))


def shares_of_more(sums: Sums) -> tuple[tuple[str, Decimal], ...]:
    """What takes how much of each further penny, where prices are high."""
    net = ONE / (1 + sums.tax) if sums.included else ONE
    seen = {True: ONE if sums.included else 1 + sums.tax, False: net}
    fee = sums.lines[-1][1] * seen[sums.fee_on_tax]
    taxed = fee * (1 + sums.fee_tax)
    return (
        ("the tax", ONE - net),
        ("the channel's fee", taxed * (1 - sums.fee_back)),
        ("the payment fee", sums.pay_rate * seen[sums.pay_on_tax]),
        ("adverts", sums.advert_share),
        ("returns", sums.refunded * net),
        ("the target share", sums.share * net),
    )


def working_of(sums: Sums, price: int, bare: int | None) -> tuple[str, ...]:
    """The sum in lines; ``bare`` is the least price before the ending, where one is asked for."""
    split = sums.split(price)
    lines = [f"price {_plain(sums, Decimal(price))} {sums.currency}"]
    if sums.charged:
        lines.append(f"+ postage charged {_plain(sums, sums.charged)}")
    *parts, profit = parts_of(sums, price)
    for part in parts:
        how = f" ({part.how})" if part.how else ""
        lines.append(f"- {part.name} {part.amount.plain()}{how}")
    lines.append(f"= profit {profit.amount.plain()}, wanted {_plain(sums, split.wanted)}")
    if split.tax and not sums.included:
        lines.append(f"on top, tax {_plain(sums, split.tax)}")
    if bare is not None and bare != price:
        lines.append(f"least price before the ending {_plain(sums, Decimal(bare))}")
    return tuple(lines)


def _exact(sums: Sums, split: Split) -> list[tuple[str, Decimal]]:
    fixed = dict(sums.parts)
    return [
        ("tax", split.paid - split.income),
        *((name, fixed.get(name, ZERO)) for name in ("base cost", "extra sides", "packaging", "postage")),
        ("fee", split.fee - sums.fixed),
        ("fixed fee", sums.fixed),
        ("tax on fees", split.fee_tax),
        ("payment fee", split.payment),
        ("listing fee", fixed.get("listing fee", ZERO)),
        ("adverts", fixed.get("adverts", ZERO) + split.adverts),
        ("returns", fixed.get("returns", ZERO) + split.returns),
    ]


def _how(sums: Sums, split: Split, price: int, name: str) -> str:
    base = sums.fee_base(price)
    rate = sums.tiers[-1][1]
    if name == "tax":
        return f"{percent(sums.tax)} inside what is paid"
    if name == "fee" and len(sums.tiers) > 1:
        return f"in tiers, of {_plain(sums, base)}"
    if name == "fee" and rate * base < sums.minimum:
        return f"the minimum, more than {percent(rate)}"
    if name == "fee":
        return f"{percent(rate)} of {_plain(sums, base)}"
    if name == "adverts" and sums.advert_share:
        return f"{percent(sums.advert_share)} of {_plain(sums, split.paid)} on average"
    return ""


def percent(share: Decimal) -> str:
    """``14 %``, to two decimals at most."""
    return f"{(share * 100).quantize(Decimal('0.01')).normalize():f} %"


def _plain(sums: Sums, coins: Decimal) -> str:
    return _money(sums, coins).plain()


def _money(sums: Sums, coins: Decimal) -> Money:
    return Money(coins * coin(sums.currency), sums.currency)
