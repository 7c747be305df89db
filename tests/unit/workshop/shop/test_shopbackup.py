"""A backup brings everything back that cannot be remade, and never puts anything where it does not belong."""

import contextlib
import zipfile
from datetime import UTC, datetime
from pathlib import Path
from typing import IO, Any

import pytest

from hundredfold.kernel.errors import ShopError
from hundredfold.ledger.events import Event, Happened
from hundredfold.store.shopstore import open_store
from hundredfold.workshop.shop.backup import back_up, default_backup, restore
from hundredfold.workshop.shop.folder import open_shop
from hundredfold.workshop.shop.newshop import new_shop


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    folder = tmp_path / "shop"
    new_shop(folder, sample=True)
    (folder / "designs" / "bee.svg").write_bytes(b"<svg/>")
    (folder / "packs" / "northfold").mkdir(parents=True)
    (folder / "packs" / "northfold" / "big.zip").write_bytes(b"large")
    (folder / ".hundredfold" / "cache").mkdir(parents=True)
    (folder / ".hundredfold" / "cache" / "x").write_bytes(b"remade")
    remember(folder, "first")
    return folder


def remember(folder: Path, subject: str) -> None:
    with contextlib.closing(open_store(folder / ".hundredfold" / "shop.db")) as store:
        store.append([Event(Happened.ADOPTED, subject)])


def remembered(folder: Path) -> list[str]:
    with contextlib.closing(open_store(folder / ".hundredfold" / "shop.db")) as store:
        return [event.subject for event in store.events()]


def test_a_new_folder_becomes_the_whole_shop(shop: Path, tmp_path: Path) -> None:
    count = back_up(shop, tmp_path / "b.zip")
    assert restore(tmp_path / "b.zip", tmp_path / "again").record_before is None
    again = tmp_path / "again"
    assert open_shop(again).blanks == open_shop(shop).blanks
    assert (again / "designs" / "bee.svg").read_bytes() == b"<svg/>"
    assert remembered(again) == ["first"]
    assert not (again / "packs").exists()
    assert not (again / ".hundredfold" / "cache").exists()
    assert count == len(zipfile.ZipFile(tmp_path / "b.zip").namelist())


def test_in_a_shop_that_is_there_only_the_record_is_put_back(shop: Path, tmp_path: Path) -> None:
    back_up(shop, tmp_path / "b.zip")
    remember(shop, "second")
    (shop / "designs" / "bee.svg").write_bytes(b"<svg>newer</svg>")
    kept = restore(tmp_path / "b.zip", shop).record_before
    assert remembered(shop) == ["first"]
    assert kept is not None
    assert kept.is_file()
    assert (shop / "designs" / "bee.svg").read_bytes() == b"<svg>newer</svg>"
    assert restore(kept, shop).record_before is not None
    assert remembered(shop) == ["first", "second"]


def test_a_shop_with_mistakes_in_it_can_be_saved(shop: Path, tmp_path: Path) -> None:
    (shop / "shop.toml").write_text("oh no", encoding="utf-8")
    back_up(shop, tmp_path / "b.zip")
    assert "shop.toml" in zipfile.ZipFile(tmp_path / "b.zip").namelist()


def test_a_backup_inside_the_shop_does_not_hold_itself(shop: Path) -> None:
    back_up(shop, shop / "b.zip")
    assert "b.zip" not in zipfile.ZipFile(shop / "b.zip").namelist()


def test_a_file_that_cannot_be_read_stops_the_backup(
    shop: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    really_open = Path.open

    def refuse(path: Path, mode: str = "r") -> IO[Any]:
        if path.name == "bee.svg" and path.parent.name == "designs":
            raise PermissionError(13, "Permission denied", str(path))
        return really_open(path, mode)

    monkeypatch.setattr(Path, "open", refuse)
    with pytest.raises(ShopError) as caught:
        back_up(shop, tmp_path / "b.zip")
    assert (caught.value.slug, caught.value.where.file) == ("file-unreadable", "designs/bee.svg")
    assert not (tmp_path / "b.zip").exists()


def test_no_backup_is_overwritten(shop: Path, tmp_path: Path) -> None:
    (tmp_path / "b.zip").write_bytes(b"older")
    with pytest.raises(ShopError) as caught:
        back_up(shop, tmp_path / "b.zip")
    assert caught.value.slug == "file-exists"
    assert (tmp_path / "b.zip").read_bytes() == b"older"


@pytest.mark.parametrize("name", ["../evil.txt", "/evil.txt"])
def test_a_zip_that_reaches_outside_is_refused(tmp_path: Path, name: str) -> None:
    with zipfile.ZipFile(tmp_path / "b.zip", "w") as archive:
        archive.writestr("shop.toml", "")
        archive.writestr(name, "x")
    with pytest.raises(ShopError) as caught:
        restore(tmp_path / "b.zip", tmp_path / "again")
    assert caught.value.slug == "not-a-backup"
    assert sorted(path.name for path in tmp_path.iterdir()) == ["b.zip"]


def test_other_files_are_no_backups(shop: Path, tmp_path: Path) -> None:
    with zipfile.ZipFile(tmp_path / "b.zip", "w") as archive:
        archive.writestr("holiday.txt", "x")
    (tmp_path / "b.txt").write_text("words")
    for name in ("b.zip", "b.txt"):
        with pytest.raises(ShopError) as caught:
            restore(tmp_path / name, shop)
        assert caught.value.slug == "not-a-backup"
    assert remembered(shop) == ["first"]


def test_a_folder_with_other_things_in_it_is_left_alone(shop: Path, tmp_path: Path) -> None:
    back_up(shop, tmp_path / "b.zip")
    (tmp_path / "photos").mkdir()
    (tmp_path / "photos" / "me.jpg").write_bytes(b"x")
    with pytest.raises(ShopError) as caught:
        restore(tmp_path / "b.zip", tmp_path / "photos")
    assert caught.value.slug == "folder-not-empty"
    assert [path.name for path in (tmp_path / "photos").iterdir()] == ["me.jpg"]


def test_the_usual_name_lies_beside_the_shop(tmp_path: Path) -> None:
    at = datetime(2026, 11, 25, 13, 30, 5, tzinfo=UTC)
    assert default_backup(tmp_path / "my-shop", at) == tmp_path / "my-shop-backup-2026-11-25-133005.zip"
