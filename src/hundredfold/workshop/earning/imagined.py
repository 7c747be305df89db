"""An imagined report of sales for the sample shop, so that results can be seen before anything was sold."""

import csv
import io
import random
from datetime import date, timedelta
from decimal import Decimal
from pathlib import Path

from hundredfold.ledger.keys import SkuKey
from hundredfold.pricing.price import Price
from hundredfold.runner.atomic import write_whole
from hundredfold.workshop.listing.prices import ChannelPrices
from hundredfold.workshop.shop.desk import Desk

SEED = 325  # the same shop, the same sales
_MOST = 400  # rows
_HEADS = (
    "Order",
    "Sold on",
    "Stall item",
    "Pieces",
    "Item total",
    "Postage",
    "Stall fee",
    "Card fee",
    "Buyer",
)


def imagine_report(desk: Desk, channel: str, first: date, days: int = 28) -> Path | None:
    """Write reports/imagined-sales-CHANNEL.csv for a channel's SKUs; None where it has none."""
    owners = desk.ledger().owners
    sold = sorted((sku, key) for sku, key in owners.items() if key.channel == channel and key.colour)
    if not sold:
        return None
    chance = random.Random(SEED)
    prices = ChannelPrices(desk.shop.settings, desk.shop.channel(channel))
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(_HEADS)
    for number in range(min(_MOST, 2 * len(sold))):
        sku, key = chance.choice(sold)
        price = _price(desk, prices, key)
        if price is not None:
            day = first + timedelta(days=chance.randrange(days))
            writer.writerow(
                [f"IMAGINED-{number:04d}", day.isoformat(), sku, *_amounts(chance, price), "Somebody"]
            )
    path = desk.shop.paths.root / "reports" / f"imagined-sales-{channel}.csv"
    path.parent.mkdir(exist_ok=True)
    write_whole(path, out.getvalue().encode())
    return path


def _price(desk: Desk, prices: ChannelPrices, key: SkuKey) -> Price | None:
    blank = next((one for one in desk.shop.blanks if one.code == key.blank), None)
    answer = prices.of(blank, {key.colour}).get((key.colour, key.size)) if blank else None
    return answer if isinstance(answer, Price) else None


def _amounts(chance: random.Random, price: Price) -> list[str]:
    """Pieces, what was paid, and fees: one in ten sales pays a tenth more of a fee than was planned."""
    pieces = chance.choice((1, 1, 1, 2))
    split = price.sums.split(price.coins)
    more = Decimal("1.1") if chance.random() < 0.1 else Decimal(1)
    coins = (price.coins, price.sums.charged, (split.fee + split.fee_tax) * more, split.payment)
    return [str(pieces), *(f"{(Decimal(each) * pieces / 100).quantize(Decimal('0.01'))}" for each in coins)]
