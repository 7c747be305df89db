"""Prices of a blank's sizes: each meets its own target, and a larger size is never the cheaper one."""

from collections.abc import Mapping

from hundredfold.catalogue.blanks import Blank
from hundredfold.catalogue.channels import Channel
from hundredfold.catalogue.settings import ShopSettings
from hundredfold.catalogue.sizeorder import sizes_in_order
from hundredfold.kernel.findings import Finding
from hundredfold.kernel.money import Money
from hundredfold.pricing.asking import asked_for, target_for
from hundredfold.pricing.price import Price, price_for
from hundredfold.pricing.sale import Target

Targets = Mapping[str, Target]  # by size


def targets_for(
    settings: ShopSettings, channel: Channel, blank: Blank, niche: str = "", design: str = ""
) -> Targets:
    """What is wanted of each size. Raises ShopError ``missing-rate``."""
    return {
        size: target_for(settings, channel, blank.code, size, niche, design) for size in sizes_in_order(blank)
    }


def prices_of(
    blank: Blank, colour: str, settings: ShopSettings, channel: Channel, targets: Targets
) -> dict[str, Price | Finding]:
    """The least price of each size that is offered in the colour, smallest first; or why there is none.

    The price of one size is the floor of the next: prices are tested again from there, since a price that
    does for one need not do for another. Raises ShopError ``missing-rate``.
    """
    by_size = {variant.size: variant for variant in blank.offered() if variant.colour == colour}
    found: dict[str, Price | Finding] = {}
    floor: Money | None = None
    for size in sizes_in_order(blank):
        if size in by_size:
            answer = price_for(asked_for(blank, by_size[size], settings, channel, targets[size], floor))
            if isinstance(answer, Price):
                floor = answer.price
            found[size] = answer
    return found
