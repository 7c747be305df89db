"""A shop laid out for work: its files read, its database open and locked, its cache and runner at hand."""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from hundredfold.build.cache import Vault
from hundredfold.build.memo import PathMemo
from hundredfold.build.runner import Runner
from hundredfold.ledger.fold import fold
from hundredfold.ledger.state import LedgerState
from hundredfold.store.shopstore import Store, open_store
from hundredfold.workshop.shopfolder import Shop, open_shop

# Outputs that none of the last so many finished runs used are taken out of the cache.
RUNS_KEPT = 5


@dataclass
class Bench:
    """One run's tools. Made by ``bench``; the runner lock is held as long as it is in use."""

    shop: Shop
    store: Store
    vault: Vault
    memo: PathMemo
    run_number: int

    def runner(self) -> Runner:
        """A runner that knows what earlier runs made. It loads all rows, so make one a run."""
        return Runner(self.vault, self.store.builds, self.run_number, self.shop.paths.logs)

    def ledger(self) -> LedgerState:
        """The state of the shop after every row of the ledger."""
        return fold(self.store.events())

    def end(self, line: str) -> None:
        """Close the run with its closing line, and let go of what no recent run used."""
        self.memo.save()
        self.store.runs.end(self.run_number, line)
        oldest = self.store.runs.oldest_kept(RUNS_KEPT)
        if oldest and self.store.builds.drop_unused(oldest):
            self.vault.collect(self.store.builds.last_used(), oldest)


@contextmanager
def bench(folder: Path, command: str, rehash: bool = False) -> Iterator[Bench]:
    """Open a shop for one run of ``command``.

    Raises ShopError ``no-shop``, ``shop-in-use``, and what reading the shop's files raises. A run that is not
    ended (killed, failed) leaves everything it made, and the next one goes on from there.
    """
    shop = open_shop(folder)
    store = open_store(shop.paths.database)
    try:
        with store.lock.held(command):
            memo = PathMemo(shop.paths.root, store.builds, rehash)
            yield Bench(shop, store, Vault(shop.paths.cache), memo, store.runs.begin(command))
            memo.save()
    finally:
        store.close()
