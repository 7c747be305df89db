"""What a price leaves by the frozen terms, in fractions: no code, formula or Decimal of the pricing room.

All is counted in the smallest coins of the channel's currency. The tax, the channel's fee, the tax on it and
the payment fee are rounded half up; what no price changes is added up and rounded up; averages are exact.
"""

from fractions import Fraction
from math import ceil, floor

from babel.numbers import get_currency_precision

from hundredfold.handoff.manifest_shape import TermsEntry
from hundredfold.handoff.money_shape import CostEntry, DestinationEntry, TargetEntry, TierEntry


class Reckoner:
    """One pack's terms, read as numbers."""

    def __init__(self, terms: TermsEntry) -> None:
        self.terms = terms
        self.digits = get_currency_precision(terms.currency)
        self.unit = Fraction(10**self.digits)
        self.tax_on_bills = Fraction(0) if terms.registered else Fraction(terms.fees.tax)
        self.tiers = [(self.coins(tier.upto), Fraction(tier.rate)) for tier in self._ended(terms.fees.tiers)]

    def _ended(self, tiers: list[TierEntry]) -> list[TierEntry]:
        """The tiers; the last one reaches as far as any amount."""
        return [*tiers[:-1], tiers[-1].model_copy(update={"upto": "9" * 30})]

    def coins(self, amount: str) -> Fraction:
        """An amount of the channel's currency in coins; nothing for no amount."""
        return Fraction(amount or "0") * self.unit

    def can_exchange(self, currency: str) -> bool:
        """Whether the terms hold a rate for a blank's currency."""
        here = self.terms.currency
        return here == currency or bool(
            {f"{currency}/{here}", f"{here}/{currency}"} & self.terms.rates.keys()
        )

    def exchanged(self, amount: Fraction, currency: str) -> Fraction:
        """An amount of a blank's currency in coins of the channel's."""
        here = self.terms.currency
        if currency == here:
            return amount * self.unit
        forward, back = (self.terms.rates.get(pair) for pair in (f"{currency}/{here}", f"{here}/{currency}"))
        if forward is not None:
            return amount * self.unit * Fraction(forward.rate) / (1 - Fraction(forward.spread))
        assert back is not None
        return amount * self.unit / Fraction(back.rate) / (1 - Fraction(back.spread))

    def spent(self, cost: CostEntry, to: DestinationEntry) -> int:
        """All that no price changes, rounded up once."""
        tax = 1 + Fraction(cost.tax)
        factor = tax ** ((0 if self.terms.registered else 1) - (1 if cost.tax_included else 0))

        def bought(*amounts: str) -> Fraction:
            return self.exchanged(sum(map(Fraction, amounts), Fraction(0)) * factor, cost.currency)

        goods = bought(cost.base, cost.sides, cost.packaging)
        postage = bought(cost.postage_to.get(to.code, cost.postage))
        charges = self.terms.charges
        listing = charges.listing
        bills = (self.coins(listing.fee) + listing.renewals * self.coins(listing.renewal)) / Fraction(
            listing.expected_sales
        ) + self.coins(charges.adverts.amount)
        total = goods + postage + bills * (1 + self.tax_on_bills)
        for cause in charges.returns:
            lost = self.coins(cause.postage_back) - Fraction(cause.recovered) * goods
            if cause.replaced:
                lost += goods + postage
            total += Fraction(cause.sales) * lost
        return ceil(total)

    def profit(
        self, price: int, spent: int, to: DestinationEntry, target: TargetEntry
    ) -> tuple[Fraction, Fraction]:
        """What a sale leaves, and what is wanted of it."""
        terms, charges = self.terms, self.terms.charges
        paid = price + self.coins(to.charged)
        income = paid - (self._tax(paid, to) if to.tax_included else 0)
        base = self._seen(paid if terms.fees.on_postage else Fraction(price), to, terms.fees.on_tax)
        fee = half_up(self._fee(base) + self.coins(terms.fees.fixed))
        fee += half_up(fee * self.tax_on_bills)
        payment = charges.payment
        left = income - spent - fee
        left -= half_up(
            Fraction(payment.rate) * self._seen(paid, to, payment.on_tax) + self.coins(payment.fixed)
        )
        adverts = charges.adverts
        left -= paid * Fraction(adverts.share) * Fraction(adverts.on_sales) * (1 + self.tax_on_bills)
        for cause in charges.returns:
            left -= Fraction(cause.sales) * (Fraction(cause.refund) * income - Fraction(cause.fee_back) * fee)
        return left, self.coins(target.amount) + Fraction(target.share) * income

    def room_in_tier(self, price: int, to: DestinationEntry) -> int:
        """How many coins a price can certainly grow before its fee is in another tier."""
        shown = price + (self.coins(to.charged) if self.terms.fees.on_postage else 0)
        base = self._seen(Fraction(shown), to, self.terms.fees.on_tax)
        end = next((upto for upto, _ in self.tiers if base <= upto), self.tiers[-1][0])
        return floor((end - base - 2) / (1 + Fraction(to.tax)))

    def _tax(self, shown: Fraction, to: DestinationEntry) -> int:
        unpaid = to.collected_by == "buyer" or (to.collected_by == "seller" and not self.terms.registered)
        rate = Fraction(0) if unpaid else Fraction(to.tax)
        return half_up(shown - shown / (1 + rate) if to.tax_included else shown * rate)

    def _seen(self, shown: Fraction, to: DestinationEntry, with_tax: bool) -> Fraction:
        if with_tax is to.tax_included:
            return shown
        return shown - self._tax(shown, to) if to.tax_included else shown + self._tax(shown, to)

    def _fee(self, base: Fraction) -> Fraction:
        below, fee = Fraction(0), Fraction(0)
        for upto, rate in self.tiers:
            if self.terms.fees.tiers_by == "part":
                fee += rate * max(Fraction(0), min(base, upto) - below)
            elif below < base <= upto:
                fee = rate * base
            below = upto
        return max(fee, self.coins(self.terms.fees.minimum))


def half_up(exact: Fraction) -> int:
    """To the nearest coin, the greater one where two are as near."""
    return (2 * exact + 1) // 2
