"""The ledger only grows; every write is whole; everything comes back as it was put."""

import sqlite3
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from sqlalchemy import text
from sqlalchemy.exc import IntegrityError

from hundredfold.kernel.errors import ShopError
from hundredfold.ledger.events import Event, Happened
from hundredfold.ledger.fold import LASTING
from hundredfold.runner.rows import FailureRow, FileStamp, MadeRow
from hundredfold.store.shopstore import Store, open_store


class Clock:
    """A clock that a test turns."""

    def __init__(self) -> None:
        self.now = datetime(2026, 11, 25, 13, 5, 9, tzinfo=UTC)

    def __call__(self) -> datetime:
        return self.now


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def store(tmp_path: Path, clock: Clock) -> Iterator[Store]:
    opened = open_store(tmp_path / "shop.db", clock)
    yield opened
    opened.close()


def event(subject: str = "bee|MUG-325|quayside", kind: Happened = Happened.PLANNED) -> Event:
    return Event(kind, subject, {"day": "2026-12-01", "cap": 50, "tags": ["é", "b"]})


def test_append_numbers_and_dates_rows(store: Store, clock: Clock) -> None:
    first, second = store.append([event("a"), event("b")])
    assert (first.number, second.number) == (1, 2)
    assert first.at == clock.now
    assert store.events() == (first, second)
    assert store.events(since=1) == (second,)


def test_events_by_kind_and_subject(store: Store) -> None:
    store.append([event("a"), event("b", Happened.PACKED), event("a", Happened.ENDED)])
    assert [each.subject for each in store.events(kinds=[Happened.PACKED])] == ["b"]
    assert [each.happened for each in store.history("a")] == [Happened.PLANNED, Happened.ENDED]


def test_a_clock_set_back_keeps_the_order_of_times(store: Store, clock: Clock) -> None:
    store.append([event("a")])
    clock.now -= timedelta(hours=2)
    store.append([event("b")])
    at = [each.at for each in store.events() if each.at]
    assert at == sorted(at)


def test_undo_appends_the_inverse_and_undoing_that_brings_it_back(store: Store) -> None:
    store.append([event("a")])
    undone = store.undo(1)
    assert (undone.happened, undone.undoes, undone.subject) == (Happened.UNDONE, 1, "a")
    with pytest.raises(ShopError) as caught:
        store.undo(1)
    assert caught.value.slug == "already-undone"
    assert store.undo(undone.number).undoes == undone.number
    assert store.undo(1).undoes == 1
    assert len(store.events()) == 4


@pytest.mark.parametrize("kind", sorted(LASTING))
def test_what_left_the_house_cannot_be_undone(store: Store, kind: Happened) -> None:
    store.append([event("quayside/2026-12-01", kind)])
    with pytest.raises(ShopError) as caught:
        store.undo(1)
    assert caught.value.slug == "cannot-be-undone"
    assert kind.value in str(caught.value)


def test_undo_of_nothing(store: Store) -> None:
    with pytest.raises(ShopError) as caught:
        store.undo(7)
    assert caught.value.slug == "no-such-entry"


@pytest.mark.parametrize("change", ["UPDATE events SET subject = 'x'", "DELETE FROM events"])
def test_the_ledger_refuses_change(store: Store, change: str) -> None:
    store.append([event()])
    with (
        pytest.raises(IntegrityError, match="never changed or deleted"),
        store.database.writing() as connection,
    ):
        connection.execute(text(change))
    assert len(store.events()) == 1


def test_append_is_all_or_nothing(store: Store) -> None:
    bad = Event(Happened.PLANNED, "b", {"x": object()})
    with pytest.raises(TypeError):
        store.append([event("a"), bad])
    assert store.events() == ()


def test_build_rows_come_back(store: Store) -> None:
    row = MadeRow("bee on front", "print-file", "k" * 64, "d" * 64, 1234, '{"step":"print-file"}')
    failed = FailureRow("owl on front", "print-file", "k" * 64, "{}", "too few pixels", "log")
    store.builds.save(3, [row], [failed])
    assert [(r.item, r.key, r.recipe) for r in store.builds.made()] == [(row.item, row.key, "")]
    assert store.builds.made_for("bee on front")[0].recipe == row.recipe
    assert store.builds.made_as("d" * 64)[0].run == 3
    assert store.builds.failures()[0].run == 3
    assert store.builds.mean_bytes() == {"print-file": 1234.0}
    store.builds.touch(5, [("bee on front", "print-file")])
    assert store.builds.last_used() == {"d" * 64: 5}
    store.builds.save(6, [MadeRow("owl on front", "print-file", "k" * 64, "e" * 64, 1, "{}")], [])
    assert store.builds.failures() == []


def test_stamps_come_back_even_with_the_inodes_of_windows(store: Store) -> None:
    stamp = FileStamp("designs/bee.png", 10, 1_700_000_000_000_000_001, 2**100 + 1, "d" * 64, 5)
    store.builds.save_stamps([stamp])
    assert list(store.builds.stamps()) == [stamp]
    assert store.builds.paths_with("d" * 64) == ("designs/bee.png",)


def test_settings_come_back_and_none_takes_away(store: Store) -> None:
    store.set_setting("month.target", {"amount": "4.00", "currency": "GBP"})
    store.set_setting("month.days", 28)
    store.set_setting("month.days", 30)
    assert store.settings() == {"month.days": 30, "month.target": {"amount": "4.00", "currency": "GBP"}}
    store.set_setting("month.days", None)
    assert list(store.settings()) == ["month.target"]


def test_completed_runs_come_newest_first(store: Store) -> None:
    for command in ("month", "proof", "month"):
        store.runs.end(store.runs.begin(command), "made 0, reused 1, failed 0")
    assert store.runs.begin("month") == 4  # cut off
    assert [run.number for run in store.runs.completed(2)] == [3, 2]
    assert [run.number for run in store.runs.completed(9, "month")] == [3, 1]


def made_row(item: str, step: str) -> MadeRow:
    return MadeRow(item, step, "k" * 64, "d" * 64, 1, "{}")


def test_what_the_last_runs_of_its_step_did_not_use_is_forgotten(store: Store) -> None:
    first = store.runs.begin("month")
    store.builds.save(
        first, [made_row("bee", "picture"), made_row("owl", "picture"), made_row("bee", "facts")], []
    )
    store.runs.end(first, "")
    for _ in range(3):  # these look at facts only: no picture is forgotten for that
        number = store.runs.begin("proof")
        store.builds.touch(number, [("bee", "facts")])
        store.runs.end(number, "")
    assert store.builds.drop_unused(2) == 0
    failed = FailureRow("fox", "picture", "k" * 64, "{}", "too few pixels")
    for failures in ([failed], [], []):
        number = store.runs.begin("month")
        store.builds.touch(number, [("bee", "picture"), ("bee", "facts")])
        store.builds.save(number, [], failures)
        assert store.builds.drop_unused(3) == 0  # not before the run is completed
        store.runs.end(number, "")
    assert store.builds.drop_unused(2) == 1
    assert {(row.item, row.step) for row in store.builds.made()} == {("bee", "picture"), ("bee", "facts")}
    assert store.builds.failures() == []


def test_the_database_is_set_up_for_safety(store: Store) -> None:
    with store.database.reading() as connection:
        assert connection.execute(text("PRAGMA journal_mode")).scalar() == "delete"
        assert connection.execute(text("PRAGMA synchronous")).scalar() == 2
        assert connection.execute(text("PRAGMA foreign_keys")).scalar() == 1


def test_a_newer_shop_is_refused(tmp_path: Path) -> None:
    open_store(tmp_path / "shop.db").close()
    with sqlite3.connect(tmp_path / "shop.db") as raw:
        raw.execute("UPDATE alembic_version SET version_num = '9999'")
    raw.close()
    with pytest.raises(ShopError) as caught:
        open_store(tmp_path / "shop.db")
    assert caught.value.slug == "shop-too-new"


def test_a_file_that_is_no_database_is_said_to_be_damaged(tmp_path: Path) -> None:
    (tmp_path / "shop.db").write_bytes(b"not a database at all" * 500)
    with pytest.raises(ShopError) as caught:
        open_store(tmp_path / "shop.db")
    assert caught.value.slug == "shop-damaged"


def test_several_writers_wait_for_each_other(tmp_path: Path) -> None:
    place = tmp_path / "shop.db"
    open_store(place).close()

    def write(writer: int) -> list[int]:
        own = open_store(place)
        return [own.append([event(f"{writer}")] * 2)[-1].number for _ in range(20)]

    with ThreadPoolExecutor(4) as threads:
        numbers = sorted(number for each in threads.map(write, range(4)) for number in each)
    assert numbers == list(range(2, 162, 2))
    assert [each.number for each in open_store(place).events()] == list(range(1, 161))
