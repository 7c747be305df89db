"""The shop's own settings: what shop.toml says."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal

from hundredfold.kernel.errors import ShopError, Where
from hundredfold.kernel.money import Money


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
    price_ending: str = "95"  # minor units a price ends in, where a channel sets none; "" for no ending
    month_days: int = 30
    month_start: date | None = None  # None: the day after the month is prepared
    colours_to_list: int = 0  # at most so many colours of a blank in one listing; 0 for no limit
    checks_profile: str = ""  # file of thresholds in the shop folder; "" for the built-in ones
    database: str = ""  # URL of the PostgreSQL database that keeps the record; "" for .hundredfold/shop.db
    delivery_folder: str = "delivered"  # where `deliver` copies packs to, from the shop folder
    rates: Mapping[tuple[str, str], Decimal] = field(default_factory=dict)

    def rate(self, source: str, target: str) -> Decimal:
        """What one unit of ``source`` buys of ``target``. Raises ShopError ``missing-rate``.

        The pair as written wins; else the inverse of the opposite pair, at Decimal's 28 digits.
        """
        if source == target:
            return Decimal(1)
        if (source, target) in self.rates:
            return self.rates[source, target]
        if (target, source) in self.rates:
            return 1 / self.rates[target, source]
        raise missing_rate(source, target, Where("shop.toml", field="rates"))

    def convert(self, money: Money, currency: str) -> Money:
        """The amount in another currency, not rounded. Raises ShopError ``missing-rate``."""
        return Money(money.amount * self.rate(money.currency, currency), currency)


def missing_rate(source: str, target: str, where: Where) -> ShopError:
    """The error for a pair of currencies without a rate."""
    return ShopError(
        "missing-rate",
        f"there is no rate from {source} to {target}",
        f'in shop.toml, under [rates], write {source}-{target} = "1.25" with the rate you want to use',
        where,
    )
