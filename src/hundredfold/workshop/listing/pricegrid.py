"""What-if grids: a blank's prices in a channel for every pair of values tried."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import product

from hundredfold.catalogue.blanks import Blank
from hundredfold.catalogue.channels import Channel
from hundredfold.catalogue.settings import ShopSettings
from hundredfold.kernel.findings import Finding
from hundredfold.pricing.price import Price
from hundredfold.pricing.whatif import Axis, World
from hundredfold.workshop.listing.prices import price_all


@dataclass(frozen=True)
class TriedPrices:
    """The values tried, as they were written, and what each variant answers to them."""

    values: tuple[str, ...]
    answers: tuple[Price | Finding, ...]

    @property
    def prices(self) -> tuple[Price, ...]:
        """Those variants that have a price."""
        return tuple(answer for answer in self.answers if isinstance(answer, Price))


def price_grid(
    settings: ShopSettings, blank: Blank, channel: Channel, axes: Sequence[Axis]
) -> Iterator[TriedPrices]:
    """A cell for each combination of values, the last axis quickest. Raises ShopError ``bad-what-if``."""
    for values in product(*(axis.values for axis in axes)):
        world = World(settings, blank, channel)
        for axis, value in zip(axes, values, strict=True):
            world = axis.changed(world, value)
        answers = tuple(each.answer for each in price_all(world.settings, [world.blank], [world.channel]))
        yield TriedPrices(tuple(value.text for value in values), answers)
