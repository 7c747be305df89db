"""Restoring: a whole record at every moment, and nothing forgotten in silence."""

import contextlib
import os
import shutil
import signal
import sqlite3
import zipfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from hundredfold.kernel.errors import ShopError
from hundredfold.ledger.events import Event, Happened
from hundredfold.store.backups import check_is_ours
from hundredfold.store.shopstore import open_store, restore_shop
from hundredfold.workshop.shop.backup import RECORD, back_up, restore

SETTINGS = "name = 'Puddlewick Goods'\n"


def shop(folder: Path, subjects: str = "abc") -> Path:
    folder.mkdir()
    (folder / "shop.toml").write_text(SETTINGS)
    note(folder, subjects)
    return folder


def note(folder: Path, subjects: str) -> None:
    with contextlib.closing(open_store(folder / RECORD)) as store:
        store.append(Event(Happened.RETIRED, subject) for subject in subjects)


def noted(place: Path) -> str:
    with contextlib.closing(open_store(place)) as store:
        return "".join(event.subject for event in store.events())


def with_record(backup: Path, data: bytes | None) -> Path:
    """A backup like this one whose record is ``data``, or missing."""
    changed = backup.with_name("changed.zip")
    with zipfile.ZipFile(backup) as old, zipfile.ZipFile(changed, "w") as new:
        for name in old.namelist():
            if name != RECORD:
                new.writestr(name, old.read(name))
        if data is not None:
            new.writestr(RECORD, data)
    return changed


@pytest.mark.parametrize("data", [None, b"", b"garbage", b"SQLite format 3\x00" + bytes(4000)])
@pytest.mark.parametrize("into", ["new", "shop"])
def test_a_backup_without_a_sound_record_is_refused(tmp_path: Path, data: bytes | None, into: str) -> None:
    made = shop(tmp_path / "shop")
    back_up(made, tmp_path / "b.zip")
    with pytest.raises(ShopError) as caught:
        restore(with_record(tmp_path / "b.zip", data), tmp_path / into)
    assert caught.value.slug == "not-a-backup"
    assert noted(made / RECORD) == "abc"
    assert sorted(path.name for path in tmp_path.iterdir()) == ["b.zip", "changed.zip", "shop"]


def test_every_flipped_byte_of_a_backup_is_told_or_harmless(tmp_path: Path) -> None:
    made = shop(tmp_path / "shop")
    back_up(made, tmp_path / "b.zip")
    whole = (tmp_path / "b.zip").read_bytes()
    refused = 0
    for at in range(0, len(whole), max(1, len(whole) // 60)):
        (tmp_path / "f.zip").write_bytes(whole[:at] + bytes([whole[at] ^ 0x10]) + whole[at + 1 :])
        slug = ""
        try:
            restore(tmp_path / "f.zip", tmp_path / "again")
        except ShopError as error:
            slug = error.slug
        refused += bool(slug)
        assert slug in ("", "not-a-backup", "no-shop", "disk-full")
        assert slug or noted(tmp_path / "again" / RECORD) == "abc"
        shutil.rmtree(tmp_path / "again", ignore_errors=True)
    assert refused > 30


@pytest.mark.skipif(os.name == "nt", reason="Windows knows no such names")
def test_names_with_a_colon_or_a_backslash_come_back(tmp_path: Path) -> None:
    made = shop(tmp_path / "shop")
    for name in ("bees: the second.svg", "a\\b.svg"):
        (made / name).write_bytes(b"<svg/>")
    back_up(made, tmp_path / "b.zip")
    restore(tmp_path / "b.zip", tmp_path / "again")
    assert {"bees: the second.svg", "a\\b.svg"} <= {path.name for path in (tmp_path / "again").iterdir()}


def test_a_bomb_is_refused_before_it_fills_the_disk(tmp_path: Path) -> None:
    made = shop(tmp_path / "shop")
    back_up(made, tmp_path / "b.zip")
    with zipfile.ZipFile(tmp_path / "b.zip", "a") as archive:
        archive.writestr("designs/big.png", b"x")
    data = bytearray((tmp_path / "b.zip").read_bytes())
    at = data.rindex(
        b"PK\x01\x02"
    )  # the last entry of the central directory; its size is at 24 (APPNOTE 4.3.12)
    data[at + 24 : at + 28] = (0xFFFFFFF0).to_bytes(4, "little")
    (tmp_path / "b.zip").write_bytes(bytes(data))
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("hundredfold.runner.space.free_space", lambda _: 3_000_000_000)
        with pytest.raises(ShopError) as caught:
            restore(tmp_path / "b.zip", tmp_path / "again")
    assert caught.value.slug == "disk-full"
    assert not (tmp_path / "again").exists()


def test_a_backup_is_proved_when_it_is_made(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    made = shop(tmp_path / "shop")

    def broken(_: Path) -> None:
        raise ShopError("not-a-backup", "it is not sound", "choose another")

    monkeypatch.setattr("hundredfold.workshop.shop.backup.check_is_ours", broken)
    with pytest.raises(ShopError) as caught:
        back_up(made, tmp_path / "b.zip")
    assert caught.value.slug == "backup-damaged"


def test_what_an_older_record_forgets_is_counted(tmp_path: Path) -> None:
    made = shop(tmp_path / "shop")
    back_up(made, tmp_path / "b.zip")
    note(made, "de")
    done = restore(tmp_path / "b.zip", made)
    assert dict(done.forgotten) == {"retired": 2}
    assert noted(made / RECORD) == "abc"


def test_a_record_of_another_shop_is_refused(tmp_path: Path) -> None:
    one, other = shop(tmp_path / "one"), shop(tmp_path / "other", "xyz")
    for folder, number in ((one, "11"), (other, "22")):
        with contextlib.closing(open_store(folder / RECORD)) as store:
            store.set_setting("shop identity", number)
        (folder / "handed-over").mkdir()
        (folder / "handed-over" / "this-shop.json").write_text(
            f'{{"gone_to":"","places":[],"shop":"{number}"}}'
        )
    back_up(other, tmp_path / "b.zip")
    with pytest.raises(ShopError) as caught:
        restore(tmp_path / "b.zip", one)
    assert caught.value.slug == "other-record"
    assert noted(one / RECORD) == "abc"


def dying(function: Callable[..., Any], left: list[int]) -> Callable[..., Any]:
    def counted(*args: Any, **kwargs: Any) -> Any:
        for when in (0, 1):
            left[0] -= 1
            if left[0] == 0:
                os.kill(os.getpid(), signal.SIGKILL)
            if when == 0:
                answer = function(*args, **kwargs)
        return answer

    return counted


@pytest.mark.skipif(not hasattr(os, "fork"), reason="needs fork")
@pytest.mark.parametrize("damage", [b"what a power cut left" * 400, None])
def test_killed_anywhere_a_whole_record_is_there(tmp_path: Path, damage: bytes | None) -> None:
    place, backup = tmp_path / "shop.db", tmp_path / "backup.db"
    store = open_store(place)
    store.append([Event(Happened.RETIRED, "a")])
    store.backup(backup)
    store.append([Event(Happened.RETIRED, "b")])
    store.close()
    before = damage or place.read_bytes()
    died = 0
    for moment in range(1, 60):
        for left_over in tmp_path.glob("shop.db*"):
            left_over.unlink()
        place.write_bytes(before)
        child = os.fork()
        if child == 0:
            left = [moment]
            for owner, name in (
                (os, "fsync"),
                (os, "replace"),
                (os, "unlink"),
                (Path, "unlink"),
                (sqlite3, "connect"),
            ):
                setattr(owner, name, dying(getattr(owner, name), left))
            try:
                restore_shop(place, backup)
            finally:
                os._exit(0)
        _, status = os.waitpid(child, 0)
        if not os.WIFSIGNALED(status):
            break
        died += 1
        assert place.exists()
        if damage is None or place.read_bytes() != damage:
            check_is_ours(place)
            assert noted(place) in ("a", "ab")
        restore_shop(place, backup)
        assert noted(place) == "a"
    assert died >= 10
