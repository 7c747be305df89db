"""The shop's record on a PostgreSQL server, opened by the same code as the file."""

import itertools
import threading
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from postgres import cluster, missing, new_database
from sqlalchemy.exc import DBAPIError

from hundredfold.kernel.errors import ShopError
from hundredfold.ledger.events import Event, Happened
from hundredfold.runner.rows import FailureRow, FileStamp, MadeRow
from hundredfold.store import database
from hundredfold.store.schema import metadata
from hundredfold.store.shopstore import Store, open_store

# One server for all of these.
pytestmark = [
    pytest.mark.skipif(bool(missing()), reason=missing() or "there is one"),
    pytest.mark.xdist_group("postgresql"),
]
_names = (f"shop{number}" for number in itertools.count(1))


@pytest.fixture(scope="module")
def server() -> Iterator[str]:
    with cluster() as url:
        yield url


@pytest.fixture
def url(server: str) -> str:
    return new_database(server, next(_names))


@pytest.fixture
def store(url: str) -> Iterator[Store]:
    opened = open_store(url, lambda: datetime(2026, 11, 30, 9, tzinfo=UTC))
    yield opened
    opened.close()


def seen(path: str) -> Event:
    return Event(Happened.DESIGN_SEEN, path, {"path": path})


def test_the_migrations_lead_to_the_tables(store: Store) -> None:
    with store.database.reading() as connection:
        context = MigrationContext.configure(connection, opts={"compare_type": True})
        differences = compare_metadata(context, metadata)
    # Comments stand in the code only: SQLite keeps none.
    flat = [one for entry in differences for one in (entry if isinstance(entry, list) else [entry])]
    assert [one for one in flat if not one[0].endswith("_comment")] == []


def test_what_is_written_is_read_again_by_another_opening(store: Store, url: str) -> None:
    store.append([seen("bee"), seen("ä-otter")])
    store.set_setting("columns answer quayside", {"sku": "Your ref"})
    run = store.runs.begin("month")
    store.builds.save(
        run, [MadeRow("b", "s", "k", "o", 2**33, "{}")], [FailureRow("a", "s", "k", "{}", "no")]
    )
    store.builds.save(run, [MadeRow("b", "s", "k2", "o2", 5, '{"n":2}')], [])
    store.builds.touch(run, [("b", "s")])
    store.builds.save_stamps([FileStamp("a.png", 1, 2, 2**64, "d", 3)])
    store.runs.end(run, "made 1")
    again = open_store(url)
    assert [(event.number, event.subject) for event in again.events()] == [(1, "bee"), (2, "ä-otter")]
    assert again.settings() == {"columns answer quayside": {"sku": "Your ref"}}
    (row,) = again.builds.made_for("b")
    assert (row.key, row.before, row.made_in) == ("k2", "{}", run)
    assert [failure.item for failure in again.builds.failures()] == ["a"]
    assert [stamp.inode for stamp in again.builds.stamps()] == [2**64]
    assert again.builds.drop_unused(1) == 0
    again.close()


CHANGES = ("UPDATE events SET subject = 'x'", "DELETE FROM events", "TRUNCATE events")


@pytest.mark.parametrize("change", CHANGES)
def test_the_ledger_refuses_to_be_changed(store: Store, change: str) -> None:
    store.append([seen("bee")])
    with pytest.raises(DBAPIError, match="never changed"), store.database.writing() as connection:
        connection.exec_driver_sql(change)
    assert [event.subject for event in store.events()] == ["bee"]


def test_rows_taken_back_are_numbered_after_each_other(store: Store) -> None:
    store.append([Event(Happened.RETIRED, "bee", {})])
    assert store.undo(1).number == 2
    with pytest.raises(ShopError, match="already"):
        store.undo(1)


def test_two_writers_at_once_leave_no_gap_and_no_double(store: Store, url: str) -> None:
    def write(who: str) -> None:
        mine = open_store(url)
        for number in range(20):
            mine.append([seen(f"{who} {number}"), seen(f"{who} {number} too")])
        mine.close()

    threads = [threading.Thread(target=write, args=(who,)) for who in ("one", "two", "three")]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert [event.number for event in store.events()] == list(range(1, 121))


def test_a_reader_sees_one_moment_and_does_not_wait_for_a_writer(store: Store, url: str) -> None:
    store.append([seen("bee")])
    other = open_store(url)
    with store.database.reading() as connection:
        count = "SELECT count(*) FROM events"
        assert connection.exec_driver_sql(count).scalar() == 1
        other.append([seen("otter")])
        assert connection.exec_driver_sql(count).scalar() == 1
        with pytest.raises(ShopError, match="only read"), store.database.reading() as looking:
            looking.exec_driver_sql("DELETE FROM settings")
    assert other.last_number() == 2
    other.close()


def test_a_writer_that_waits_too_long_says_so(
    store: Store, url: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(database, "BUSY_S", 1)
    other = open_store(url)
    with store.database.writing(), pytest.raises(ShopError) as refused:
        other.append([seen("otter")])
    assert refused.value.slug == "shop-busy"
    other.close()


def test_one_run_at_a_time(store: Store, url: str) -> None:
    other = open_store(url)
    with store.lock.held("month"), pytest.raises(ShopError) as refused, other.lock.held("proof"):
        pass
    assert refused.value.slug == "shop-in-use"
    other.close()


def test_a_backup_is_the_servers_own_work(store: Store, tmp_path: Path) -> None:
    with pytest.raises(ShopError) as refused:
        store.backup(tmp_path / "copy.db")
    assert refused.value.slug == "backup-needs-file"
    assert "pg_dump" in refused.value.fix


def test_a_server_that_is_not_there_is_named(server: str) -> None:
    with pytest.raises(ShopError) as refused:
        open_store(server.format(name="nowhere"))
    assert refused.value.slug == "server-unreachable"
    assert "nowhere" in str(refused.value)
