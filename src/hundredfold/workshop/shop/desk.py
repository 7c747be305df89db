"""A shop opened for work on its ledger: files read, database open, nobody at it who would be in the way."""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from enum import Enum
from pathlib import Path

from hundredfold.ledger.fold import fold
from hundredfold.ledger.state import LedgerState
from hundredfold.store.places import risky_place
from hundredfold.store.shopstore import SHORT_S, Store
from hundredfold.workshop.shop.folder import Shop, open_shop
from hundredfold.workshop.shop.identity import ensure_identity
from hundredfold.workshop.shop.marks import check_record
from hundredfold.workshop.shop.record import open_record


class Turn(Enum):
    """Who else may work on the shop meanwhile."""

    ALONE = "alone"  # nobody
    RUN = "run"  # short works: a long run that makes things from what it read at its beginning
    BESIDE = "beside"  # a run: a short work that only appends rows to the ledger


@dataclass(frozen=True)
class Desk:
    """An open shop."""

    shop: Shop
    store: Store

    def ledger(self) -> LedgerState:
        """The state of the shop after every row of the ledger."""
        return fold(self.store.events())


@contextmanager
def desk(folder: Path, command: str, wait_s: float = 0.0, turn: Turn = Turn.ALONE) -> Iterator[Desk]:
    """Open a shop for ``command`` and hold its locks by ``turn``; with "" only to look, without any.

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
            with _held(shop, store, command, wait_s, turn):
                yield Desk(shop, store)
        else:
            yield Desk(shop, store)
    finally:
        store.close()


@contextmanager
def beside(folder: Path, command: str) -> Iterator[Desk]:
    """Open a shop for a short work that only appends rows: at once, also while a month or a proof runs.

    Raises as ``desk`` does; ``shop-in-use`` while a pack is handed over, or goods adopted, for too long.
    """
    with desk(folder, command, SHORT_S, Turn.BESIDE) as opened:
        yield opened


@contextmanager
def _held(shop: Shop, store: Store, command: str, wait_s: float, turn: Turn) -> Iterator[None]:
    if turn is Turn.RUN:
        with store.lock.held(command, wait_s):
            with store.short.held(SHORT_S):  # two who open a new shop must not name it twice
                _check(shop, store)
            yield
        return
    with store.short.held(wait_s) if turn is Turn.BESIDE else store.alone(command, wait_s):
        _check(shop, store)
        yield


def _check(shop: Shop, store: Store) -> None:
    ensure_identity(shop.paths, store)
    check_record(shop.paths, store)
