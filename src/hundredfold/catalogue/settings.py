"""The shop's own settings: what shop.toml says."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal

from hundredfold.kernel.errors import ShopError, Where
from hundredfold.kernel.money import Money


@dataclass(frozen=True)
class Rate:
    """What one unit of a currency buys of another.

    ``day`` is when it was looked up, ``spread`` the share that each exchange loses.
    """

    value: Decimal
    day: date | None = None
    spread: Decimal = Decimal(0)


@dataclass(frozen=True)
class TargetRule:
    """Another target for some listings; an empty name is any. ``design`` is a file name or a pattern of one.

    Where several rules fit, one that names the design goes before one that names the niche, then size, blank,
    channel. What a rule leaves out is the shop's.
    """

    channel: str = ""
    blank: str = ""
    size: str = ""
    niche: str = ""
    design: str = ""
    profit: Money | None = None
    share: Decimal | None = None

    @property
    def rank(self) -> tuple[bool, ...]:
        """What it names, the strongest first."""
        return tuple(map(bool, (self.design, self.niche, self.size, self.blank, self.channel)))


@dataclass(frozen=True)
class ShopSettings:
    """What a shop decided once for all its goods and channels.

    ``rates`` maps (from, to) currency pairs to what one unit of the first buys of the second.
    """

    name: str
    currency: str  # ISO 4217, of costs and the profit target
    target_profit: Money  # wanted on each piece sold, after every cost and fee
    target_share: Decimal = Decimal(0)  # of what the buyer pays (0 to 1), wanted on top of the amount
    language: str = "en-GB"  # BCP 47
    sku_prefix: str = "HF"  # begins every SKU made from now on; given SKUs never change
    price_ending: str = ""  # the last digits of prices, where a channel sets none; "" for no ending
    tax_registered: bool = False  # pays over the tax that it collects, and reclaims the tax it pays
    targets: tuple[TargetRule, ...] = ()
    month_days: int = 30
    month_start: date | None = None  # None: the day after the month is prepared
    colours_to_list: int = 0  # at most so many colours of a blank in one listing; 0 for no limit
    checks_profile: str = ""  # file of thresholds in the shop folder; "" for the built-in ones
    database: str = ""  # URL of the PostgreSQL database that keeps the record; "" for .hundredfold/shop.db
    delivery_folder: str = "delivered"  # where `deliver` copies packs to, from the shop folder
    rates: Mapping[tuple[str, str], Rate] = field(default_factory=dict)
    values: Mapping[str, str] = field(default_factory=dict)  # what is true of all goods: {value NAME}

    def exchange(self, source: str, target: str) -> tuple[Decimal, Decimal]:
        """What an amount is multiplied and divided by to buy it in another currency, the spread included.

        Two numbers, so that a sum is divided once and stays exact. Raises ShopError ``missing-rate``.
        """
        if source == target:
            return Decimal(1), Decimal(1)
        known, forward = self.rates.get((source, target)), True
        if known is None:
            known, forward = self.rates.get((target, source)), False
        if known is None:
            raise missing_rate(source, target, Where("shop.toml", field="rates"))
        kept = 1 - known.spread
        return (known.value, kept) if forward else (Decimal(1), known.value * kept)

    def rate(self, source: str, target: str) -> Decimal:
        """What one unit of ``source`` costs in ``target``. Raises ShopError ``missing-rate``.

        The pair as written wins; else the inverse of the opposite pair. For showing; sums use ``exchange``.
        """
        times, over = self.exchange(source, target)
        return times / over

    def convert(self, money: Money, currency: str) -> Money:
        """The amount in another currency, not rounded. Raises ShopError ``missing-rate``."""
        times, over = self.exchange(money.currency, currency)
        return Money(money.amount * times / over, currency)


def missing_rate(source: str, target: str, where: Where) -> ShopError:
    """The error for a pair of currencies without a rate."""
    return ShopError(
        "missing-rate",
        f"there is no rate from {source} to {target}",
        f"look the rate up, and write it in shop.toml under [rates] as {source}-{target}",
        where,
    )
