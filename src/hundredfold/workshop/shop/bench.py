"""A shop laid out for making things: the desk, with cache, memory and runner at hand."""

from collections.abc import Iterator
from contextlib import closing, contextmanager
from dataclasses import dataclass
from pathlib import Path

from hundredfold.runner.cache import Vault, collect_old
from hundredfold.runner.memo import PathMemo
from hundredfold.runner.running import Runner
from hundredfold.runner.tasks import Counts
from hundredfold.runner.workers import LOCAL, WorkerPool, Workers
from hundredfold.workshop.shop.desk import Desk, Turn, desk


@dataclass(frozen=True)
class Bench(Desk):
    """One run's tools. Made by ``bench``; the runner lock is held as long as it is in use."""

    vault: Vault
    memo: PathMemo
    run_number: int
    workers: Workers = LOCAL
    pool: WorkerPool | None = None

    def runner(self) -> Runner:
        """A runner that knows what earlier runs made. It loads all rows, so make one a run."""
        return Runner(
            self.vault, self.store.builds, self.run_number, self.shop.paths.logs, self.workers, self.pool
        )

    def end(self, counts: Counts) -> None:
        """Close the run with its closing line, and let go of what no recent run used."""
        self.memo.save()
        self.store.runs.end(self.run_number, counts.line())
        if counts.made:
            collect_old(self.vault, self.store.builds)


@contextmanager
def bench(
    folder: Path,
    command: str,
    rehash: bool = False,
    workers: Workers | None = None,
    turn: Turn = Turn.ALONE,
) -> Iterator[Bench]:
    """Open a shop for one run of ``command`` by these workers, else ``LOCAL``; raises as ``desk`` does.

    They start at the first work and stay until the run is over: their start is what a small month costs most.

    A run that is not ended (killed, failed) leaves everything it made, and the next one goes on from there.
    """
    with desk(folder, command, turn=turn) as opened:
        shop, store = opened.shop, opened.store
        memo = PathMemo(shop.paths.root, store.builds, rehash)
        by = workers or LOCAL
        with closing(WorkerPool(by.start)) as pool:
            vault, number = Vault(shop.paths.cache), store.runs.begin(command)
            yield Bench(shop, store, vault, memo, number, by, pool)
        memo.save()
