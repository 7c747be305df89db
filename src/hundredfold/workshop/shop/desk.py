"""A shop opened for work on its ledger: files read, database open, nobody else at it."""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from pathlib import Path

from hundredfold.ledger.fold import fold
from hundredfold.ledger.state import LedgerState
from hundredfold.store.places import risky_place
from hundredfold.store.shopstore import Store
from hundredfold.workshop.shop.folder import Shop, open_shop
from hundredfold.workshop.shop.identity import ensure_identity
from hundredfold.workshop.shop.marks import check_record
from hundredfold.workshop.shop.record import open_record


@dataclass(frozen=True)
class Desk:
    """An open shop."""

    shop: Shop
    store: Store

    def ledger(self) -> LedgerState:
        """The state of the shop after every row of the ledger."""
        return fold(self.store.events())


SHORT_S = 3.0  # what a decision waits for another one: two windows, a hand-over of a small pack (our choice)


@contextmanager
def desk(folder: Path, command: str, wait_s: float = 0.0) -> Iterator[Desk]:
    """Open a shop and hold its runner lock for ``command``; with "" only to look, without the lock.

    ``wait_s`` is how long a short work waits for another to be done.

    Raises ShopError ``no-shop``, ``shop-in-use``, what reading the shop's files raises, and where the record
    is not this shop's or not the newest: ``other-record``, ``record-behind``.
    """
    shop = open_shop(folder)
    if (risk := risky_place(shop.paths.root)) is not None:
        shop = replace(shop, findings=(*shop.findings, risk))
    store = open_record(shop.paths)
    try:
        if command:
            with store.lock.held(command, wait_s):
                ensure_identity(shop.paths, store)
                check_record(shop.paths, store)
                yield Desk(shop, store)
        else:
            yield Desk(shop, store)
    finally:
        store.close()
