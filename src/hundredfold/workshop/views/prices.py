"""What each blank must cost in each channel, with the whole sum, as the shop's files are now."""

from collections.abc import Iterable, Mapping
from pathlib import Path

from hundredfold.kernel.findings import Finding
from hundredfold.pricing.explain import percent
from hundredfold.pricing.whatif import Amount, World, changed
from hundredfold.workshop.listing.prices import Priced, price_all, price_all_at
from hundredfold.workshop.records.common import finding_record, finding_records
from hundredfold.workshop.records.state import PricePartRecord, PriceRecord, PricesView
from hundredfold.workshop.shop.folder import open_shop


def prices_view(folder: Path, blank: str = "", channel: str = "") -> PricesView:
    """Prices of all blanks in all channels, or of those named.

    Raises ShopError ``unknown-blank``, ``unknown-channel``, and what reading the shop's files raises.
    """
    shop = open_shop(folder)
    blanks = (shop.blank(blank),) if blank else shop.blanks
    channels = (shop.channel(channel),) if channel else shop.channels
    return prices_of(price_all(shop.settings, blanks, channels))


def prices_of(priced: Iterable[Priced], findings: Iterable[Finding] = ()) -> PricesView:
    """The records of these prices, and of what is to be said of them."""
    return PricesView(tuple(map(_record, priced)), finding_records(findings))


def _record(priced: Priced) -> PriceRecord:
    names = (priced.blank.code, priced.channel.code, priced.variant.colour, priced.variant.size)
    cost, answer = str(priced.variant.base_cost), priced.answer
    if isinstance(answer, Finding):
        return PriceRecord(*names, cost, None, None, None, (), finding_record(answer))
    parts = (PricePartRecord(one.name, one.kind, one.amount.plain(), one.how) for one in answer.parts)
    return PriceRecord(
        *names,
        cost,
        str(answer.price),
        str(answer.fee),
        str(answer.profit),
        answer.working,
        None,
        tuple(parts),
        answer.destination,
        answer.wanted.plain(),
        percent(answer.margin),
        percent(answer.markup),
        answer.advert_break_even.plain(),
    )


def tried_view(folder: Path, tries: Mapping[str, str], blank: str = "", channel: str = "") -> PricesView:
    """The same with amounts changed: target, fee, postage, cost, adverts. Nothing is kept.

    Raises ShopError ``bad-what-if`` beside what ``prices_view`` raises.
    """
    shop = open_shop(folder)
    values = {name: Amount.parse(text) for name, text in tries.items()}
    priced: list[Priced] = []
    for goods in (shop.blank(blank),) if blank else shop.blanks:
        for place in (shop.channel(channel),) if channel else shop.channels:
            world = World(shop.settings, goods, place)
            for name, value in values.items():
                world = changed(world, name, value)
            priced += price_all(world.settings, [world.blank], [world.channel])
    return prices_of(priced)


def own_price_view(folder: Path, blank: str, amount: str) -> PricesView:
    """What a price of the seller's own leaves of a blank in each channel, in that channel's currency.

    Raises ShopError ``bad-amount``, ``unknown-blank``, and what reading the shop's files raises.
    """
    shop = open_shop(folder)
    return prices_of(*price_all_at(shop.settings, shop.blank(blank), shop.channels, amount))
