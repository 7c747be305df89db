"""What each blank must cost in each channel, with the whole sum, as the shop's files are now."""

from collections.abc import Iterable
from pathlib import Path

from hundredfold.kernel.findings import Finding
from hundredfold.pricing.explain import percent
from hundredfold.workshop.listing.prices import Priced, price_all
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
