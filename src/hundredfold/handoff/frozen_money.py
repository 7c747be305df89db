"""A channel's fees and a blank's costs as the plain values that are frozen into a manifest."""

from collections.abc import Mapping
from decimal import Decimal

from hundredfold.catalogue.charges import Charges, Fees, MakingCosts
from hundredfold.catalogue.settings import Rate
from hundredfold.kernel.money import Money


def exact(money: Money | None) -> str:
    """The exact amount, never in exponent form; empty for none."""
    return "" if money is None else format(money.amount, "f")


def _or_nothing(money: Money | None) -> str:
    return exact(money) or "0"


def _share(value: Decimal) -> str:
    return format(value, "f")


def fees_json(fees: Fees) -> dict[str, object]:
    """The channel's fee; a rate is one tier without an end."""
    tiers = [{"upto": exact(tier.upto), "rate": _share(tier.rate)} for tier in fees.tiers]
    return {
        "tiers": tiers or [{"upto": "", "rate": _share(fees.rate)}],
        "tiers_by": fees.tiers_by.value,
        "minimum": exact(fees.minimum),
        "fixed": exact(fees.fixed),
        "on_postage": fees.on_postage,
        "on_tax": fees.on_tax,
        "tax": _share(fees.tax),
    }


def charges_json(charges: Charges) -> dict[str, object]:
    """All else that a sale pays for."""
    payment, listing, adverts = charges.payment, charges.listing, charges.adverts
    return {
        "payment": {
            "rate": _share(payment.rate),
            "fixed": _or_nothing(payment.fixed),
            "on_tax": payment.on_tax,
        },
        "listing": {
            "fee": _or_nothing(listing.fee),
            "renewal": _or_nothing(listing.renewal),
            "renewals": listing.renewals,
            "expected_sales": _share(listing.expected_sales),
        },
        "adverts": {
            "amount": _or_nothing(adverts.amount),
            "share": _share(adverts.share),
            "on_sales": _share(adverts.on_sales),
        },
        "returns": [
            {
                "sales": _share(cause.sales),
                "refund": _share(cause.refund),
                "fee_back": _share(cause.fee_back),
                "recovered": _share(cause.recovered),
                "postage_back": _or_nothing(cause.postage_back),
                "replaced": cause.replaced,
            }
            for cause in charges.returns
        ],
        "destinations": [
            {
                "code": to.code,
                "tax": _share(to.tax),
                "tax_included": to.tax_included,
                "collected_by": to.collected_by.value,
                "charged": _or_nothing(
                    charges.postage_charged if to.postage_charged is None else to.postage_charged
                ),
            }
            for to in charges.destinations
        ],
    }


def rates_json(rates: Mapping[tuple[str, str], Rate]) -> dict[str, object]:
    """Rates by pair, ``GBP/USD``, with the day they were looked up."""
    return {
        f"{source}/{target}": {
            "rate": _share(rate.value),
            "spread": _share(rate.spread),
            "day": rate.day.isoformat() if rate.day else "",
        }
        for (source, target), rate in sorted(rates.items())
    }


def cost_json(
    variant: tuple[str, str, str], base: Money, postage: Money, making: MakingCosts, smaller: str | None
) -> dict[str, object]:
    """What one variant costs, in its blank's own currency."""
    blank, colour, size = variant
    side = making.side.amount * (making.sides - 1) if making.side else Decimal(0)
    return {
        "blank": blank,
        "colour": colour,
        "size": size,
        "currency": base.currency,
        "base": exact(base),
        "postage": exact(postage),
        "postage_to": {name: exact(money) for name, money in sorted(making.postage_to.items())},
        "sides": _share(side),
        "packaging": _or_nothing(making.packaging),
        "tax": _share(making.tax),
        "tax_included": making.tax_included,
        "smaller": [] if smaller is None else [smaller],
    }
