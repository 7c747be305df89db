"""The whole shop in one ZIP, and back again. Packs and the cache stay out: they are large."""

import contextlib
import os
import struct
import tempfile
import zipfile
import zlib
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path, PurePosixPath

from hundredfold.kernel.errors import ShopError, Where
from hundredfold.ledger.keys import PackKey
from hundredfold.runner.atomic import sweep_dead_parts, write_aside
from hundredfold.runner.space import check_space
from hundredfold.store.backups import check_is_ours, rows_in, setting_in
from hundredfold.store.mapping import setting_text
from hundredfold.store.shopstore import SHORT_S, open_store, restore_shop
from hundredfold.workshop.shop.folder import require_shop
from hundredfold.workshop.shop.identity import SETTING, identity_of
from hundredfold.workshop.shop.marks import carry_over
from hundredfold.workshop.shop.newshop import folder_aside
from hundredfold.workshop.shop.paths import SETTINGS_FILE, ShopPaths
from hundredfold.workshop.shop.record import open_record, record_place

RECORD = ".hundredfold/shop.db"
# What reading a ZIP that was changed or cut short may raise.
_BROKEN = (
    zipfile.BadZipFile,
    zlib.error,
    struct.error,
    NotImplementedError,
    RuntimeError,
    EOFError,
    ValueError,
)
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
    sweep_dead_parts(to.parent)
    with tempfile.TemporaryDirectory() as aside:
        files = list(_own_files(paths.root, to))
        record = Path(aside) / "shop.db"
        with contextlib.closing(open_store(place)) as store:
            store.backup(record)
        files.append((RECORD, record))
        with write_aside(to) as file, zipfile.ZipFile(file, "w", strict_timestamps=False) as archive:
            for name, path in files:
                stored = path.suffix.lower() in _STORED
                _must_open(path, name)
                archive.write(path, name, zipfile.ZIP_STORED if stored else zipfile.ZIP_DEFLATED)
    _read_back(to)
    return len(files)


def _read_back(backup: Path) -> None:
    """Prove a backup: every file in it can be read, and the record is a sound one."""
    try:
        with tempfile.TemporaryDirectory() as aside, zipfile.ZipFile(backup) as archive:
            damaged = archive.testzip()
            if damaged is None:
                check_is_ours(Path(archive.extract(RECORD, aside)))
                return
    except (*_BROKEN, ShopError):
        damaged = "the record"
    fix = "check the disk it was written to, and back up to another one"
    raise ShopError("backup-damaged", f"{damaged} cannot be read back", fix, Where(str(backup)))


@dataclass(frozen=True)
class Restored:
    """What restoring came to.

    ``record_before`` is where the record before is kept, ``carried_over`` the hand-overs that the backup did
    not know and the marks did, ``forgotten`` what else the record before knew, counted by kind.
    """

    record_before: Path | None = None
    carried_over: tuple[PackKey, ...] = ()
    forgotten: Mapping[str, int] = field(default_factory=dict)


def restore(backup: Path, folder: Path) -> Restored:
    """Bring a backup back.

    A new or empty folder becomes the whole shop. In a shop that is there, only the record of what was handed
    over is put back, since its files may be newer; the record before is kept, and hand-overs that stand in
    the shop's marks are carried over. Raises ShopError ``not-a-backup``, ``folder-not-empty``,
    ``other-record``, ``shop-in-use``, ``disk-full``, ``cannot-write``.
    """
    target = Path(os.path.abspath(folder))
    if backup.exists() and not backup.is_file():  # a pipe would wait for ever
        fix = "choose a file that `hundredfold backup` wrote"
        raise ShopError("not-a-backup", "it is no ordinary file", fix, Where(str(backup)))
    if not zipfile.is_zipfile(backup):  # a bare copy of the record, as a migration leaves one
        return _put_back(require_shop(folder), backup)
    try:
        with zipfile.ZipFile(backup) as archive:
            names = _safe_names(archive, backup)
            with tempfile.TemporaryDirectory() as aside:
                check_space(Path(aside), archive.getinfo(RECORD).file_size)
                record = Path(archive.extract(RECORD, aside))
                check_is_ours(record)
                if (target / SETTINGS_FILE).is_file():
                    return _put_back(ShopPaths(target), record)
            _whole_shop(archive, names, target)
    except _BROKEN as error:
        what = "it is damaged: what is in it is not what was written"
        raise ShopError("not-a-backup", what, "choose another backup", Where(str(backup))) from error
    return Restored()


def _whole_shop(archive: zipfile.ZipFile, names: Sequence[str], target: Path) -> None:
    if target.is_dir() and any(target.iterdir()):
        fix = "name a new folder for the whole shop, or the shop whose record is to be put back"
        raise ShopError("folder-not-empty", "the folder is not empty and is no shop", fix, Where(str(target)))
    check_space(target.parent, sum(archive.getinfo(name).file_size for name in names))
    with folder_aside(target) as aside:
        archive.extractall(aside, names)


def _put_back(paths: ShopPaths, record: Path) -> Restored:
    """The record in place of the one that is there, with the hand-overs it does not know carried over."""
    check_is_ours(record)
    said, theirs = identity_of(paths), setting_in(record, SETTING)
    if said is not None and theirs not in (None, setting_text(said.id)):
        fix = "choose a backup of this shop"
        raise ShopError("other-record", "it holds the record of another shop", fix, Where(str(record)))
    before = restore_shop(record_place(paths), record)
    lost = Counter(kind for _, kind, _ in (rows_in(before) - rows_in(record) if before else ()))
    with contextlib.closing(open_record(paths)) as store, store.alone("restore", SHORT_S):
        return Restored(before, carry_over(paths, store), dict(sorted(lost.items())))


def carry_over_marks(folder: Path) -> tuple[PackKey, ...]:
    """Take into the record the hand-overs that only the shop's marks know, and give them."""
    paths = require_shop(folder)
    with contextlib.closing(open_record(paths)) as store, store.alone("restore", SHORT_S):
        return carry_over(paths, store)


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
        # On Windows alone these two have a meaning in a path; elsewhere a file may be called so.
        windows = os.name == "nt" and ("\\" in name or ":" in name)
        if pure.is_absolute() or ".." in pure.parts or windows:
            what = f"it would write outside its folder ({name})"
            raise ShopError("not-a-backup", what, "do not use this file", Where(str(backup)))
    if SETTINGS_FILE not in names:
        what = f"it holds no {SETTINGS_FILE}"
        raise ShopError(
            "not-a-backup", what, "choose a file made by `hundredfold backup`", Where(str(backup))
        )
    if RECORD not in names:
        what = "it holds no record of what was handed over"
        raise ShopError("not-a-backup", what, "choose another backup of this shop", Where(str(backup)))
    return names
