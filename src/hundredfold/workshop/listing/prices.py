"""What each variant must cost in each channel, in that channel's currency."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from hundredfold.catalogue.blanks import Blank, BlankVariant
from hundredfold.catalogue.channels import Channel
from hundredfold.catalogue.settings import ShopSettings
from hundredfold.kernel.findings import Finding
from hundredfold.kernel.money import Money
from hundredfold.pricing.price import Price, Target, price_for


@dataclass(frozen=True)
class Priced:
    """A variant in a channel: its price with the working, or the finding that says why there is none."""

    blank: Blank
    channel: Channel
    variant: BlankVariant
    answer: Price | Finding


def in_currency(money: Money, settings: ShopSettings, channel: Channel) -> Money:
    """An amount of the shop in the channel's currency, rounded up so that no cost gets smaller.

    Raises ShopError ``missing-rate``.
    """
    return settings.convert(money, channel.currency).rounded_up()


def target_of(settings: ShopSettings, channel: Channel) -> Target:
    """The profit wanted on each piece, in the channel's currency."""
    return Target(in_currency(settings.target_profit, settings, channel), settings.target_share)


def price_variant(
    blank: Blank, variant: BlankVariant, settings: ShopSettings, channel: Channel
) -> Price | Finding:
    """The least price of the variant that meets the target, or the finding that there is none."""
    named = (blank.code, variant.colour, variant.size, "in", channel.code)
    return price_for(
        target_of(settings, channel),
        in_currency(variant.base_cost, settings, channel),
        in_currency(blank.postage, settings, channel),
        channel.fees,
        channel.price_ending,
        max_price=channel.max_price,
        item=" ".join(part for part in named if part),
    )


def price_all(
    settings: ShopSettings, blanks: Iterable[Blank], channels: Iterable[Channel]
) -> Iterator[Priced]:
    """Every offered variant of the blanks in every channel that sells it, in that order."""
    for blank in blanks:
        for channel in channels:
            if not channel.blanks or blank.code in channel.blanks:
                for variant in blank.offered():
                    yield Priced(blank, channel, variant, price_variant(blank, variant, settings, channel))
