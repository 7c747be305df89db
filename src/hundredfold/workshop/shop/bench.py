"""A shop laid out for making things: the desk, with cache, memory and runner at hand."""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from hundredfold.runner.cache import Vault, collect_old
from hundredfold.runner.memo import PathMemo
from hundredfold.runner.running import Runner
from hundredfold.runner.tasks import Counts
from hundredfold.runner.workers import LOCAL, Workers
from hundredfold.workshop.shop.desk import Desk, desk


@dataclass(frozen=True)
class Bench(Desk):
    """One run's tools. Made by ``bench``; the runner lock is held as long as it is in use."""

    vault: Vault
    memo: PathMemo
    run_number: int
    workers: Workers = LOCAL

    def runner(self) -> Runner:
        """A runner that knows what earlier runs made. It loads all rows, so make one a run."""
        return Runner(self.vault, self.store.builds, self.run_number, self.shop.paths.logs, self.workers)

    def end(self, counts: Counts) -> None:
        """Close the run with its closing line, and let go of what no recent run used."""
        self.memo.save()
        self.store.runs.end(self.run_number, counts.line())
        if counts.made:
            collect_old(self.vault, self.store.builds)


@contextmanager
def bench(folder: Path, command: str, rehash: bool = False, workers: Workers = LOCAL) -> Iterator[Bench]:
    """Open a shop for one run of ``command`` by these workers; raises as ``desk`` does.

    A run that is not ended (killed, failed) leaves everything it made, and the next one goes on from there.
    """
    with desk(folder, command) as opened:
        shop, store = opened.shop, opened.store
        memo = PathMemo(shop.paths.root, store.builds, rehash)
        yield Bench(shop, store, Vault(shop.paths.cache), memo, store.runs.begin(command), workers)
        memo.save()
