"""The sample shop with a plan in its ledger and two packs, without the month being run."""

import hashlib
import json
from collections.abc import Sequence
from datetime import date
from pathlib import Path

from hundredfold.ledger.events import Event, Happened
from hundredfold.ledger.fold import fold
from hundredfold.ledger.keys import ListingKey, PackKey
from hundredfold.ledger.state import LedgerState
from hundredfold.store.shopstore import open_store
from hundredfold.workshop.shop.newshop import new_shop
from hundredfold.workshop.shop.paths import ShopPaths

FIRST, SECOND, FAR = date(2099, 1, 5), date(2099, 1, 6), date(2099, 1, 20)
CHANNEL, BLANK = "northfold", "MUG-325"


def planned_shop(root: Path, on_first: int = 3, rows: int = 4) -> list[ListingKey]:
    """Make it: ``on_first`` listings on the first day, packed, and one on the second. Gives their keys."""
    new_shop(root, sample=True)
    art = sorted((root / "designs").glob("*.svg"))[: on_first + 1]
    seen = [(hashlib.sha256(one.read_bytes()).hexdigest(), one) for one in art]
    keys = [ListingKey(CHANNEL, f"DESIGN{number}", BLANK) for number in range(len(art))]
    append(
        root,
        [
            Event(Happened.DESIGN_SEEN, key.design, {"path": f"designs/{path.name}", "digest": digest})
            for key, (digest, path) in zip(keys, seen, strict=True)
        ],
    )
    append(root, [plan(key, FIRST, rows) for key in keys[:on_first]] + [plan(keys[-1], SECOND, rows)])
    make_pack(root, FIRST, keys[:on_first])
    return keys


def plan(key: ListingKey, day: date, rows: int = 4) -> Event:
    """A listing's planned row."""
    data = {**key.as_data(), "day": day.isoformat(), "action": "new", "revision": 1, "colours": ["white"]}
    return Event(Happened.PLANNED, str(key), {**data, "rows": rows, "reason": "first day with room"})


def make_pack(root: Path, day: date, keys: Sequence[ListingKey]) -> PackKey:
    """A pack's folder, and its row; its table says little and does not verify."""
    pack = PackKey(CHANNEL, day.isoformat())
    folder = root / "packs" / pack.channel / pack.day
    folder.mkdir(parents=True)
    (folder / "listings.csv").write_bytes(b"SKU,Title\r\nPG-1,<b>Queen of the hive</b>\r\n")
    manifest = json.dumps({"format": 1}).encode()
    (folder / "manifest.json").write_bytes(manifest)
    sent = {"revision": 1, "action": "new", "colours": ["white"], "content": {}}
    told = [{**key.as_data(), **sent} for key in keys]
    rows = [{**key.as_data(), "sku": f"PG-{key.design}", "revision": 1, "action": "new"} for key in keys]
    data = {"manifest": hashlib.sha256(manifest).hexdigest(), "rows": rows, "listings": told}
    append(root, [Event(Happened.PACKED, str(pack), data)])
    return pack


def append(root: Path, events: Sequence[Event]) -> None:
    """Rows into the shop's record."""
    store = open_store(ShopPaths(root).database)
    try:
        store.append(events)
    finally:
        store.close()


def state_of(root: Path) -> LedgerState:
    """The shop's ledger, folded."""
    store = open_store(ShopPaths(root).database)
    try:
        return fold(store.events())
    finally:
        store.close()
