"""The least price that earns the target profit after base cost, postage and the channel's fee.

Let x be what the buyer pays (price + any postage charged), T the target amount, s the target share of
x, m the fee's minimum, f its rate, and B = base cost + postage + the fee's fixed part. Profit is
x - B - max(m, f x), the lesser of two rising lines, so it reaches T + s x at

    x* = max((T + B + m) / (1 - s), (T + B) / (1 - s - f)),    no answer when s + f >= 1.

Amounts are paid in whole cents (or the currency's own minor unit): the fee is rounded half up, which
makes profit climb in steps, so every price that could be the answer is tested as it would be charged.
"""

from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_UP, Decimal

from hundredfold.catalogue.channels import Fees
from hundredfold.kernel.checks import CheckRecord
from hundredfold.kernel.errors import ShopError
from hundredfold.kernel.findings import Finding, Severity
from hundredfold.kernel.money import Money, minor_digits

CHECK = CheckRecord(
    id="pricing/no-price",
    title="There is a price that earns the target profit.",
    looks_at="the costs of a variant, the channel's fees and ceiling, and the profit you want",
    why="A listing below the target is sold at a loss you did not mean; one above the channel's ceiling is "
    "refused with its file.",
    example="A share of 30 % wanted where the channel keeps 70 %.",
    fix="Lower the target for this blank, raise `max_price`, or sell the blank in another channel.",
    known_limits="Knows the costs and fees in the shop's files only: no adverts, returns or tax.",
    source="the arithmetic of price, cost and fee; the limits are the seller's and the channel's",
    codes={"no-solution": Severity.STOP, "above-ceiling": Severity.STOP},
)
# Of each further penny, this share must be left for the costs; below it prices run away (our choice).
LEAST_LEFT = Decimal("0.01")


@dataclass(frozen=True)
class Target:
    """The profit wanted from each sale: an amount, a share of what the buyer pays (0 to 1), or both added."""

    amount: Money
    share: Decimal = Decimal(0)


@dataclass(frozen=True)
class Price:
    """A price with its working.

    ``profit`` is what is left of one sale at this price, ``margin`` profit / paid, ``markup`` profit /
    all costs. ``working`` is the sum in lines a person can check.
    """

    price: Money
    fee: Money
    profit: Money
    margin: Decimal
    markup: Decimal
    working: tuple[str, ...]


def price_for(
    target: Target,
    base_cost: Money,
    postage: Money,
    fees: Fees,
    ending: str,
    *,
    postage_charged: Money | None = None,
    max_price: Money | None = None,
    item: str = "",
) -> Price | Finding:
    """The least price with the ending at which the profit meets the target, or a Finding when there is none.

    All amounts must be in the channel's currency. ``ending`` is the last digits of the price in minor
    units ("95", "99", "9", "" for none). Raises ShopError ``mixed-currencies`` or ``bad-ending``.
    """
    sums = _Sums.of(target, base_cost, postage, fees, postage_charged)
    if 1 - target.share - fees.rate < LEAST_LEFT:
        return CHECK.finds(
            "no-solution",
            item or "price",
            f"no price earns {target.share:.0%} of itself after a {fees.rate:.0%} fee and pays the costs",
            "lower the target share or sell this blank in another channel",
        )
    cents = sums.least(_ending(ending, sums.currency))
    answer = sums.price(cents)
    if max_price is not None and max_price < answer.price:
        return CHECK.finds(
            "above-ceiling",
            item or "price",
            f"the target needs {answer.price}, above this channel's ceiling of {max_price}",
            "lower the target profit for this blank or raise max_price",
        )
    return answer


@dataclass(frozen=True)
class _Sums:
    """One sale's amounts in minor units of the currency."""

    currency: str
    unit: Decimal  # one minor unit
    target: Decimal
    share: Decimal
    base: Decimal
    postage: Decimal
    charged: Decimal
    rate: Decimal
    minimum: Decimal
    fixed: Decimal

    @classmethod
    def of(cls, target: Target, base: Money, postage: Money, fees: Fees, charged: Money | None) -> "_Sums":
        zero = Money(Decimal(0), base.currency)
        unit = Decimal(1).scaleb(-minor_digits(base.currency))

        def minor(money: Money) -> Decimal:
            return (zero + money).amount / unit  # the sum refuses another currency

        return cls(
            base.currency, unit, minor(target.amount), target.share, minor(base), minor(postage),
            minor(charged or zero), fees.rate, minor(fees.minimum), minor(fees.fixed),
        )  # fmt: skip

    def closed_form(self, wanted: Decimal) -> Decimal:
        """The exact price, postage charged taken off, at which profit reaches ``wanted`` + its share."""
        spent = self.base + self.postage + self.fixed
        floor = (wanted + spent + self.minimum) / (1 - self.share)
        sloped = (wanted + spent) / (1 - self.share - self.rate)
        return max(floor, sloped) - self.charged

    def fee(self, cents: int) -> Decimal:
        """The fee as charged, fixed part included."""
        paid = cents + self.charged
        part = max(self.minimum, self.rate * paid).quantize(Decimal(1), rounding=ROUND_HALF_UP)
        return part + self.fixed

    def profit(self, cents: int) -> Decimal:
        return cents + self.charged - self.base - self.postage - self.fee(cents)

    def meets(self, cents: int) -> bool:
        return self.profit(cents) >= self.target + self.share * (cents + self.charged)

    def least(self, ending: tuple[int, int]) -> int:
        """The least whole price with the ending that meets the target; the fee's rounding is worth <= 1/2."""
        last, step = ending
        start = max(Decimal(0), self.closed_form(self.target - 1))
        first = int(start.to_integral_value(rounding=ROUND_FLOOR))
        cents = first + (last - first) % step
        while cents <= 0 or not self.meets(cents):
            cents += step
        return cents

    def money(self, minor: Decimal | int) -> Money:
        return Money(minor * self.unit, self.currency)

    def price(self, cents: int) -> Price:
        profit, paid = self.profit(cents), cents + self.charged
        costs = self.base + self.postage + self.fee(cents)
        return Price(
            price=self.money(cents),
            fee=self.money(self.fee(cents)),
            profit=self.money(profit),
            margin=profit / paid,
            markup=profit / costs if costs else Decimal(0),
            working=self.working(cents),
        )

    def working(self, cents: int) -> tuple[str, ...]:
        def plain(minor: Decimal | int) -> str:
            return self.money(minor).plain()

        paid, fee = cents + self.charged, self.fee(cents) - self.fixed
        percent = f"{(self.rate * 100).normalize():f} %"
        how = (
            f"the minimum, more than {percent}"
            if self.rate * paid < self.minimum
            else f"{percent} of {plain(paid)}"
        )
        wanted = self.target + self.share * paid
        exact = self.closed_form(self.target).to_integral_value(rounding=ROUND_CEILING)
        lines = [f"price {plain(cents)} {self.currency}"]
        if self.charged:
            lines.append(f"+ postage charged {plain(self.charged)}")
        lines += [
            f"- base cost {plain(self.base)}",
            f"- postage {plain(self.postage)}",
            f"- fee {plain(fee)} ({how})",
        ]
        if self.fixed:
            lines.append(f"- fixed fee {plain(self.fixed)}")
        lines.append(f"= profit {plain(self.profit(cents))}, wanted {plain(wanted)}")
        if exact != cents:
            lines.append(f"least price before the ending {plain(exact)}")
        return tuple(lines)


def _ending(ending: str, currency: str) -> tuple[int, int]:
    """The last digits as a number, and the step between prices that have them."""
    if not ending:
        return 0, 1
    if not (ending.isascii() and ending.isdigit()) or len(ending) > minor_digits(currency) + 2:
        raise ShopError("bad-ending", f"{ending!r} cannot end a price in {currency}", 'use digits, like "95"')
    return int(ending), 10 ** len(ending)


def rounded_up(cost: Money) -> Money:
    """A cost, converted from another currency say, rounded up to the minor unit so that it never shrinks."""
    unit = Decimal(1).scaleb(-minor_digits(cost.currency))
    return Money(cost.amount.quantize(unit, rounding=ROUND_CEILING), cost.currency)
