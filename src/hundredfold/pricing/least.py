"""The least price that leaves what is wanted, with its ending, at every destination.

In one tier of the channel's fee, and before any rounding, what is left over what is wanted is the lesser of
two straight lines of the price: one for the fee's minimum, one for its rate. So the prices that could do
are an interval that two divisions give; rounding is worth a few coins, and each price of the interval,
widened by so much, is tested as it would really be charged.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal, localcontext
from itertools import islice

from hundredfold.kernel.errors import ShopError
from hundredfold.kernel.money import minor_digits
from hundredfold.pricing.sale import EXACT, ONE, ZERO, Sums

# Half a coin each for tax, payment fee and its base; at most 2.5 for the fee, its base and the tax on it.
_SLACK = Decimal(4)
# A tier's end may be passed by the tax's rounding: half a coin, at a tax of under 100 %.
_EDGE = 2
# Prices tested in one tier. Only where less than a thousandth of each further coin is left are there so many.
_MOST_TESTED = 200_000
MOST = 10**9  # coins; no price beyond it is looked for


@dataclass(frozen=True)
class Ending:
    """The last digits of a price: prices are ``last``, ``last + step``, ``last + 2 step``..."""

    last: int = 0
    step: int = 1

    @classmethod
    def parse(cls, digits: str, currency: str) -> "Ending":
        """``"95"`` for 14.95; empty for any price. Raises ShopError ``bad-ending``."""
        if not digits:
            return cls()
        if not (digits.isascii() and digits.isdigit()) or len(digits) > minor_digits(currency) + 2:
            what = f"{digits!r} cannot end a price in {currency}"
            raise ShopError("bad-ending", what, 'use digits, like "95"')
        return cls(int(digits), 10 ** len(digits))

    def from_(self, low: int) -> int:
        """The first price with the ending that is not below ``low``, and is above nothing."""
        low = max(low, 1)
        return low + (self.last - low) % self.step


def least_price(sums: Sequence[Sums], ending: Ending, floor: int = 1) -> int | None:
    """The least price in coins, at least ``floor``, at which every one of the sales meets its target."""
    with localcontext(EXACT):
        return _common(sums, ending, ending.from_(floor))


def _common(sums: Sequence[Sums], ending: Ending, price: int) -> int | None:
    """The least price from this one that does for all: each asks for more in turn until all agree."""
    agreed = 0
    while agreed < len(sums):
        for one in sums:
            found = _least(one, ending, price)
            if found is None:
                return None
            agreed = agreed + 1 if found == price else 1
            price = found
            if agreed == len(sums):
                break
    return price


def _least(sums: Sums, ending: Ending, floor: int) -> int | None:
    if floor > 1 and sums.meets(floor):
        return floor
    best: int | None = None
    for low, high in _intervals(sums):
        last = high if best is None else min(high, best - 1)  # the widened ends of two tiers overlap
        candidates = range(ending.from_(max(low, floor)), last + 1, ending.step)
        for price in islice(candidates, _MOST_TESTED):
            if sums.meets(price):
                best = price
                break
        if best is not None and best < high - 2 * _EDGE:
            break
    return best


def _intervals(sums: Sums) -> Iterator[tuple[int, int]]:
    """By tier, the prices that could do; those left out cannot."""
    k = _with_tax(sums, sums.fee_on_tax)
    charged = sums.charged if sums.on_postage else ZERO
    start = ZERO
    for (upto, _), line in zip(sums.tiers, sums.lines, strict=True):
        low, high = start / k - charged - _EDGE, Decimal(MOST)
        if upto is not None:
            high, start = min(high, upto / k - charged + _EDGE), upto
        for constant, rate in ((sums.minimum, ZERO), line):
            low, high = _where_enough(sums, constant + rate * k * charged, rate * k, low, high)
        if low <= high:
            yield int(low.to_integral_value(ROUND_FLOOR)), int(high.to_integral_value(ROUND_CEILING))


def _where_enough(
    sums: Sums, fee: Decimal, fee_rate: Decimal, low: Decimal, high: Decimal
) -> tuple[Decimal, Decimal]:
    """The part of an interval of prices where a fee of ``fee + fee_rate x price`` may leave enough."""
    net = ONE / (1 + sums.tax) if sums.included else ONE
    of_paid = (
        net * (1 - sums.refunded - sums.share)
        - sums.pay_rate * _with_tax(sums, sums.pay_on_tax)
        - sums.advert_share
    )
    of_fee = (1 - sums.fee_back) * (1 + sums.fee_tax)
    slope = of_paid - of_fee * fee_rate
    constant = of_paid * sums.charged - of_fee * (fee + sums.fixed) - sums.pay_fixed
    constant += _SLACK - sums.costs - sums.target
    if slope > 0:
        return max(low, -constant / slope), high
    if slope < 0:
        return low, min(high, -constant / slope)
    return (low, high) if constant >= 0 else (ONE, ZERO)


def _with_tax(sums: Sums, on_tax: bool) -> Decimal:
    """What a fee is taken from, for each coin shown to the buyer."""
    if sums.included:
        return ONE if on_tax else ONE / (1 + sums.tax)
    return 1 + sums.tax if on_tax else ONE
