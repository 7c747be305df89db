"""What a big shop's month costs when little or nothing changed: ``python -m benchmarks.secondrun``.

    python -m benchmarks.secondrun [--designs 320] [--folder DIR] [--rounds 5]

The sample's 11 blanks and 2 channels with small art and raised daily caps, so that 30 days hold 6,000
listings and more. The first month is made, then the command is started in a process of its own for: nothing
to do; nothing to do, with the remembered month forgotten (everything is worked out again, nothing is made);
one base cost changed; one design touched. For each: the least CPU and wall seconds of some rounds (the
process and all it started), and the peak memory of the largest process. A folder that is given is kept, and
used again.
"""

import argparse
import json
import os
import re
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "tests" / "support"))

from monthshop import START, month_shop
from openmoji import design_png
from runs import RUN

from hundredfold.store.shopstore import open_store
from hundredfold.workshop.month.finished import SETTING

DAYS = 30
CAPS = {"northfold": (60, 600), "quayside": (9, 130)}
WIDTH_PX = 150


def big_shop(folder: Path, designs: int) -> Path:
    """The shop, made once."""
    shop = folder / "shop"
    if not shop.exists():
        month_shop(shop, designs, WIDTH_PX)
        for channel, (usual, raised) in CAPS.items():
            path = shop / "channels" / f"{channel}.toml"
            text = path.read_text("utf-8")
            path.write_text(re.sub(rf"(?m)^daily = {usual}$", f"daily = {raised}", text), "utf-8")
    return shop


def run_month(shop: Path) -> dict[str, object]:
    """One ``hundredfold month`` in a process of its own: its answer, with what it took."""
    arguments = ["month", "--shop", str(shop), "--start", START, "--days", str(DAYS), "--json"]
    answer = shop.parent / "answer.json"
    began = time.monotonic()
    with answer.open("wb") as out:
        child = subprocess.Popen([sys.executable, "-c", RUN, *arguments], stdout=out)
        _, status, used = os.wait4(child.pid, 0)
        child.returncode = os.waitstatus_to_exitcode(status)
    wall, cpu = time.monotonic() - began, used.ru_utime + used.ru_stime
    told: dict[str, object] = json.loads(answer.read_bytes())
    return {**told, "wall": wall, "cpu": cpu, "peak": used.ru_maxrss / 1024}


def tell(name: str, runs: list[dict[str, object]]) -> None:
    """The quickest run of some, in one line."""
    best = min(runs, key=lambda run: float(str(run["cpu"])))
    wall = min(float(str(run["wall"])) for run in runs)
    made = best["counts"]
    print(
        f"{name}: CPU {best['cpu']:.2f} s, wall {wall:.2f} s, peak {best['peak']:.0f} MB, {made}", flush=True
    )


def forget(shop: Path) -> None:
    """Forget the remembered month, so that everything is worked out again."""
    store = open_store(shop / ".hundredfold" / "shop.db")
    store.set_setting(SETTING, '{"fingerprint": ""}')
    store.close()


def change_a_cost(shop: Path) -> None:
    """Another base cost for one blank, other than any before."""
    path = shop / "blanks" / "mug-325.toml"
    pence = time.time_ns() // 1000 % 100
    text, count = re.subn(r'base_cost = "[\d.]+"', f'base_cost = "5.{pence:02}"', path.read_text("utf-8"))
    assert count, "the blank has no cost to change"
    path.write_text(text, "utf-8")


def touch_a_design(shop: Path) -> None:
    """New art for one design."""
    width = WIDTH_PX + 2 + time.time_ns() // 1000 % 40
    (shop / "designs" / "honeybee-club.png").write_bytes(design_png("honeybee", width))


def measured(
    shop: Path, rounds: int, before: Callable[[Path], None] | None = None
) -> list[dict[str, object]]:
    """Some runs, each after the same kind of change."""
    runs = []
    for _ in range(rounds):
        if before:
            before(shop)
        runs.append(run_month(shop))
    return runs


def main() -> None:
    """Make the shop, then measure."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--designs", type=int, default=320)
    parser.add_argument("--folder", type=Path, help="where to make the shop; kept, and used again")
    parser.add_argument("--rounds", type=int, default=3)
    asked = parser.parse_args()
    folder = asked.folder or Path(tempfile.mkdtemp())
    shop = big_shop(folder, asked.designs)
    first = run_month(shop)
    print(*first["summary"], sep="\n")  # type: ignore[misc]
    tell("the first month, or going on with it", [first])
    tell("nothing to do", measured(shop, asked.rounds))
    tell("nothing to do, all worked out again", measured(shop, asked.rounds, forget))
    tell("one base cost changed", measured(shop, asked.rounds, change_a_cost))
    tell("one design touched", measured(shop, asked.rounds, touch_a_design))
    if asked.folder is None:
        shutil.rmtree(folder)


if __name__ == "__main__":
    main()
