"""A process that is killed at any moment leaves work to redo, never a false "done", never half a row."""

import hashlib
import multiprocessing
import os
import random
import signal
import sqlite3
import time
from collections.abc import Callable, Sequence
from multiprocessing.process import BaseProcess
from pathlib import Path
from typing import Any

import psutil
import pytest

from hundredfold.ledger.events import Event, Happened
from hundredfold.runner.cache import Vault
from hundredfold.runner.inputs import Inputs
from hundredfold.runner.recipes import Recipe
from hundredfold.runner.running import Runner
from hundredfold.runner.tasks import Outcome, Task, WorkPart
from hundredfold.runner.workers import InProcess, Workers, spawn_pool
from hundredfold.store.shopstore import open_store

GROUPS, AREAS, BATCH = 60, 4, 5
KILLS = 4
CHILDREN = multiprocessing.get_context("spawn")


def tasks() -> list[Task]:
    pairs = [(n, area) for n in range(GROUPS) for area in range(AREAS)]
    return [Task(f"design {n} on {area}", recipe(n, area), f"design {n}", (n, area)) for n, area in pairs]


def recipe(n: int, area: int) -> Recipe:
    return Recipe("print-file", (1,), {}, {"n": n, "area": area})


def maker(parts: Sequence[WorkPart], _inputs: Inputs) -> list[bytes]:
    time.sleep(0.025)
    return [hashlib.sha256(repr(part.wanted).encode()).digest() * 2000 for part in parts]


def held_in(vault: Vault) -> int:
    return sum(1 for _ in vault.entries())


def build(folder: Path, pool: bool) -> Outcome:
    store = open_store(folder / "shop.db")
    with store.lock.held("month"):
        number = store.runs.begin("month")
        executor: Callable[[], Any] = (lambda: spawn_pool(2)) if pool else InProcess
        workers = Workers(executor, small_groups=0)
        runner = Runner(Vault(folder / "cache"), store.builds, number, workers=workers)
        outcome = runner.run(tasks(), maker)
        store.runs.end(number, outcome.counts.line())
    return outcome


def write_ledger(folder: Path) -> None:
    store = open_store(folder / "shop.db")
    while True:
        store.append([Event(Happened.SKU_GIVEN, f"SKU-{n}", {"design": "d" * 2000}) for n in range(BATCH)])


def killed_after(child: BaseProcess, done: Callable[[], int], delay_s: float) -> None:
    """Start the child, wait until what it has done grows, and kill it ``delay_s`` later."""
    before = done()
    child.start()
    deadline = time.monotonic() + 60
    while done() <= before:
        assert child.is_alive() or done() > before, "it ended before it began"
        assert time.monotonic() < deadline, "it never began"
        time.sleep(0.01)
    time.sleep(delay_s)
    child.kill()
    child.join()


def rows_in(folder: Path) -> int:
    return len(list(open_store(folder / "shop.db").builds.made()))


def last_number(place: Path) -> int:
    with open_store(place).database.reading() as connection:
        return int(connection.exec_driver_sql("SELECT coalesce(max(number), 0) FROM events").scalar() or 0)


def sound(place: Path) -> bool:
    with sqlite3.connect(place) as raw:
        said = raw.execute("PRAGMA integrity_check").fetchall()
    raw.close()
    return said == [("ok",)]


@pytest.mark.parametrize("pool", [False, True], ids=["one process", "pool"])
def test_builds_killed_at_random_moments_end_as_if_undisturbed(tmp_path: Path, pool: bool) -> None:
    undisturbed = build(tmp_path / "calm", pool=False).outputs
    chance = random.Random(20261125)
    folder = tmp_path / "killed"
    vault = Vault(folder / "cache")
    for kill in range(2 if pool else KILLS):
        child = CHILDREN.Process(target=build, args=(folder, pool))
        # In turn: soon after a file reached the vault, and soon after rows reached the database.
        done = (lambda: held_in(vault)) if kill % 2 == 0 else (lambda: rows_in(folder))
        killed_after(child, done, chance.uniform(0, 0.1))
        assert sound(folder / "shop.db")
        store = open_store(folder / "shop.db")
        for row in store.builds.made():
            assert vault.get(row.output) is not None, f"{row.item} is said to be made and is not"
            assert undisturbed[(row.item, row.step)].digest == row.output
    assert rows_in(folder) > 0
    assert build(folder, pool=False).outputs == undisturbed
    assert build(folder, pool=False).counts.line() == f"made 0, reused {GROUPS * AREAS}, failed 0"


def test_the_ledger_killed_at_random_moments_has_whole_batches_only(tmp_path: Path) -> None:
    chance = random.Random(20261126)
    place = tmp_path / "shop.db"
    open_store(place).close()
    before = 0
    for _ in range(KILLS):
        child = CHILDREN.Process(target=write_ledger, args=(tmp_path,))
        killed_after(child, lambda: last_number(place), chance.uniform(0, 0.05))
        assert sound(place)
        numbers = [event.number for event in open_store(place).events()]
        assert numbers == list(range(1, len(numbers) + 1))
        assert len(numbers) % BATCH == 0
        assert len(numbers) > before
        before = len(numbers)


def test_workers_end_when_their_parent_is_killed(tmp_path: Path) -> None:
    vault = Vault(tmp_path / "cache")
    child = CHILDREN.Process(target=build, args=(tmp_path, True))
    child.start()
    while not any(True for _ in vault.entries()):
        time.sleep(0.01)
    assert child.pid is not None
    workers = psutil.Process(child.pid).children(recursive=True)
    assert len(workers) >= 2
    child.kill()
    child.join()
    _, alive = psutil.wait_procs(workers, timeout=10)
    assert alive == []


def build_in_own_group(folder: Path) -> None:
    os.setsid()
    try:
        build(folder, pool=True)
    except KeyboardInterrupt:
        (folder / "interrupted").touch()


def as_workers_start(child: BaseProcess, folder: Path) -> bool:
    return len(psutil.Process(child.pid).children(recursive=True)) >= 2


def at_work(child: BaseProcess, folder: Path) -> bool:
    return held_in(Vault(folder / "cache")) >= 8


@pytest.mark.skipif(os.name == "nt", reason="Windows sends Ctrl-C to the whole console, this test included")
@pytest.mark.parametrize("moment", [as_workers_start, at_work])
def test_ctrl_c_on_the_terminal_ends_tidily_and_keeps_what_was_made(
    tmp_path: Path, capfd: pytest.CaptureFixture[str], moment: Callable[[BaseProcess, Path], bool]
) -> None:
    vault = Vault(tmp_path / "cache")
    child = CHILDREN.Process(target=build_in_own_group, args=(tmp_path,))
    child.start()
    while not moment(child, tmp_path):
        time.sleep(0.002)
    assert child.pid is not None
    os.killpg(child.pid, signal.SIGINT)
    child.join(30)
    assert child.exitcode == 0
    assert (tmp_path / "interrupted").exists()
    assert "Traceback" not in capfd.readouterr().err
    store = open_store(tmp_path / "shop.db")
    made = list(store.builds.made())
    assert len(made) < GROUPS * AREAS
    assert len(made) >= 8 or moment is not at_work
    assert {row.output for row in made} == {digest for digest, _ in vault.entries()}
    assert store.lock.holder() is None
    assert list(vault.root.rglob(".part-*")) == []
