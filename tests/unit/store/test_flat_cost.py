"""What is current costs no statement and no reading of its own, however much of it there is."""

from collections.abc import Sequence
from pathlib import Path

import pytest
from sqlalchemy import event

from hundredfold.runner.cache import Vault
from hundredfold.runner.inputs import Inputs
from hundredfold.runner.recipes import Recipe
from hundredfold.runner.running import Runner
from hundredfold.runner.tasks import Task, WorkPart
from hundredfold.runner.workers import InProcess, Workers
from hundredfold.store.shopstore import Store, open_store


def tasks(count: int) -> list[Task]:
    return [
        Task(f"item {n}", Recipe("picture", (1,), {}, {"n": n}), f"group {n // 10}", n) for n in range(count)
    ]


def maker(parts: Sequence[WorkPart], _inputs: Inputs) -> list[bytes]:
    return [str(part.wanted).encode() for part in parts]


def run(store: Store, vault: Vault, count: int) -> int:
    number = store.runs.begin("month")
    outcome = Runner(vault, store.builds, number, workers=Workers(InProcess)).run(tasks(count), maker)
    store.runs.end(number, outcome.counts.line())
    return outcome.counts.made


def statements_when_current(folder: Path, count: int, monkeypatch: pytest.MonkeyPatch) -> int:
    store, vault = open_store(folder / "shop.db"), Vault(folder / "cache")
    assert run(store, vault, count) == count
    seen: list[str] = []
    event.listen(store.database.engine, "before_cursor_execute", lambda *args: seen.append(args[2]))
    with monkeypatch.context() as patched:
        patched.setattr(Path, "open", lambda *_: pytest.fail("a file was opened"))
        assert run(store, vault, count) == 0
    return len(seen)


def test_a_run_with_nothing_to_do(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    few = statements_when_current(tmp_path / "few", 20, monkeypatch)
    many = statements_when_current(tmp_path / "many", 400, monkeypatch)
    assert few == many
