"""The whole month at full size: 100 OpenMoji designs of 3600 x 4500 on the 11 sample blanks, 30 days.

    python -m benchmarks.month [--designs 100] [--size 3600] [--folder DIR]

Prints wall and CPU time (this process and all it started), peak memory of the largest process and of all
together (each shared page counted once, sampled twice a second), when the first pack was on disk, and what a
second run costs.
"""

import argparse
import multiprocessing
import resource
import shutil
import sys
import tempfile
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date
from pathlib import Path

import psutil

sys.path.insert(0, str(Path(__file__).parents[1] / "tests" / "support"))

from openmoji import write_designs

from hundredfold.workshop.handover.verifying import verify_packs
from hundredfold.workshop.month.closing import MonthReport
from hundredfold.workshop.month.preparing import Telling
from hundredfold.workshop.month.run import month
from hundredfold.workshop.shop.bench import bench
from hundredfold.workshop.shop.newshop import new_shop

START = date(2027, 1, 1)


def cpu_s() -> float:
    """User and system seconds of this process and of its children that ended."""
    used = (resource.getrusage(who) for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN))
    return sum(one.ru_utime + one.ru_stime for one in used)


def peak_mb() -> float:
    """Peak resident memory of the largest single process so far."""
    whos = (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN)
    return max(resource.getrusage(who).ru_maxrss for who in whos) / 1024


def together_mb() -> float:
    """Memory of this process and all it started, now: shared pages counted once where the system tells."""
    total = 0.0
    me = psutil.Process()
    for process in (me, *me.children(recursive=True)):
        try:
            full = process.memory_full_info()
        except psutil.Error:  # it ended meanwhile
            continue
        total += getattr(full, "pss", full.rss) / 2**20
    return total


@contextmanager
def watched() -> Iterator[list[float]]:
    """The most memory of all processes together while the block runs, in a list of one."""
    peak, done = [0.0], threading.Event()

    def look() -> None:
        while not done.wait(0.5):
            peak[0] = max(peak[0], together_mb())

    thread = threading.Thread(target=look)
    thread.start()
    try:
        yield peak
    finally:
        done.set()
        thread.join()


def timed_month(shop: Path) -> MonthReport:
    """Run the month and print what it took."""
    began, cpu = time.monotonic(), cpu_s()
    packs: list[float] = []
    with bench(shop, "month") as tools:
        telling = Telling(pack_done=lambda _: packs.append(time.monotonic() - began))
        report = month(tools, START, 30, telling)
    first = f", first pack after {packs[0]:.0f} s" if packs else ""
    print(f"{report.counts.line()}: wall {time.monotonic() - began:.1f} s, CPU {cpu_s() - cpu:.1f} s{first}")
    return report


def main() -> None:
    """Make, verify, run again."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--designs", type=int, default=100)
    parser.add_argument("--size", type=int, default=3600, help="width of a design in pixels")
    parser.add_argument("--folder", type=Path, help="where to make the shop; kept afterwards")
    asked = parser.parse_args()
    folder = asked.folder or Path(tempfile.mkdtemp())
    shop = folder / "shop"
    new_shop(shop, sample=True)
    for path in (shop / "designs").iterdir():
        path.unlink()
    # In a process of its own: the memory that drawing takes is not the month's.
    with multiprocessing.get_context("spawn").Pool(1) as pool:
        pool.apply(write_designs, (shop / "designs", asked.designs, asked.size))
    print(f"{asked.designs} designs, {asked.size} px wide, 11 blanks, 2 channels, 30 days")
    with watched() as together:
        report = timed_month(shop)
    print(*report.summary, sep="\n")
    with bench(shop, "verify") as tools:
        verified = verify_packs(tools.shop, tools.ledger())
    print(f"verify: {len(verified.packs)} packs, {'all sound' if verified.sound else 'NOT SOUND'}")
    print(f"peak memory: {together[0]:.0f} MiB together, {peak_mb():.0f} MiB in one process")
    timed_month(shop)
    if asked.folder is None:
        shutil.rmtree(folder)


if __name__ == "__main__":
    main()
