"""What the build and the record cost when nothing has to be made: `python -m benchmarks.bookkeeping`.

600 designs on ten blanks, all current; then a ledger of 24,000 rows. Times are CPU seconds of this process
(best of five), so that a busy machine tells nearly the same as an idle one.
"""

import hashlib
import resource
import sys
import tempfile
import time
from collections.abc import Callable, Sequence
from contextlib import closing
from pathlib import Path

from hundredfold.ledger.events import Event, Happened
from hundredfold.ledger.fold import fold
from hundredfold.ledger.keys import ListingKey, SkuKey
from hundredfold.runner.cache import Vault, collect_old
from hundredfold.runner.inputs import Inputs
from hundredfold.runner.memo import PathMemo
from hundredfold.runner.recipes import Recipe
from hundredfold.runner.running import Runner
from hundredfold.runner.tasks import Task, WorkPart
from hundredfold.runner.workers import InProcess, Workers
from hundredfold.store.shopstore import Store, open_store

DESIGNS, BLANKS, ROUNDS = 600, 10, 5


def tasks() -> list[Task]:
    """6,000 outputs with recipes of the size that print files have."""
    arts = [hashlib.sha256(str(n).encode()).hexdigest() for n in range(DESIGNS)]
    return [task(n, art, blank) for n, art in enumerate(arts) for blank in range(BLANKS)]


def task(n: int, art: str, blank: int) -> Task:
    """One output with its recipe."""
    params = {
        "area": {"width_px": 2475, "height_px": 1155 + blank, "dpi": 300, "kind": "png", "mirrored": False},
        "placement": {"x_mm": "12.5", "y_mm": "8.0", "width_mm": "180.0", "height_mm": "82.0", "turn": 0},
        "colour": "navy",
    }
    recipe = Recipe("print-file", (1,), {"libvips": "8.18.0", "pyvips": "3.1.1"}, params, {"design art": art})
    return Task(f"design-{n}.png on MUG-{blank}, navy", recipe, f"design-{n}", n * BLANKS + blank)


def maker(parts: Sequence[WorkPart], _inputs: Inputs) -> list[bytes]:
    """Next to no work, so that what is measured is the bookkeeping."""
    return [f"output {part.wanted}".encode() for part in parts]


def run_month(store: Store, vault: Vault) -> str:
    """One run of the month over all tasks; gives its closing line."""
    number = store.runs.begin("month")
    runner = Runner(vault, store.builds, number, workers=Workers(InProcess))
    line = runner.run(runner.assess(tasks()), maker).counts.line()
    store.runs.end(number, line)
    return line


def events() -> list[Event]:
    """A SKU given and a day planned for each of 12,000 listings."""
    rows = []
    for n in range(12_000):
        key = ListingKey("quayside", hashlib.sha256(str(n // 10).encode()).hexdigest(), f"MUG-{n % 10}")
        sku = SkuKey(key.channel, key.design, key.blank, "navy", "")
        plan = {"day": "2026-12-01", "action": "new", "revision": 1, "colours": ["navy"], "rows": 1}
        rows.append(Event(Happened.SKU_GIVEN, f"PG-{n}", sku.as_data()))
        rows.append(Event(Happened.PLANNED, str(key), {**key.as_data(), **plan, "reason": "in turn"}))
    return rows


def timed(name: str, action: Callable[[], object], rounds: int = ROUNDS) -> None:
    """Print the least time of several rounds."""
    cpu, wall = [], []
    for _ in range(rounds):
        began, began_cpu = time.perf_counter(), time.process_time()
        action()
        wall.append(time.perf_counter() - began)
        cpu.append(time.process_time() - began_cpu)
    print(f"{name:<58} {min(cpu):7.3f} s CPU {min(wall):7.3f} s wall")


def main() -> None:
    """Measure and print everything."""
    with tempfile.TemporaryDirectory() as folder:
        root = Path(folder)
        timed("open a new shop's record", lambda: open_store(root / "shop.db").close(), rounds=1)
        timed("open it again", lambda: open_store(root / "shop.db").close())
        with closing(open_store(root / "shop.db")) as store:
            vault = Vault(root / "cache")
            timed("6,000 outputs, all to make (next to no work each)", lambda: run_month(store, vault), 1)
            timed("6,000 outputs, all current", lambda: run_month(store, vault))
            timed("let go of old outputs (nothing is old)", lambda: collect_old(vault, store.builds))
            memo_of_files(root, store)
            timed("append 24,000 ledger rows in one go", lambda: store.append(events()), rounds=1)
            timed("load 24,000 ledger rows", store.events)
            held = store.events()
            timed("fold 24,000 ledger rows", lambda: fold(held))
            timed("back the record up and check it", lambda: store.backup(root / "backup.db"))
            print(f"the record takes {(root / 'shop.db').stat().st_size / 1e6:.1f} MB")
    unit = 1e6 if sys.platform == "darwin" else 1e3  # bytes there, kilobytes elsewhere
    print(f"peak memory {resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / unit:.0f} MB")


def memo_of_files(root: Path, store: Store) -> None:
    """600 files of 100 kB, hashed and then known."""
    folder = root / "designs"
    folder.mkdir()
    files = [folder / f"{n}.png" for n in range(DESIGNS)]
    for n, file in enumerate(files):
        file.write_bytes(f"{n:08}".encode() * 12_500)
    later = time.time_ns() + 10_000_000_000

    def look(rehash: bool = False) -> None:
        memo = PathMemo(root, store.builds, rehash, lambda: later)
        for file in files:
            memo.digest(file)
        memo.save()

    timed("digests of 600 files of 100 kB, read", lambda: look(rehash=True), rounds=2)
    timed("digests of the same files, known", look)


if __name__ == "__main__":
    main()
