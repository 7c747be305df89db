"""The runner makes what is missing, in order, keeps going past failures, and says what it did."""

import contextlib
import hashlib
import signal
import time
from collections.abc import Iterator, Sequence
from concurrent.futures import Executor
from pathlib import Path
from typing import Any

import pytest
from runner_doubles import MemoryRows, maker, task

from hundredfold.kernel.errors import ShopError
from hundredfold.runner.cache import Vault
from hundredfold.runner.recipes import Recipe
from hundredfold.runner.running import Runner, Watching
from hundredfold.runner.tasks import GroupDone, Outcome, Task
from hundredfold.runner.workers import InProcess, WorkerPool, Workers, spawn_pool


@pytest.fixture
def rows() -> MemoryRows:
    return MemoryRows()


@pytest.fixture
def vault(tmp_path: Path) -> Vault:
    return Vault(tmp_path / "cache")


def run(
    vault: Vault, rows: MemoryRows, tasks: Sequence[Task], number: int = 1, watching: Watching | None = None
) -> Outcome:
    runner = Runner(vault, rows, number, vault.root.parent / "logs", workers=Workers(InProcess))
    return runner.run(tasks, maker, watching or Watching())


TASKS = [task(design, area) for design in ("bee", "owl", "fox") for area in ("front", "back")]


def test_first_run_makes_all_and_second_none(vault: Vault, rows: MemoryRows) -> None:
    first = run(vault, rows, TASKS)
    assert first.counts.line() == "made 6, reused 0, failed 0"
    second = run(vault, rows, TASKS, 2)
    assert second.counts.line() == "made 0, reused 6, failed 0"
    assert second.outputs == first.outputs
    assert {row.run for row in rows.made_rows.values()} == {2}


def test_outputs_are_the_maker_s_bytes(vault: Vault, rows: MemoryRows) -> None:
    outcome = run(vault, rows, TASKS)
    output = outcome.output("bee on front", "print-file")
    assert output is not None
    assert vault.get(output.digest) == str(TASKS[0].wanted).encode() * 3
    assert output.digest == hashlib.sha256(str(TASKS[0].wanted).encode() * 3).hexdigest()


def test_touching_one_design_makes_exactly_its_own(vault: Vault, rows: MemoryRows) -> None:
    run(vault, rows, TASKS)
    changed = [task("owl", "front", "1"), task("owl", "back", "1")]
    outcome = run(vault, rows, [*TASKS[:2], *changed, *TASKS[4:]], 2)
    assert outcome.counts.line() == "made 2, reused 4, failed 0"


@pytest.mark.parametrize("damage", ["deleted", "written to", "cut short"])
def test_a_spoilt_output_is_noticed_and_only_it_is_made_again(
    vault: Vault, rows: MemoryRows, damage: str
) -> None:
    first = run(vault, rows, TASKS)
    path = vault.path_of(next(iter(first.outputs.values())).digest)
    good = path.read_bytes()
    path.chmod(0o600)
    if damage == "deleted":
        path.unlink()
    else:
        path.write_bytes(good[:-1] if damage == "cut short" else b"x" + good[1:])
    second = run(vault, rows, TASKS, 2)
    assert second.counts.line() == "made 1, reused 5, failed 0"
    assert path.read_bytes() == good


def test_the_same_recipe_is_made_once_whoever_asks(vault: Vault, rows: MemoryRows) -> None:
    twin = Task("bee on MUG-2", TASKS[0].recipe, "bee", TASKS[0].wanted)
    later = Task("bee on MUG-3", TASKS[0].recipe, "other", TASKS[0].wanted)
    outcome = run(vault, rows, [TASKS[0], twin, later])
    assert outcome.counts.line() == "made 1, reused 2, failed 0"
    assert len({output.digest for output in outcome.outputs.values()}) == 1
    assert set(rows.made_rows) == {(each.item, "print-file") for each in (TASKS[0], twin, later)}


def test_one_name_for_two_recipes_is_refused(vault: Vault, rows: MemoryRows) -> None:
    with pytest.raises(ShopError) as caught:
        run(vault, rows, [task("bee", art="0"), task("bee", art="1")])
    assert caught.value.slug == "two-outputs-one-name"


def test_a_failure_is_recorded_the_rest_goes_on_and_it_is_tried_again(vault: Vault, rows: MemoryRows) -> None:
    bad = [task("crash", "front"), task("crash", "back")]
    outcome = run(vault, rows, [TASKS[0], *bad, *TASKS[2:4]])
    assert outcome.counts.line() == "made 3, reused 0, failed 2"
    failure = rows.failures()[0]
    assert failure.sentence == "it could not be made (RuntimeError: the drawing came apart)"
    assert "Traceback" in Path(failure.log).read_text()
    mended = [Task(each.item, each.recipe, each.group, "mended") for each in bad]
    again = run(vault, rows, [TASKS[0], *mended, *TASKS[2:4]], 2)
    assert again.counts.line() == "made 2, reused 3, failed 0"
    assert rows.failures() == []


def test_a_maker_may_refuse_one_output_of_a_group(vault: Vault, rows: MemoryRows) -> None:
    outcome = run(vault, rows, [task("bee", "front"), task("bee", "small"), task("bee", "back")])
    assert outcome.counts.line() == "made 2, reused 0, failed 1"
    assert [row.why.sentence for row in outcome.failures] == ["too few pixels"]


def test_a_shop_error_of_the_maker_becomes_its_sentence(vault: Vault, rows: MemoryRows) -> None:
    outcome = run(vault, rows, [task("refuse")])
    assert outcome.failures[0].why.sentence == "the file is cut short try: export it again"


def test_a_full_disk_stops_the_run_and_keeps_what_was_made(vault: Vault, rows: MemoryRows) -> None:
    with pytest.raises(ShopError) as caught:
        run(vault, rows, [TASKS[0], task("full"), TASKS[2]])
    assert caught.value.slug == "disk-full"
    assert set(rows.made_rows) == {(TASKS[0].item, "print-file")}


def test_groups_are_told_in_order_with_progress(vault: Vault, rows: MemoryRows) -> None:
    told: list[GroupDone] = []
    steps: list[tuple[int, int]] = []
    watching = Watching(told.append, lambda done, total: steps.append((done, total)))
    run(vault, rows, [*TASKS[:2], task("crash"), *TASKS[4:]], watching=watching)
    assert [done.group for done in told] == ["bee", "crash", "fox"]
    assert (told[1].made, told[1].failed) == (0, 1)
    assert steps == [(2, 5), (3, 5), (5, 5)]


def test_the_assessment_states_the_work_and_the_disk(vault: Vault, rows: MemoryRows) -> None:
    run(vault, rows, TASKS[:2])
    runner = Runner(vault, rows, 2, workers=Workers(InProcess))
    assessment = runner.assess(TASKS)
    assert (assessment.to_make, assessment.current) == (4, 2)
    mean = rows.mean_bytes()["print-file"]
    assert assessment.needed_bytes(rows.mean_bytes(), 10**6) == round(4 * mean)
    assert assessment.needed_bytes({}, 10**6) == 4 * 10**6


def test_nothing_is_submitted_when_all_is_current(vault: Vault, rows: MemoryRows) -> None:
    run(vault, rows, TASKS)

    def no_executor() -> Executor:
        raise AssertionError("an executor was started for nothing")

    runner = Runner(vault, rows, 2, workers=Workers(no_executor, small_groups=0))
    assert runner.run(TASKS, maker).counts.made == 0


class Interrupting(InProcess):
    """Ctrl-C at the worst moment of the second group: done, and not yet known to whom it was given."""

    def __init__(self) -> None:
        self._calls: Iterator[int] = iter(range(100))

    def submit(self, fn: Any, /, *args: Any, **kwargs: Any) -> Any:
        future = super().submit(fn, *args, **kwargs)
        if next(self._calls) == 1:
            signal.raise_signal(signal.SIGINT)
        return future


def test_ctrl_c_keeps_what_was_made(vault: Vault, rows: MemoryRows) -> None:
    runner = Runner(vault, rows, 1, workers=Workers(Interrupting, small_groups=0))
    told: list[GroupDone] = []
    with pytest.raises(KeyboardInterrupt):
        runner.run(TASKS, maker, Watching(told.append))
    assert told == []  # what was under way is kept, but nobody starts to pack after Ctrl-C
    assert {item for item, _ in rows.made_rows} == {
        f"{design} on {area}" for design in ("bee", "owl") for area in ("front", "back")
    }
    assert {row.output for row in rows.made_rows.values()} == {digest for digest, _ in vault.entries()}
    assert run(vault, rows, TASKS, 2).counts.line() == "made 2, reused 4, failed 0"


def test_two_processes_give_the_same_as_one(tmp_path: Path) -> None:
    many = [task(f"design {n}", area) for n in range(12) for area in ("front", "back")]
    here = run(Vault(tmp_path / "one"), MemoryRows(), many)
    rows = MemoryRows()
    runner = Runner(Vault(tmp_path / "two"), rows, 1, workers=Workers(lambda: spawn_pool(2), count=2))
    there = runner.run(many, maker)
    assert there.outputs == here.outputs
    assert len(rows.made_rows) == 24


def test_workers_that_cannot_reach_the_vault_send_bytes_back(tmp_path: Path) -> None:
    vault, rows = Vault(tmp_path / "cache"), MemoryRows()
    runner = Runner(vault, rows, 1, workers=Workers(InProcess, share_folders=False, small_groups=0))
    outcome = runner.run([*TASKS, task("crash")], maker)
    assert outcome.counts.line() == "made 6, reused 0, failed 1"
    assert outcome.outputs == run(Vault(tmp_path / "near"), MemoryRows(), TASKS).outputs
    assert all(vault.get(output.digest) for output in outcome.outputs.values())


def test_the_same_bytes_again_stop_the_work_below(vault: Vault, rows: MemoryRows) -> None:
    def both_steps(version: int, number: int) -> str:
        runner = Runner(vault, rows, number, workers=Workers(InProcess))
        first = Task("bee", Recipe("outline", (version,)), "bee", "the same outline")
        above = runner.run([first], maker)
        output = above.output("bee", "outline")
        assert output is not None
        second = Task("bee", Recipe("picture", (1,), inputs={"outline": output.digest}), "bee", "picture")
        return (above.counts + runner.run([second], maker).counts).line()

    assert both_steps(1, 1) == "made 2, reused 0, failed 0"
    assert both_steps(2, 2) == "made 1, reused 1, failed 0"


def test_a_worker_that_dies_costs_only_the_item_that_killed_it(vault: Vault) -> None:
    rows = MemoryRows()
    many = [task(f"design {n}") for n in range(6)]
    many.insert(3, task("kill"))
    runner = Runner(vault, rows, 1, workers=Workers(lambda: spawn_pool(2), count=2))
    began = time.monotonic()
    outcome = runner.run(many, maker)
    assert outcome.counts.line() == "made 6, reused 0, failed 1"
    assert [row.item for row in outcome.failures] == ["kill on front"]
    assert "died" in outcome.failures[0].why.sentence
    assert time.monotonic() - began < 60


def test_when_every_item_kills_its_worker_the_run_stops_with_advice(vault: Vault) -> None:
    runner = Runner(vault, MemoryRows(), 1, workers=Workers(lambda: spawn_pool(2), count=2))
    with pytest.raises(ShopError) as caught:
        runner.run([task(f"kill {n}") for n in range(12)], maker)
    assert caught.value.slug == "workers-die"


def test_work_that_brought_this_process_down_is_given_to_workers_next_time(vault: Vault) -> None:
    vault.root.mkdir()
    (vault.root / "working-in-process").touch()
    runner = Runner(vault, MemoryRows(), 1, workers=Workers(lambda: spawn_pool(1), count=2))
    outcome = runner.run([task("kill"), task("bee")], maker)
    assert outcome.counts.line() == "made 1, reused 0, failed 1"
    assert list(vault.root.glob("working*")) == []


def test_a_kept_pool_serves_every_call_and_outlives_a_death(vault: Vault) -> None:
    started: list[Executor] = []

    def start() -> Executor:
        started.append(spawn_pool(1))
        return started[-1]

    workers = Workers(start, small_groups=0, count=1)
    with contextlib.closing(WorkerPool(start)) as pool:
        runner = Runner(vault, MemoryRows(), 1, workers=workers, pool=pool)
        runner.run(TASKS[:2], maker)
        runner.run(TASKS[2:4], maker)
        assert len(started) == 1
        died = runner.run([task("kill")], maker)
        assert died.counts.line() == "made 0, reused 0, failed 1"
        assert runner.run(TASKS, maker).counts.line() == "made 2, reused 4, failed 0"
    with pytest.raises(RuntimeError, match="shutdown"):
        started[-1].submit(int)


def test_a_stopped_run_leaves_a_kept_pool_without_work(vault: Vault) -> None:
    with contextlib.closing(WorkerPool(lambda: spawn_pool(1))) as pool:
        runner = Runner(vault, MemoryRows(), 1, workers=Workers(spawn_pool, small_groups=0), pool=pool)
        with pytest.raises(ShopError, match="full"):
            runner.run([task("full"), *TASKS], maker)
        assert runner.run(TASKS, maker).counts.failed == 0
