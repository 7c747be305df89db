"""Judges prices against the frozen terms, in whole numbers: no code, formula or Decimal of the pricing room.

All is counted in minor units of the currency, scaled where rates bring fractions.
"""

from collections.abc import Iterator
from fractions import Fraction
from functools import cache

from babel.numbers import get_currency_precision

from hundredfold.handoff.judge_checks import PRICE
from hundredfold.handoff.judge_common import wrong
from hundredfold.handoff.manifest_shape import CostEntry, Manifest, RowEntry, TermsEntry
from hundredfold.kernel.findings import Finding

# Where fee and share leave less than this of each further coin, the least price is not searched for.
LEAST_SLOPE = Fraction(999, 1000)


def judge_prices(manifest: Manifest) -> Iterator[Finding]:
    """Each price meets the target under the terms, has the ending, and no lower price would do."""
    terms = manifest.terms
    costs = {(cost.blank, cost.colour, cost.size): cost for cost in terms.costs}
    judge = _Judge(terms)
    for row in manifest.rows:
        bare = row.action == "end" or row.role == "head"
        if bare and not row.price:
            continue
        if bare != (not row.price):
            what = "a price where none belongs" if bare else "the row has no price"
            yield wrong(PRICE, "price-not-wanted" if bare else "no-price", row.sku, what)
        elif row.currency != terms.currency:
            what = f"a price in {row.currency or 'no currency'}; the terms are in {terms.currency}"
            yield wrong(PRICE, "wrong-currency", row.sku, what)
        elif (cost := costs.get((row.blank, row.colour, row.size))) is None:
            yield wrong(PRICE, "no-cost", row.sku, "the terms do not say what this variant costs")
        else:
            yield from judge.row(row, cost)


class _Judge:
    def __init__(self, terms: TermsEntry) -> None:
        self.terms = terms
        self.digits = get_currency_precision(terms.currency)
        self.rate, self.share = Fraction(terms.fees.rate), Fraction(terms.target.share)
        self.minimum, self.fixed = self.minor(terms.fees.minimum), self.minor(terms.fees.fixed)
        self.target, self.charged = self.minor(terms.target.amount), self.minor(terms.postage_charged or "0")
        self.least = cache(self._least)

    def minor(self, amount: str) -> Fraction:
        return Fraction(amount) * Fraction(10**self.digits)

    def row(self, row: RowEntry, cost: CostEntry) -> Iterator[Finding]:
        terms, price = self.terms, self.minor(row.price)
        if price.denominator != 1 or len(row.price.partition(".")[2]) != self.digits:
            what = f"{row.price} is not a whole number of {terms.currency}'s smallest coins"
            yield wrong(PRICE, "not-whole", row.sku, what)
            return
        spent = self.minor(cost.base) + self.minor(cost.postage)
        profit, wanted = self.profit(price, spent), self.wanted(price)
        if terms.ending and int(price) % 10 ** len(terms.ending) != int(terms.ending):
            yield wrong(PRICE, "wrong-ending", row.sku, f"{row.price} does not end in {terms.ending}")
        elif profit < wanted:
            what = f"{row.price} leaves {self.words(profit)} where {self.words(wanted)} is wanted"
            yield wrong(PRICE, "below-target", row.sku, what)
        elif (least := self.least(int(price), spent)) != price:
            what = f"{row.price} is more than needed: {self.words(Fraction(least))} meets the target"
            yield wrong(PRICE, "above-least", row.sku, what)
        if terms.ceiling and price > self.minor(terms.ceiling):
            what = f"{row.price} is above the channel's ceiling of {terms.ceiling}"
            yield wrong(PRICE, "above-ceiling", row.sku, what)

    def profit(self, price: Fraction, spent: Fraction) -> Fraction:
        paid = price + self.charged
        fee = (2 * max(self.minimum, self.rate * paid) + 1) // 2  # rounded half up to a whole coin
        return paid - spent - fee - self.fixed

    def wanted(self, price: Fraction) -> Fraction:
        return self.target + self.share * (price + self.charged)

    def _least(self, price: int, spent: Fraction) -> int:
        """The least price with the ending, up to this one, that meets the target.

        Found by halving on the profit before the fee is rounded, which only climbs with the price; rounding
        is worth half a coin at most, so every price that could do lies from there on.
        """
        if self.rate + self.share > LEAST_SLOPE:
            return price

        def may_do(tried: int) -> bool:
            paid = tried + self.charged
            before_rounding = paid - spent - max(self.minimum, self.rate * paid) - self.fixed
            return before_rounding + 1 >= self.wanted(Fraction(tried))

        low, high = 0, price  # may_do(high) holds: the price itself meets the target
        while low < high:
            middle = (low + high) // 2
            low, high = (low, middle) if may_do(middle) else (middle + 1, high)
        step = 10 ** len(self.terms.ending)
        first = max(low, 1)
        for lower in range(first + (price - first) % step, price, step):
            if self.profit(Fraction(lower), spent) >= self.wanted(Fraction(lower)):
                return lower
        return price

    def words(self, minor: Fraction) -> str:
        return f"{float(minor / 10**self.digits):.{self.digits}f}"
