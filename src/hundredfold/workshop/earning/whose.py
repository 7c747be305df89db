"""Whose a SKU is: its listing, design, niche, occasion and layout row, and the plan of its price."""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from functools import cached_property
from pathlib import PurePosixPath

from hundredfold.catalogue.blanks import Blank, BlankVariant
from hundredfold.catalogue.channels import Channel
from hundredfold.kernel.errors import ShopError
from hundredfold.kernel.nearest import did_you_mean
from hundredfold.ledger.events import Event
from hundredfold.ledger.keys import SkuKey
from hundredfold.ledger.state import LedgerState
from hundredfold.pricing.asking import asked_for, usual_target
from hundredfold.pricing.sale import Sums
from hundredfold.results.earned import Earned
from hundredfold.store.shopstore import Store
from hundredfold.workshop.shop.folder import Shop
from hundredfold.workshop.shop.madelist import Made, all_made
from hundredfold.workshop.shop.naming import DesignNames, shop_names
from hundredfold.workshop.steps.identity import known_designs

TIES = "tied skus"  # the setting that holds them: their SKU -> ours
UNTIED = "not tied to a listing"
WHOLE = "the channel as a whole"
NONE = "none"
BY = ("listing", "design", "blank", "colour", "niche", "occasion", "channel", "month", "layout")


@dataclass(frozen=True)
class Whose:
    """Looks SKUs up; made for one shop at one moment."""

    shop: Shop
    state: LedgerState
    paths: Mapping[str, str]  # design id -> path
    ties: Mapping[str, str]

    def key(self, sku: str) -> SkuKey | None:
        """What a SKU stands for, through its tie where it has one."""
        return self.state.owners.get(self.ties.get(sku, sku))

    def names(self, by: str) -> "ResultNames":
        """What results are grouped under."""
        return ResultNames(self, by)

    def sums(self, sku: str) -> Sums | None:
        """The plan of a SKU's price; None where its blank, variant or channel is gone."""
        key = self.key(sku)
        blank = self._blanks.get(key.blank) if key else None
        channel = self._channels.get(key.channel) if key else None
        if key is None or blank is None or channel is None:
            return None
        variant = next((v for v in blank.variants if (v.colour, v.size) == (key.colour, key.size)), None)
        return self._sums(blank, variant, channel) if variant is not None else None

    def _sums(self, blank: Blank, variant: BlankVariant, channel: Channel) -> Sums | None:
        place = (blank.code, variant.colour, variant.size, channel.code)
        if place not in self._known:
            try:
                target = usual_target(self.shop.settings, channel)
                asked = asked_for(blank, variant, self.shop.settings, channel, target)
                codes = [sale.destination.code for sale in asked.sales]
                at = codes.index(channel.destination) if channel.destination in codes else 0
                self._known[place] = asked.sales[at].sums
            except ShopError:  # a rate that is missing is told where prices are made
                self._known[place] = None
        return self._known[place]

    def convert(self, source: str, target: str) -> Decimal | None:
        """What one unit of a currency is in another, by the shop's rates; None where there is none."""
        try:
            return self.shop.settings.rate(source, target)
        except ShopError:
            return None

    @cached_property
    def _blanks(self) -> dict[str, Blank]:
        return {blank.code: blank for blank in self.shop.blanks}

    @cached_property
    def _channels(self) -> dict[str, Channel]:
        return {channel.code: channel for channel in self.shop.channels}

    @cached_property
    def _known(self) -> dict[tuple[str, str, str, str], Sums | None]:
        return {}

    @cached_property
    def made(self) -> Mapping[str, Made]:
        """What was made from a word list, by file name."""
        return all_made(self.shop.files)[0]

    @cached_property
    def named(self) -> DesignNames:
        """What names.csv says."""
        return shop_names(self.shop)


class ResultNames:
    """The names of results under one heading."""

    def __init__(self, whose: Whose, by: str) -> None:
        self._whose, self._by = whose, by
        self._known: dict[tuple[str, str], str] = {}

    def __call__(self, one: Earned) -> str:
        """The name that a result counts under."""
        if self._by == "month":
            return one.month
        if self._by == "channel":
            return one.channel
        place = (one.channel, one.sku)
        if place not in self._known:
            self._known[place] = self._name(one)
        return self._known[place]

    def _name(self, one: Earned) -> str:
        key = self._whose.key(one.sku)
        if key is None:
            return UNTIED if one.sku else WHOLE
        file = PurePosixPath(self._whose.paths.get(key.design, key.design)).name
        if self._by == "listing":
            return f"{PurePosixPath(file).stem} on {key.blank} in {key.channel}"
        if self._by == "design":
            return PurePosixPath(file).stem
        if self._by == "blank":
            return key.blank
        if self._by == "colour":
            return f"{key.blank}, {key.colour}" if key.colour else key.blank
        made = self._whose.made.get(file)
        if self._by == "layout":
            return f"{made.layout}, row {made.row} of {made.list}" if made else NONE
        row = self._whose.named.rows.get(file, {})
        return row.get(self._by, "") or (getattr(made, self._by) if made else "") or NONE


def whose(shop: Shop, store: Store, state: LedgerState, events: tuple[Event, ...]) -> Whose:
    """Look into the shop as it is now."""
    paths = {one.id: one.path for one in known_designs(events).values()}
    return Whose(shop, state, paths, ties(store))


def ties(store: Store) -> dict[str, str]:
    """Foreign SKUs that were tied to ours."""
    held = store.setting(TIES)
    return {str(theirs): str(ours) for theirs, ours in held.items()} if isinstance(held, dict) else {}


def tie(store: Store, state: LedgerState, theirs: str, ours: str) -> None:
    """Tie a foreign SKU to one of ours; "" unties it. Raises ShopError ``unknown-sku``."""
    if ours and ours not in state.owners:
        fix = did_you_mean(ours, state.owners)
        raise ShopError("unknown-sku", f"{ours} is no SKU of this shop", fix)
    if theirs in state.owners:
        raise ShopError(
            "unknown-sku", f"{theirs} is a SKU of this shop already", "tie only those that are not"
        )
    held = ties(store)
    held.pop(theirs, None)
    if ours:
        held[theirs] = ours
    store.set_setting(TIES, held or None)
