"""What is taken from a sale: fees, tax, adverts, returns; and what a blank costs besides its base cost.

Shares are 0 to 1. An amount of None is nothing. Amounts of a channel are in its currency, those of a blank
in the blank's.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from enum import StrEnum

from hundredfold.kernel.money import Money

NOTHING, WHOLE = Decimal(0), Decimal(1)


class CollectedBy(StrEnum):
    """Who takes a sale's tax from the buyer and pays it over."""

    SELLER = "seller"
    CHANNEL = "channel"
    BUYER = "buyer"  # pays it at the border; neither price nor income hold any


class TiersBy(StrEnum):
    """What a tier's rate is taken from."""

    PART = "part"  # the part of the sum that lies inside the tier
    WHOLE = "whole"  # the whole sum, once it lies inside the tier


@dataclass(frozen=True)
class Tier:
    """One step of a fee; ``upto`` belongs to it, and None means no end."""

    upto: Money | None
    rate: Decimal


@dataclass(frozen=True)
class Fees:
    """What a channel takes of a sale: the larger of rate x sum and ``minimum``, plus ``fixed``.

    ``tiers`` stand in for ``rate`` where there are some, smallest first. ``tax`` is added to the channel's
    bill; who is registered reclaims it.
    """

    rate: Decimal
    minimum: Money
    fixed: Money
    tiers: tuple[Tier, ...] = ()
    tiers_by: TiersBy = TiersBy.PART
    on_postage: bool = True
    on_tax: bool = True
    tax: Decimal = NOTHING


@dataclass(frozen=True)
class Payment:
    """What the card or payment service takes of all that the buyer pays."""

    rate: Decimal = NOTHING
    fixed: Money | None = None
    on_tax: bool = True


@dataclass(frozen=True)
class ListingFee:
    """What it costs to be listed: once, and again each ``renew_days`` of the ``kept_days``.

    ``expected_sales`` are those of the whole time, which share the cost.
    """

    fee: Money | None = None
    renewal: Money | None = None
    renew_days: int = 0
    kept_days: int = 0
    expected_sales: Decimal = WHOLE

    @property
    def renewals(self) -> int:
        """How often it is renewed: at the end of each period that is not the last."""
        return max(0, -(-self.kept_days // self.renew_days) - 1) if self.renew_days else 0


@dataclass(frozen=True)
class Adverts:
    """What adverts cost a sale: an amount, and a share of the price on some of the sales."""

    amount: Money | None = None
    share: Decimal = NOTHING
    on_sales: Decimal = WHOLE


@dataclass(frozen=True)
class ReturnCause:
    """One reason why goods come back, and what is lost by it.

    ``sales`` is how many of all sales; the rest are shares of one such return: ``refund`` of what the buyer
    paid, ``fee_back`` of the channel's fee, ``recovered`` of the goods' cost. ``replaced``: another piece is
    made and sent.
    """

    name: str
    sales: Decimal
    refund: Decimal = WHOLE
    fee_back: Decimal = NOTHING
    recovered: Decimal = NOTHING
    postage_back: Money | None = None
    replaced: bool = False


@dataclass(frozen=True)
class Destination:
    """Where goods go: its tax, who collects it, and the postage charged there (None: the channel's)."""

    code: str = ""
    tax: Decimal = NOTHING
    tax_included: bool = True
    collected_by: CollectedBy = CollectedBy.SELLER
    postage_charged: Money | None = None


@dataclass(frozen=True)
class Charges:
    """All that a channel's sale pays for besides the channel's own fee.

    A price meets the target at every destination; without any there is one, without tax.
    """

    postage_charged: Money | None = None
    payment: Payment = Payment()
    listing: ListingFee = ListingFee()
    adverts: Adverts = Adverts()
    returns: tuple[ReturnCause, ...] = ()
    destinations: tuple[Destination, ...] = (Destination(),)


NO_CHARGES, ANYWHERE = Charges(), Destination()


@dataclass(frozen=True)
class MakingCosts:
    """What a piece costs beside base cost and postage.

    ``tax`` is on the partner's bill: inside the amounts as written (``tax_included``) or on top of them.
    ``postage_to`` is the partner's postage by destination.
    """

    side: Money | None = None
    sides: int = 1  # printed sides; the first one is in the base cost
    packaging: Money | None = None
    postage_to: Mapping[str, Money] = field(default_factory=dict, hash=False)
    tax: Decimal = NOTHING
    tax_included: bool = False

    def kept(self, amount: Decimal, registered: bool) -> tuple[Decimal, Decimal]:
        """Numerator and divisor of what an amount costs, with the tax that the seller cannot reclaim."""
        if self.tax_included:
            return (amount, 1 + self.tax) if registered else (amount, WHOLE)
        return (amount, WHOLE) if registered else (amount * (1 + self.tax), WHOLE)


NO_EXTRAS = MakingCosts()
