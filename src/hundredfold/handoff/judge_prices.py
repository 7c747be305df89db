"""Judges prices against the frozen terms: each meets its target, and no lower one would do."""

from collections.abc import Iterator
from fractions import Fraction
from functools import cache
from math import ceil
from math import floor as floor_of

from hundredfold.handoff.judge_checks import PRICE
from hundredfold.handoff.judge_common import wrong
from hundredfold.handoff.judge_sums import Reckoner
from hundredfold.handoff.manifest_shape import Manifest, RowEntry, TermsEntry
from hundredfold.handoff.money_shape import DestinationEntry
from hundredfold.kernel.findings import Finding

Variant = tuple[str, str, str]  # blank, colour, size
# A price that lacks so many coins more than rounding is worth is so many coins too low, at least.
ROUNDING = 10
# After so many prices tried, whether a lower one would do is not told.
MOST_TRIED = 20_000


def judge_prices(manifest: Manifest) -> Iterator[Finding]:
    """Each price meets the target under the terms, has the ending, and no lower price would do."""
    judge = _Judge(manifest.terms)
    for row in manifest.rows:
        bare = row.action == "end" or row.role == "head"
        if bare and not row.price:
            continue
        if bare != (not row.price):
            what = "a price where none belongs" if bare else "the row has no price"
            yield wrong(PRICE, "price-not-wanted" if bare else "no-price", row.sku, what)
        elif row.currency != manifest.terms.currency:
            what = f"a price in {row.currency or 'no currency'}; the terms are in {manifest.terms.currency}"
            yield wrong(PRICE, "wrong-currency", row.sku, what)
        else:
            yield from judge.row(row)


class _Judge:
    def __init__(self, terms: TermsEntry) -> None:
        self.terms = terms
        self.sums = Reckoner(terms)
        self.costs = {(cost.blank, cost.colour, cost.size): cost for cost in terms.costs}
        self.wanted = {(one.design, one.blank, one.size): one for one in terms.wanted}
        self.designs = {one.design for one in terms.wanted}
        self.least, self.floor, self.worst = cache(self._least), cache(self._floor), cache(self._worst)
        self.spent = cache(lambda variant, to: self.sums.spent(self.costs[variant], self.destinations[to]))

    @property
    def destinations(self) -> list[DestinationEntry]:
        return self.terms.charges.destinations

    def row(self, row: RowEntry) -> Iterator[Finding]:
        terms, sums = self.terms, self.sums
        variant = (row.blank, row.colour, row.size)
        cost = self.costs.get(variant)
        if cost is None:
            yield wrong(PRICE, "no-cost", row.sku, "the terms do not say what this variant costs")
            return
        if not sums.can_exchange(cost.currency):
            what = f"the terms hold no rate from {cost.currency} to {terms.currency}"
            yield wrong(PRICE, "no-rate", row.sku, what)
            return
        exact = sums.coins(row.price)
        if exact.denominator != 1 or len(row.price.partition(".")[2]) != sums.digits:
            what = f"{row.price} is not a whole number of {terms.currency}'s smallest coins"
            yield wrong(PRICE, "not-whole", row.sku, what)
            return
        yield from self._judge(row, int(exact), variant)

    def _judge(self, row: RowEntry, price: int, variant: Variant) -> Iterator[Finding]:
        terms = self.terms
        design = row.design if row.design in self.designs else ""
        to, profit, wanted = self.worst(design, variant, price)
        if terms.ending and price % 10 ** len(terms.ending) != int(terms.ending):
            yield wrong(PRICE, "wrong-ending", row.sku, f"{row.price} does not end in {terms.ending}")
        elif profit < wanted:
            where = f" in {to.code}" if to.code else ""
            what = f"{row.price} leaves {self.words(profit)} where {self.words(wanted)} is wanted{where}"
            yield wrong(PRICE, "below-target", row.sku, what)
        elif price < (floor := self.floor(design, variant)):
            what = f"{row.price} is under {self.words(floor)}, the least allowed or the smaller size's price"
            yield wrong(PRICE, "below-floor", row.sku, what)
        elif (least := self.least(design, variant, price)) != price:
            what = f"{row.price} is more than needed: {self.words(least)} meets the target"
            yield wrong(PRICE, "above-least", row.sku, what)
        if terms.ceiling and price > self.sums.coins(terms.ceiling):
            what = f"{row.price} is above the channel's ceiling of {terms.ceiling}"
            yield wrong(PRICE, "above-ceiling", row.sku, what)

    def _worst(
        self, design: str, variant: Variant, price: int
    ) -> tuple[DestinationEntry, Fraction, Fraction]:
        """The destination where most is lacking, with the profit and what is wanted of it."""
        target = self.wanted.get((design, variant[0], variant[2]), self.terms.target)
        found = []
        for number, to in enumerate(self.destinations):
            profit, wanted = self.sums.profit(price, self.spent(variant, number), to, target)
            found.append((wanted - profit, -number, to, profit, wanted))
        _, _, to, profit, wanted = max(found, key=lambda one: one[:2])
        return to, profit, wanted

    def _floor(self, design: str, variant: Variant) -> int:
        """What the price may not be under: the channel's floor, and each smaller size's least price."""
        smaller: list[Variant] = []
        size = self.costs[variant].smaller
        while size and (one := (*variant[:2], size[0])) in self.costs and one not in [*smaller, variant]:
            smaller.insert(0, one)
            size = self.costs[one].smaller
        floor = max(1, ceil(self.sums.coins(self.terms.floor)))
        for one in smaller:
            if self.sums.can_exchange(self.costs[one].currency):
                floor = self._search(design, one, floor, 0)
        return floor

    def _least(self, design: str, variant: Variant, upto: int) -> int:
        """The least price that may be, or ``upto`` where none below it does."""
        return self._search(design, variant, self.floor(design, variant), upto)

    def _search(self, design: str, variant: Variant, price: int, upto: int) -> int:
        """The first price from this one that has the ending and meets the target; ``upto`` (0: any) ends it.

        A coin more on the price leaves at most a coin more. So a price that lacks many coins is passed by as
        many, less what rounding may be worth; never past the end of a tier, beyond which the fee may fall.
        """
        step = 10 ** len(self.terms.ending)
        for _ in range(MOST_TRIED):
            price += (int(self.terms.ending or 0) - price) % step
            if upto and price >= upto:
                return upto
            _, profit, wanted = self.worst(design, variant, price)
            lacking = floor_of(wanted - profit)
            if profit >= wanted:
                return price
            room = min(self.sums.room_in_tier(price, to) for to in self.destinations)
            price += max(1, min(lacking - ROUNDING, room))
        return upto or price

    def words(self, coins: Fraction | int) -> str:
        return f"{float(coins / 10**self.sums.digits):.{self.sums.digits}f}"
