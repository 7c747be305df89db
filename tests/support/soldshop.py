"""The sample shop with SKUs in its ledger, and reports of an imagined month, without the month being run."""

import csv
import hashlib
from collections.abc import Iterable, Mapping, Sequence
from contextlib import closing
from pathlib import Path

from hundredfold.ledger.events import Event, Happened
from hundredfold.ledger.fold import fold
from hundredfold.ledger.give import give_skus
from hundredfold.ledger.keys import SkuKey
from hundredfold.pricing.price import Price
from hundredfold.store.shopstore import open_store
from hundredfold.workshop.listing.prices import ChannelPrices
from hundredfold.workshop.shop.folder import open_shop
from hundredfold.workshop.shop.newshop import new_shop
from hundredfold.workshop.shop.paths import ShopPaths

GOODS = (("MUG-325", "white"), ("MUG-325", "sky"), ("SHOT-GLASS", "white"))


def sold_shop(root: Path, designs: int = 3, goods: Sequence[tuple[str, str]] = GOODS) -> dict[str, SkuKey]:
    """Make it; its SKUs in both channels, with what each stands for."""
    if not root.exists():
        new_shop(root, sample=True)
    shop = open_shop(root)
    sizes = {(v.colour, b.code): v.size for b in shop.blanks for v in b.variants}
    art = sorted((root / "designs").glob("*.svg"))[:designs]
    keys = [
        SkuKey(channel.code, f"DESIGN{number}", blank, colour, sizes[colour, blank])
        for channel in shop.channels
        for number in range(len(art))
        for blank, colour in goods
        if (colour, blank) in sizes
    ]
    with closing(open_store(ShopPaths(root).database)) as store:
        store.append(
            Event(Happened.DESIGN_SEEN, f"DESIGN{n}", {"path": f"designs/{p.name}", "digest": _digest(p)})
            for n, p in enumerate(art)
        )
        given, events = give_skus(keys, fold(store.events()), "PG")
        store.append(events)
    return {sku: key for key, sku in given.items()}


def _digest(path: Path) -> str:
    return hashlib.sha256(path.read_bytes()).hexdigest()


def price_of(root: Path, key: SkuKey) -> Price:
    """The price that the shop makes for a SKU."""
    shop = open_shop(root)
    blank = next(one for one in shop.blanks if one.code == key.blank)
    answer = ChannelPrices(shop.settings, shop.channel(key.channel)).of(blank, {key.colour})[
        key.colour, key.size
    ]
    assert isinstance(answer, Price), answer
    return answer


def write_report(path: Path, rows: Iterable[Mapping[str, object]], delimiter: str = ",") -> Path:
    """A CSV of these rows; headings as in the first."""
    rows = list(rows)
    with path.open("w", encoding="utf-8", newline="") as file:
        writer = csv.DictWriter(file, list(rows[0]), delimiter=delimiter)
        writer.writeheader()
        writer.writerows(rows)
    return path
