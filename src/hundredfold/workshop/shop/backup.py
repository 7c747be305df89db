"""The whole shop in one ZIP, and back again. Packs and the cache stay out: they are large."""

import contextlib
import os
import tempfile
import zipfile
from collections.abc import Iterator
from datetime import datetime
from pathlib import Path, PurePosixPath

from hundredfold.kernel.errors import ShopError, Where
from hundredfold.runner.atomic import write_aside
from hundredfold.store.shopstore import open_store, restore_shop
from hundredfold.workshop.shop.folder import require_shop
from hundredfold.workshop.shop.newshop import folder_aside
from hundredfold.workshop.shop.paths import SETTINGS_FILE, ShopPaths
from hundredfold.workshop.shop.record import record_place

RECORD = ".hundredfold/shop.db"
LEFT_OUT = ("packs", "delivered", ".hundredfold")
# What is compressed already is only stored.
_STORED = frozenset({".png", ".jpg", ".jpeg", ".webp", ".zip", ".xlsx", ".woff2"})


def default_backup(folder: Path, now: datetime) -> Path:
    """Beside the shop folder, named after it and the minute: ``my-shop-backup-2026-11-25-1330.zip``."""
    root = Path(os.path.abspath(folder))
    return root.with_name(f"{root.name}-backup-{now:%Y-%m-%d-%H%M%S}.zip")


def back_up(folder: Path, to: Path) -> int:
    """Write the shop's own files and a sound copy of its record to a ZIP, and read it back; gives the count.

    The settings may hold mistakes. Raises ShopError ``no-shop``, ``file-exists`` where ``to`` is there
    already, ``file-unreadable``, ``disk-full``, ``cannot-write``, ``shop-damaged``, ``backup-damaged``, and
    ``backup-needs-file`` where the record is on a server.
    """
    paths = require_shop(folder)
    place = record_place(paths)
    if to.exists():
        fix = "give the backup another name; backups are never overwritten"
        raise ShopError("file-exists", "there is a file of that name", fix, Where(str(to)))
    with tempfile.TemporaryDirectory() as aside:
        files = list(_own_files(paths.root, to))
        if place != paths.database or paths.database.is_file():
            record = Path(aside) / "shop.db"
            with contextlib.closing(open_store(place)) as store:
                store.backup(record)
            files.append((RECORD, record))
        with write_aside(to) as file, zipfile.ZipFile(file, "w", strict_timestamps=False) as archive:
            for name, path in files:
                stored = path.suffix.lower() in _STORED
                _must_open(path, name)
                archive.write(path, name, zipfile.ZIP_STORED if stored else zipfile.ZIP_DEFLATED)
    with zipfile.ZipFile(to) as archive:
        damaged = archive.testzip()
    if damaged is not None:
        fix = "check the disk it was written to, and back up to another one"
        raise ShopError("backup-damaged", f"{damaged} cannot be read back", fix, Where(str(to)))
    return len(files)


def restore(backup: Path, folder: Path) -> Path | None:
    """Bring a backup back.

    A new or empty folder becomes the whole shop. In a shop that is there, only the record of what was handed
    over is put back, since its files may be newer; the record before is kept, and its path given back. Raises
    ShopError ``not-a-backup``, ``folder-not-empty``, ``shop-in-use``, ``disk-full``, ``cannot-write``.
    """
    target = Path(os.path.abspath(folder))
    if not zipfile.is_zipfile(backup):  # a bare copy of the record, as a migration leaves one
        return restore_shop(record_place(require_shop(folder)), backup)
    with zipfile.ZipFile(backup) as archive:
        names = _safe_names(archive, backup)
        if (target / SETTINGS_FILE).is_file():
            return _restore_record(archive, names, backup, target)
        if target.is_dir() and any(target.iterdir()):
            fix = "name a new folder for the whole shop, or the shop whose record is to be put back"
            raise ShopError(
                "folder-not-empty", "the folder is not empty and is no shop", fix, Where(str(folder))
            )
        with folder_aside(target) as aside:
            archive.extractall(aside, names)
    return None


def _restore_record(archive: zipfile.ZipFile, names: list[str], backup: Path, target: Path) -> Path | None:
    if RECORD not in names:
        what = "it holds no record of what was handed over"
        raise ShopError("not-a-backup", what, "choose a later backup of this shop", Where(str(backup)))
    with tempfile.TemporaryDirectory() as aside:
        return restore_shop(record_place(ShopPaths(target)), Path(archive.extract(RECORD, aside)))


def _must_open(path: Path, name: str) -> None:
    """Raises ShopError ``file-unreadable``: a backup that silently lacks a file is none."""
    try:
        path.open("rb").close()
    except OSError as error:
        fix = "check that you may read it and that it is not open elsewhere; nothing was saved"
        what = f"it cannot be read: {error.strerror}"
        raise ShopError("file-unreadable", what, fix, Where(name)) from error


def _own_files(root: Path, to: Path) -> Iterator[tuple[str, Path]]:
    for folder, folders, files in os.walk(root):
        here = Path(folder)
        if here == root:
            folders[:] = [name for name in folders if name not in LEFT_OUT]
        folders.sort()
        for name in sorted(files):
            path = here / name
            if path.is_file() and not path.is_symlink() and path.absolute() != to.absolute():
                yield path.relative_to(root).as_posix(), path


def _safe_names(archive: zipfile.ZipFile, backup: Path) -> list[str]:
    names = archive.namelist()
    for name in names:
        pure = PurePosixPath(name)
        if pure.is_absolute() or ".." in pure.parts or "\\" in name or ":" in name:
            what = f"it would write outside its folder ({name})"
            raise ShopError("not-a-backup", what, "do not use this file", Where(str(backup)))
    if SETTINGS_FILE not in names:
        what = f"it holds no {SETTINGS_FILE}"
        raise ShopError(
            "not-a-backup", what, "choose a file made by `hundredfold backup`", Where(str(backup))
        )
    return names
