"""The least price that earns the target profit, or the finding that says which cost eats it. Start here."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from decimal import Decimal

from hundredfold.kernel.checks import CheckRecord
from hundredfold.kernel.findings import Finding, Severity
from hundredfold.kernel.money import Money
from hundredfold.pricing.explain import PricePart, eaten_by, parts_of, percent, shares_of_more, working_of
from hundredfold.pricing.least import Ending, least_price
from hundredfold.pricing.sale import Sale, Sums, coin

CHECK = CheckRecord(
    id="pricing/no-price",
    title="There is a price that earns the target profit, and no price is below cost.",
    looks_at="the costs of a variant, all that its channel takes, and the profit you want",
    why="A listing below the target is sold at a loss you did not mean; one above the channel's ceiling is "
    "refused with its file.",
    example="A share of 30 % wanted where the channel keeps 70 %.",
    fix="Lower the target for this blank, raise `max_price`, or sell the blank in another channel.",
    known_limits="Knows what the shop's files say (docs/prices.md); averages such as returns are guesses.",
    source="the arithmetic of price, cost and fee; the limits are the seller's and the channel's",
    codes={
        "no-solution": Severity.STOP,
        "above-ceiling": Severity.STOP,
        "below-cost": Severity.STOP,
        "below-target": Severity.WARN,
    },
)


@dataclass(frozen=True)
class PriceRequest:
    """What a price is asked for: the sales it must be right for, one a destination, and its bounds.

    ``ending`` is the last digits of the price in coins ("95", "9", "" for any). Floor and ceiling belong to
    the prices allowed.
    """

    sales: tuple[Sale, ...]  # at least one
    ending: str = ""
    floor: Money | None = None
    ceiling: Money | None = None
    item: str = "price"


@dataclass(frozen=True)
class Price:
    """A price with what is left of it at the destination that leaves least.

    ``margin`` is profit / income, ``markup`` profit / all costs; income is what is paid without tax.
    ``profit`` is exact: averages over many sales have fractions of a coin.
    """

    price: Money
    fee: Money
    profit: Money
    wanted: Money
    margin: Decimal
    markup: Decimal
    destination: str = ""
    sums: Sums = field(repr=False, kw_only=True)
    ending: Ending = field(default=Ending(), repr=False)

    @property
    def coins(self) -> int:
        """The price in the smallest coins."""
        return int(self.price.amount / coin(self.price.currency))

    @property
    def parts(self) -> tuple[PricePart, ...]:
        """Where each penny goes, profit last; they add up to what is paid, coin by coin."""
        return parts_of(self.sums, self.coins)

    @property
    def working(self) -> tuple[str, ...]:
        """The sum in lines a person can check."""
        bare = least_price((self.sums,), Ending()) if self.ending.step > 1 else None
        return working_of(self.sums, self.coins, bare)

    def as_json(self) -> dict[str, object]:
        """The plain record of a price, for pages and other programs; amounts are text."""
        return {
            "price": self.price.plain(),
            "currency": self.price.currency,
            "destination": self.destination,
            "parts": [part.as_json() for part in self.parts],
            "wanted": self.wanted.plain(),
            "margin": percent(self.margin),
            "markup": percent(self.markup),
            "advert_break_even": self.advert_break_even.plain(),
        }

    @property
    def advert_break_even(self) -> Money:
        """The most that adverts may cost a sale before nothing is left, those already reckoned included."""
        split = self.sums.split(self.coins)
        return _money(self.sums, split.profit + split.adverts + self.sums.advert_amount)


def price_for(asked: PriceRequest) -> Price | Finding:
    """The least price with the ending that meets the target at every destination, or why there is none.

    Raises ShopError ``mixed-currencies`` or ``bad-ending``.
    """
    sums = tuple(sale.sums for sale in asked.sales)
    currency = sums[0].currency
    ending = Ending.parse(asked.ending, currency)
    coins = least_price(sums, ending, _floor(asked, currency))
    if coins is None:
        return _none(asked, sums)
    if asked.ceiling is not None and asked.ceiling < Money(coins * coin(currency), currency):
        return _above(asked, sums, ending, coins)
    return _answer(asked, coins, ending)


def price_at(asked: PriceRequest, price: Money) -> tuple[Price, Finding | None]:
    """What a price of the seller's own choice leaves; below cost is a stop, below the target a warning.

    Raises ShopError ``mixed-currencies``.
    """
    currency = asked.sales[0].sums.currency
    coins = int((Money(Decimal(0), currency) + price).amount / coin(currency))
    found = _answer(asked, coins, Ending())
    if found.profit.amount < 0:
        eaters = _eaters(found.sums, coins)
        what = f"{price} is below cost: each sale loses {_plain(found.profit, -1)}; most goes to {eaters}"
        return found, CHECK.finds("below-cost", asked.item, what, "raise the price or end the listing")
    if found.profit < found.wanted:
        what = f"{price} leaves {_plain(found.profit)} where {found.wanted.plain()} is wanted"
        fix = "raise the price or lower the target"
        return found, CHECK.finds("below-target", asked.item, what, fix)
    return found, None


def _floor(asked: PriceRequest, currency: str) -> int:
    if asked.floor is None:
        return 1
    return int((Money(Decimal(0), currency) + asked.floor).amount / coin(currency))


def _answer(asked: PriceRequest, coins: int, ending: Ending) -> Price:
    splits = [(sale.sums.split(coins), sale) for sale in asked.sales]
    split, sale = min(splits, key=lambda pair: pair[0].profit - pair[0].wanted)
    costs = split.income - split.profit
    return Price(
        price=_money(sale.sums, Decimal(coins)),
        fee=_money(sale.sums, split.fee),
        profit=_money(sale.sums, split.profit),
        wanted=_money(sale.sums, split.wanted),
        margin=split.profit / split.income if split.income else Decimal(0),
        markup=split.profit / costs if costs else Decimal(0),
        destination=sale.destination.code,
        sums=sale.sums,
        ending=ending,
    )


def _none(asked: PriceRequest, sums: Sequence[Sums]) -> Finding:
    worst = max(sums, key=lambda one: sum(share for _, share in shares_of_more(one)))
    takers = [(name, share) for name, share in shares_of_more(worst) if share > 0]
    listed = ", ".join(f"{name} {percent(share)}" for name, share in takers) or "nothing"
    total = sum((share for _, share in takers), Decimal(0))
    left = percent(max(Decimal(0), 1 - total))
    what = f"no price reaches the target: of each further penny {left} is left to pay the costs; {listed}"
    biggest = max(takers, key=lambda pair: pair[1], default=("the target", Decimal(0)))[0]
    return CHECK.finds(
        "no-solution", asked.item, what, f"lower {biggest}, or sell this blank in another channel"
    )


def _above(asked: PriceRequest, sums: Sequence[Sums], ending: Ending, coins: int) -> Finding:
    """The target needs more than the ceiling: what a price at the ceiling would leave, and what takes it."""
    ceiling = asked.ceiling
    assert ceiling is not None
    unit = coin(ceiling.currency)
    top = int(ceiling.amount / unit)
    at = _answer(asked, max(top - (top - ending.last) % ending.step, 1), ending)
    needed = Money(coins * unit, ceiling.currency)
    what = (
        f"the target needs {needed}, above this channel's ceiling of {ceiling}; "
        f"at {at.price.plain()} it leaves {_plain(at.profit)} of {at.wanted.plain()}, "
        f"and most goes to {_eaters(at.sums, at.coins)}"
    )
    return CHECK.finds(
        "above-ceiling", asked.item, what, "lower the target profit for this blank or raise max_price"
    )


def _eaters(sums: Sums, coins: int) -> str:
    return " and ".join(f"{part.name} ({part.amount.plain()})" for part in eaten_by(sums, coins)[:2])


def _plain(profit: Money, sign: int = 1) -> str:
    """A profit rounded down, so that it never looks like more than it is."""
    unit = coin(profit.currency)
    return Money((profit.amount / unit).__floor__() * unit * sign, profit.currency).plain()


def _money(sums: Sums, coins: Decimal) -> Money:
    return Money(coins * coin(sums.currency), sums.currency)
