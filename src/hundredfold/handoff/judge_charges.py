"""The channel's money as its file says now, in the shape of frozen terms, for telling what is out of date."""

from fractions import Fraction

from hundredfold.catalogue.channels import Channel
from hundredfold.catalogue.charges import Charges
from hundredfold.handoff.manifest_shape import TermsEntry
from hundredfold.handoff.money_shape import ChargesEntry, FeesEntry
from hundredfold.kernel.money import Money

Facts = dict[str, object]


def money_then(terms: TermsEntry) -> Facts:
    """What the terms say, by name; amounts and shares as fractions."""
    return {
        "ending": terms.ending,
        "floor": _number(terms.floor),
        "ceiling": _number(terms.ceiling),
        "fee": _fee_then(terms.fees),
        **_charges_then(terms.charges),
    }


def money_now(channel: Channel) -> Facts:
    """What the channel's file says, by the same names."""
    fees = channel.fees
    tiers = [(_amount(tier.upto), Fraction(tier.rate)) for tier in fees.tiers]
    switches = (fees.tiers_by.value, fees.on_postage, fees.on_tax)
    fee = (tiers or [(None, Fraction(fees.rate))], _amount(fees.minimum), _amount(fees.fixed), *switches)
    return {
        "ending": channel.price_ending,
        "floor": _amount(channel.min_price),
        "ceiling": _amount(channel.max_price),
        "fee": (*fee, Fraction(fees.tax)),
        **_charges_now(channel.charges),
    }


def _fee_then(fees: FeesEntry) -> tuple[object, ...]:
    tiers = [(_number(tier.upto), Fraction(tier.rate)) for tier in fees.tiers]
    switches = (fees.tiers_by, fees.on_postage, fees.on_tax)
    return tiers, Fraction(fees.minimum), Fraction(fees.fixed), *switches, Fraction(fees.tax)


def _charges_then(charges: ChargesEntry) -> Facts:
    payment, listing, adverts = charges.payment, charges.listing, charges.adverts
    return {
        "payment fee": (Fraction(payment.rate), Fraction(payment.fixed), payment.on_tax),
        "listing fee": (
            Fraction(listing.fee),
            Fraction(listing.renewal) * listing.renewals,
            Fraction(listing.expected_sales),
        ),
        "adverts": (Fraction(adverts.amount), Fraction(adverts.share) * Fraction(adverts.on_sales)),
        "returns": [
            (
                *map(Fraction, (one.sales, one.refund, one.fee_back, one.recovered, one.postage_back)),
                one.replaced,
            )
            for one in charges.returns
        ],
        "destinations": [
            (one.code, Fraction(one.tax), one.tax_included, one.collected_by, Fraction(one.charged))
            for one in charges.destinations
        ],
    }


def _charges_now(charges: Charges) -> Facts:
    payment, listing, adverts = charges.payment, charges.listing, charges.adverts
    usual = charges.postage_charged
    return {
        "payment fee": (Fraction(payment.rate), _amount(payment.fixed) or 0, payment.on_tax),
        "listing fee": (
            _amount(listing.fee) or 0,
            (_amount(listing.renewal) or 0) * listing.renewals,
            Fraction(listing.expected_sales),
        ),
        "adverts": (_amount(adverts.amount) or 0, Fraction(adverts.share) * Fraction(adverts.on_sales)),
        "returns": [
            (
                *map(Fraction, (one.sales, one.refund, one.fee_back, one.recovered)),
                _amount(one.postage_back) or 0,
                one.replaced,
            )
            for one in charges.returns
        ],
        "destinations": [
            (
                one.code,
                Fraction(one.tax),
                one.tax_included,
                one.collected_by.value,
                _amount(usual if one.postage_charged is None else one.postage_charged) or 0,
            )
            for one in charges.destinations
        ],
    }


def _number(text: str) -> Fraction | None:
    return Fraction(text) if text else None


def _amount(money: Money | None) -> Fraction | None:
    return None if money is None else Fraction(money.amount)
