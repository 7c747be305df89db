"""From the shop's settings, a blank's variant and a channel to what its price is asked for."""

from decimal import Decimal, localcontext
from fnmatch import fnmatchcase

from hundredfold.catalogue.blanks import Blank, BlankVariant
from hundredfold.catalogue.channels import Channel
from hundredfold.catalogue.charges import Destination
from hundredfold.catalogue.settings import ShopSettings
from hundredfold.kernel.money import Money
from hundredfold.pricing.price import PriceRequest
from hundredfold.pricing.sale import EXACT, Costs, Sale, Target, coin, rounded_up_once


def usual_target(settings: ShopSettings, channel: Channel) -> Target:
    """The shop's own target in the channel's currency. Raises ShopError ``missing-rate``."""
    return _target(settings.target_profit, settings.target_share, settings, channel)


def target_for(
    settings: ShopSettings, channel: Channel, blank: str, size: str = "", niche: str = "", design: str = ""
) -> Target:
    """The profit wanted, in the channel's currency; ``design`` is the name of its file.

    Converted amounts are rounded up once. Raises ShopError ``missing-rate``.
    """
    fitting = [
        rule
        for rule in settings.targets
        if rule.channel in ("", channel.code)
        and rule.blank in ("", blank)
        and rule.size in ("", size)
        and rule.niche in ("", niche)
        and (not rule.design or fnmatchcase(design, rule.design))
    ]
    rule = max(fitting, key=lambda one: one.rank, default=None)
    profit = rule.profit if rule and rule.profit is not None else settings.target_profit
    share = rule.share if rule and rule.share is not None else settings.target_share
    return _target(profit, share, settings, channel)


def _target(profit: Money, share: Decimal, settings: ShopSettings, channel: Channel) -> Target:
    exact = _converted(profit, settings, channel.currency)
    unit = coin(channel.currency)
    return Target(Money(rounded_up_once(exact.amount / unit) * unit, channel.currency), share)


def costs_for(
    blank: Blank, variant: BlankVariant, to: Destination, settings: ShopSettings, currency: str
) -> Costs:
    """What a piece costs when it goes there: exact, converted, with the tax that cannot be reclaimed.

    Raises ShopError ``missing-rate``.
    """
    making = blank.making

    def bought(money: Money) -> Money:
        with localcontext(EXACT):
            amount, over = making.kept(money.amount, settings.tax_registered)
            return _converted(Money(amount, money.currency), settings, currency, over)

    side = making.side.amount * (making.sides - 1) if making.side else Decimal(0)
    return Costs(
        base=bought(variant.base_cost),
        postage=bought(making.postage_to.get(to.code, blank.postage)),
        sides=bought(Money(side, blank.postage.currency)) if side else None,
        packaging=bought(making.packaging) if making.packaging else None,
    )


def asked_for(
    blank: Blank,
    variant: BlankVariant,
    settings: ShopSettings,
    channel: Channel,
    target: Target,
    floor: Money | None = None,
) -> PriceRequest:
    """What the variant's price in the channel is asked for; ``floor`` is that of the next smaller size.

    Raises ShopError ``missing-rate``.
    """
    sales = tuple(
        Sale(
            target,
            costs_for(blank, variant, to, settings, channel.currency),
            channel.fees,
            channel.charges,
            to,
            settings.tax_registered,
        )
        for to in channel.charges.destinations
    )
    floors = [money for money in (channel.min_price, floor) if money is not None]
    named = (blank.code, variant.colour, variant.size, "in", channel.code)
    return PriceRequest(
        sales,
        channel.price_ending,
        max(floors, default=None),
        channel.max_price,
        " ".join(part for part in named if part),
    )


def _converted(money: Money, settings: ShopSettings, currency: str, over: Decimal = Decimal(1)) -> Money:
    """The amount divided by ``over``, in another currency: one division, at 60 digits."""
    with localcontext(EXACT):
        times, divided = settings.exchange(money.currency, currency)
        return Money(money.amount * times / (divided * over), currency)
