"""A backup is whole, checked, and comes back as it was; what it replaces is kept."""

import sqlite3
from pathlib import Path

import pytest

from hundredfold.kernel.errors import ShopError
from hundredfold.ledger.events import Event, Happened
from hundredfold.store.schema import HEAD
from hundredfold.store.shopstore import Store, open_store, restore_shop


def filled(place: Path, subjects: str = "abc") -> Store:
    store = open_store(place)
    store.append(Event(Happened.PLANNED, subject) for subject in subjects)
    return store


def subjects(place: Path) -> str:
    return "".join(event.subject for event in open_store(place).events())


def test_a_backup_while_a_run_works_comes_back_without_its_lock(tmp_path: Path) -> None:
    place, backup = tmp_path / "shop.db", tmp_path / "backups" / "monday.db"
    store = filled(place)
    with store.lock.held("month"):
        store.backup(backup)
        with pytest.raises(ShopError) as caught:
            restore_shop(place, backup)
        assert caught.value.slug == "shop-in-use"
    store.append([Event(Happened.PLANNED, "d")])
    store.close()
    kept = restore_shop(place, backup)
    assert subjects(place) == "abc"
    assert open_store(place).lock.holder() is None
    assert kept is not None
    assert subjects(kept) == "abcd"
    assert sorted(path.name for path in tmp_path.iterdir()) == [
        "backups",
        "shop.db",
        "shop.db.before-restore",
        "shop.db.lock",
        "shop.db.short.lock",
    ]


def test_an_earlier_backup_stays_until_the_new_one_is_whole(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    place, backup = tmp_path / "shop.db", tmp_path / "backup.db"
    store = filled(place)
    store.backup(backup)
    store.append([Event(Happened.PLANNED, "d")])

    def unsound(*_: object) -> None:
        raise ShopError("shop-damaged", "it is damaged", "restore a backup")

    monkeypatch.setattr("hundredfold.store.backups.sound", unsound)
    with pytest.raises(ShopError):
        store.backup(backup)
    monkeypatch.undo()
    assert subjects(backup) == "abc"
    assert sorted(path.name for path in tmp_path.iterdir()) == ["backup.db", "shop.db"]


def test_a_damaged_shop_is_restored_and_the_damaged_file_kept(tmp_path: Path) -> None:
    place, backup = tmp_path / "shop.db", tmp_path / "backup.db"
    filled(place).backup(backup)
    place.write_bytes(b"what a power cut left" * 400)
    with pytest.raises(ShopError) as caught:
        open_store(place)
    assert caught.value.slug == "shop-damaged"
    kept = restore_shop(place, backup)
    assert subjects(place) == "abc"
    assert kept is not None
    assert kept.read_bytes().startswith(b"what a power cut left")


def test_a_lost_shop_is_restored(tmp_path: Path) -> None:
    place, backup = tmp_path / "shop.db", tmp_path / "backup.db"
    filled(place).backup(backup)
    place.unlink()
    assert restore_shop(place, backup) is None
    assert subjects(place) == "abc"


@pytest.mark.parametrize("content", [b"", b"a picture, say", None])
def test_what_is_no_backup_is_refused_and_nothing_changes(tmp_path: Path, content: bytes | None) -> None:
    place, other = tmp_path / "shop.db", tmp_path / "other.db"
    filled(place).close()
    if content is None:
        with sqlite3.connect(other) as raw:
            raw.execute("CREATE TABLE recipes (name)")
        raw.close()
    else:
        other.write_bytes(content)
    with pytest.raises(ShopError) as caught:
        restore_shop(place, other)
    assert caught.value.slug == "not-a-backup"
    assert subjects(place) == "abc"


def test_a_migration_is_preceded_by_a_backup(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    place = tmp_path / "shop.db"
    filled(place).close()
    with sqlite3.connect(place) as raw:
        raw.execute("UPDATE alembic_version SET version_num = '0000'")
    raw.close()
    monkeypatch.setattr("hundredfold.store.migrating.migrate", lambda connection: None)
    open_store(place).close()
    kept = tmp_path / f"shop.db.before-{HEAD}"
    with sqlite3.connect(kept) as raw:
        assert raw.execute("SELECT count(*) FROM events").fetchone() == (3,)
    raw.close()


def test_a_migration_that_fails_changes_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    place = tmp_path / "shop.db"

    def fails(connection: object) -> None:
        connection.exec_driver_sql("CREATE TABLE half_way (x)")  # type: ignore[attr-defined]
        raise RuntimeError

    monkeypatch.setattr("hundredfold.store.migrating.migrate", fails)
    with pytest.raises(RuntimeError):
        open_store(place)
    with sqlite3.connect(place) as raw:
        assert raw.execute("SELECT name FROM sqlite_master").fetchall() == []
    raw.close()
