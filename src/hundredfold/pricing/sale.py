"""One sale to one destination, reckoned in the smallest coins of its currency.

Rounding, the whole rule: what does not depend on the price (goods, postage, spread listing fee, adverts by
amount, what returns waste) is added up exactly and rounded up once. Tax, the channel's fee, the tax on it
and the payment fee are really charged, each rounded half up to a coin. Shares on average (adverts on some
sales, refunds) are never paid as such and stay exact.
"""

from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_HALF_UP, Context, Decimal, localcontext
from functools import cached_property

from hundredfold.catalogue.charges import (
    ANYWHERE,
    NO_CHARGES,
    Charges,
    CollectedBy,
    Destination,
    Fees,
    TiersBy,
)
from hundredfold.kernel.errors import ShopError
from hundredfold.kernel.money import Money, minor_digits

ZERO, ONE = Decimal(0), Decimal(1)
# Sums of amounts of 12 digits times up to four rates of 12 decimals are exact in 60 digits.
EXACT = Context(prec=60)
# What is left of a sum after its last division is true to far more digits than any amount has.
_TRUE = ONE.scaleb(-30)


@dataclass(frozen=True)
class Target:
    """The profit wanted from each sale: an amount, a share of the sum without tax (0 to 1), or both added."""

    amount: Money
    share: Decimal = ZERO


@dataclass(frozen=True)
class Costs:
    """What one piece costs, exact, in the channel's currency, with the tax that cannot be reclaimed."""

    base: Money
    postage: Money
    sides: Money | None = None  # printed beyond the first
    packaging: Money | None = None


@dataclass(frozen=True)
class Sale:
    """One sale to one destination. ``registered``: the seller pays over tax and reclaims it."""

    target: Target
    costs: Costs
    fees: Fees
    charges: Charges = NO_CHARGES
    destination: Destination = ANYWHERE
    registered: bool = False

    @cached_property
    def sums(self) -> "Sums":
        """The sale in coins. Raises ShopError ``mixed-currencies``."""
        with localcontext(EXACT):
            return _sums(self)


@dataclass(frozen=True)
class Split:
    """Where what is paid goes, at one price; coins."""

    paid: Decimal  # price and postage charged, as the listing shows them
    tax: Decimal  # inside ``paid`` where prices include it, else on top
    income: Decimal  # paid without tax
    fee: Decimal  # the channel's, its fixed part included
    fee_tax: Decimal
    payment: Decimal
    adverts: Decimal  # by share
    returns: Decimal  # refunds, less the fees that come back
    profit: Decimal
    wanted: Decimal


@dataclass(frozen=True)
class Sums:
    """A sale's numbers in coins. ``parts`` are the costs that no price changes, exact, by name."""

    currency: str
    parts: tuple[tuple[str, Decimal], ...]
    costs: Decimal  # their sum, rounded up once
    target: Decimal
    share: Decimal
    charged: Decimal
    tax: Decimal
    included: bool
    tiers: tuple[tuple[Decimal | None, Decimal], ...]
    by_whole: bool
    minimum: Decimal
    fixed: Decimal
    on_postage: bool
    fee_on_tax: bool
    fee_tax: Decimal
    pay_rate: Decimal
    pay_fixed: Decimal
    pay_on_tax: bool
    advert_share: Decimal
    advert_amount: Decimal
    refunded: Decimal  # of income, over all sales
    fee_back: Decimal  # of fees, over all sales

    def split(self, price: int) -> Split:
        """Everything at one price, in coins."""
        with localcontext(EXACT):
            return Split(*self._split(price))

    def meets(self, price: int) -> bool:
        """Whether the price leaves what is wanted; to be called in a context of EXACT digits."""
        *_, profit, wanted = self._split(price)
        return profit >= wanted

    def _split(self, price: int) -> tuple[Decimal, ...]:
        paid = price + self.charged
        tax = self.tax_on(paid) if self.tax else ZERO
        income = paid - tax if self.included else paid
        fee = _half_up(self.fee_of(self.fee_base(price)) + self.fixed)
        fee_tax = _half_up(fee * self.fee_tax) if self.fee_tax else ZERO
        payment = _half_up(self.pay_rate * self.seen(paid, tax, self.pay_on_tax) + self.pay_fixed)
        adverts = self.advert_share * paid
        returns = self.refunded * income - self.fee_back * (fee + fee_tax)
        profit = income - fee - fee_tax - payment - adverts - returns - self.costs
        return (
            paid,
            tax,
            income,
            fee,
            fee_tax,
            payment,
            adverts,
            returns,
            profit,
            self.target + self.share * income,
        )

    def tax_on(self, amount: Decimal) -> Decimal:
        """The tax of an amount as it is shown to the buyer, in whole coins."""
        due = amount * self.tax / (1 + self.tax) if self.included else amount * self.tax
        return _half_up(due)

    def seen(self, amount: Decimal, tax: Decimal, on_tax: bool) -> Decimal:
        """What a fee is taken from: with the tax or without it."""
        if self.included:
            return amount if on_tax else amount - tax
        return amount + tax if on_tax else amount

    def fee_base(self, price: int) -> Decimal:
        """What the channel's fee is taken from."""
        amount = price + (self.charged if self.on_postage else ZERO)
        if not self.tax:
            return amount
        return self.seen(amount, self.tax_on(amount), self.fee_on_tax)

    def fee_of(self, base: Decimal) -> Decimal:
        """The channel's fee before rounding, without its fixed part."""
        constant, rate = self.lines[self._tier_of(base)]
        return max(self.minimum, constant + rate * base)

    def _tier_of(self, base: Decimal) -> int:
        for number, (upto, _) in enumerate(self.tiers):
            if upto is None or base <= upto:
                return number
        return len(self.tiers) - 1

    @cached_property
    def lines(self) -> tuple[tuple[Decimal, Decimal], ...]:
        """Each tier's fee as a line over the sum: constant and rate."""
        if self.by_whole:
            return tuple((ZERO, rate) for _, rate in self.tiers)
        found, below, start = [], ZERO, ZERO  # the fee of the tiers below, and where this one starts
        for upto, rate in self.tiers:
            found.append((below - rate * start, rate))
            if upto is not None:
                below, start = below + rate * (upto - start), upto
        return tuple(found)


def coin(currency: str) -> Decimal:
    """The smallest coin: ``0.01`` of GBP."""
    return ONE.scaleb(-minor_digits(currency))


def rounded_up_once(exact: Decimal) -> Decimal:
    """A sum of costs in coins, rounded up; what a division left beyond 30 decimals is none of it."""
    with localcontext(EXACT):
        return exact.quantize(_TRUE).to_integral_value(rounding=ROUND_CEILING)


def _half_up(exact: Decimal) -> Decimal:
    return exact.quantize(ONE, rounding=ROUND_HALF_UP)


class _Coins:
    """Amounts of one currency in its smallest coins."""

    def __init__(self, currency: str) -> None:
        self.currency = currency
        self.digits = minor_digits(currency)

    def __call__(self, money: Money | None) -> Decimal:
        if money is None:
            return ZERO
        if money.currency != self.currency:
            raise ShopError(
                "mixed-currencies",
                f"{money.currency} and {self.currency} cannot be added or compared",
                "give a rate for the pair in shop.toml",
            )
        return money.amount.scaleb(self.digits)


def _sums(sale: Sale) -> Sums:
    coins = _Coins(sale.costs.base.currency)
    fees, charges, to = sale.fees, sale.charges, sale.destination
    fee_tax = ZERO if sale.registered else fees.tax
    due = to.collected_by is CollectedBy.CHANNEL or (
        to.collected_by is CollectedBy.SELLER and sale.registered
    )
    charged = charges.postage_charged if to.postage_charged is None else to.postage_charged
    parts = tuple((name, amount) for name, amount in _parts(sale, coins, 1 + fee_tax) if amount)
    return Sums(
        currency=coins.currency,
        parts=parts,
        costs=rounded_up_once(sum((amount for _, amount in parts), ZERO)),
        target=coins(sale.target.amount),
        share=sale.target.share,
        charged=coins(charged),
        tax=to.tax if due else ZERO,
        included=to.tax_included,
        tiers=tuple((coins(tier.upto) if tier.upto else None, tier.rate) for tier in fees.tiers)
        or ((None, fees.rate),),
        by_whole=fees.tiers_by is TiersBy.WHOLE,
        minimum=coins(fees.minimum),
        fixed=coins(fees.fixed),
        on_postage=fees.on_postage,
        fee_on_tax=fees.on_tax,
        fee_tax=fee_tax,
        pay_rate=charges.payment.rate,
        pay_fixed=coins(charges.payment.fixed),
        pay_on_tax=charges.payment.on_tax,
        advert_share=charges.adverts.share * charges.adverts.on_sales * (1 + fee_tax),
        advert_amount=coins(charges.adverts.amount) * (1 + fee_tax),
        refunded=sum((cause.sales * cause.refund for cause in charges.returns), ZERO),
        fee_back=sum((cause.sales * cause.fee_back for cause in charges.returns), ZERO),
    )


def _parts(sale: Sale, coins: _Coins, taxed: Decimal) -> tuple[tuple[str, Decimal], ...]:
    """What no price changes, by name; ``taxed`` puts the channel's own tax on top of its bills."""
    costs, listing = sale.costs, sale.charges.listing
    goods = coins(costs.base) + coins(costs.sides) + coins(costs.packaging)
    postage = coins(costs.postage)
    listed = (coins(listing.fee) + listing.renewals * coins(listing.renewal)) * taxed
    wasted = ZERO
    for cause in sale.charges.returns:
        again = goods + postage if cause.replaced else ZERO
        wasted += cause.sales * (coins(cause.postage_back) - cause.recovered * goods + again)
    return (
        ("base cost", coins(costs.base)),
        ("extra sides", coins(costs.sides)),
        ("packaging", coins(costs.packaging)),
        ("postage", postage),
        ("listing fee", listed / listing.expected_sales),
        ("adverts", coins(sale.charges.adverts.amount) * taxed),
        ("returns", wasted),
    )
