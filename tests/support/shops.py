"""A small shop on disk with packs made, for tests of delivering, verifying and answering."""

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date
from pathlib import Path
from typing import BinaryIO

from goods import DAY, TinyPack, channel, design, gbp, mug, shirt

from hundredfold.catalogue.settings import ShopSettings
from hundredfold.handoff.recording import packed_event
from hundredfold.handoff.writing import write_pack
from hundredfold.ledger.events import Happened
from hundredfold.ledger.fold import fold
from hundredfold.ledger.give import give_skus
from hundredfold.ledger.keys import PackKey, SkuKey
from hundredfold.planning.listings import Plan
from hundredfold.planning.month import planned_events
from hundredfold.store.shopstore import Store, open_store
from hundredfold.workshop.shop.desk import Desk
from hundredfold.workshop.shop.files import ShopFiles
from hundredfold.workshop.shop.folder import Shop
from hundredfold.workshop.shop.paths import ShopPaths

KEY = PackKey("north-print", DAY.isoformat())


def small_shop(root: Path) -> Shop:
    """A shop with two blanks and one channel; no settings file, so it can only be used as it is here."""
    settings = ShopSettings("Puddlewick Goods", "GBP", gbp("3.00"), sku_prefix="PG")
    return Shop(ShopPaths(root), settings, (mug(), shirt()), (channel(),), (), {}, {}, ShopFiles(root))


def make_pack(root: Path, store: Store, day: date = DAY, design_id: str = "proud-beekeeper") -> PackKey:
    """Plans, writes and records one pack of a mug listing and a shirt listing of the design."""
    key = PackKey("north-print", day.isoformat())
    state = fold(store.events())
    pack = TinyPack(channel(), state)
    for blank in (mug(), shirt()):
        pack.add(design(design_id, design_id.replace("-", " ")), blank, day=day)
    keys = [SkuKey(key.channel, r.listing.design, r.listing.blank, r.colour, r.size) for r in pack.rows]
    _, given = give_skus(keys, state, "PG")
    planned = planned_events(Plan(day, 1, tuple(pack.planned), ()), state)
    store.append([*given, *(event for event in planned if event.happened is Happened.PLANNED)])
    folder = root / "packs" / key.channel / key.day
    folder.mkdir(parents=True)

    @contextmanager
    def open_output(name: str) -> Iterator[BinaryIO]:
        with (folder / name).open("x+b") as file:
            yield file

    packed = write_pack(pack.order((mug(), shirt()), day), pack.open_member, open_output)
    store.append([packed_event(key, packed, pack.planned, {})])
    return key


def stocked(root: Path) -> Desk:
    """A shop with one pack, open for work. The caller closes the store."""
    root.mkdir(parents=True, exist_ok=True)
    store = open_store(root / ".hundredfold" / "shop.db")
    make_pack(root, store)
    return Desk(small_shop(root), store)
