"""Sound copies of shop.db, by SQLite's online backup, checked before they take their name."""

import contextlib
import os
import shutil
import sqlite3
from itertools import chain, count
from pathlib import Path

from hundredfold.kernel.errors import ExitCode, ShopError, Where
from hundredfold.runner.atomic import part_beside, replace_patiently, sync_folder, write_aside
from hundredfold.runner.diskerrors import writing_to
from hundredfold.store.database import damaged, plain_error


def copy_database(source: Path, target: Path) -> None:
    """Copy a database that may be in use, check the copy, then put it in place in one move.

    An earlier ``target`` stays until then. Raises ShopError ``disk-full``, ``cannot-write``, ``file-in-use``,
    ``shop-damaged`` where the copy does not pass SQLite's integrity check.
    """
    part = part_beside(target)
    with writing_to(target):
        target.parent.mkdir(parents=True, exist_ok=True)
        try:
            _copy(source, part, target)
            replace_patiently(part, target)
        except BaseException:
            with contextlib.suppress(OSError):
                part.unlink()
            raise
        sync_folder(target.parent)


def _copy(source: Path, part: Path, target: Path) -> None:
    try:
        # Not read-only: a run that was killed may have left a journal that has to be played back first.
        existing = f"{source.resolve().as_uri()}?mode=rw"
        with (
            contextlib.closing(sqlite3.connect(existing, uri=True)) as old,
            contextlib.closing(sqlite3.connect(part)) as new,
        ):
            old.backup(new)
            # Whoever runs the shop while it is copied does not run the copy.
            if new.execute("SELECT 1 FROM sqlite_master WHERE name = 'runner_lock'").fetchone():
                new.execute("DELETE FROM runner_lock")
                new.commit()
            sound(new, str(source))
    except sqlite3.Error as error:
        raise plain_error(error, str(target)) or error from error
    with part.open("rb+") as file:
        os.fsync(file.fileno())


def sound(connection: sqlite3.Connection, where: str) -> None:
    """Raise ShopError ``shop-damaged`` unless SQLite finds the database whole."""
    said = connection.execute("PRAGMA integrity_check").fetchall()
    if said != [("ok",)]:
        raise damaged(where)


def restore_database(backup: Path, target: Path) -> Path | None:
    """Put a backup in the place of shop.db; the state before is kept beside it and its path given back.

    At every moment a whole record lies there: the one before or the one put back. Close the store first.
    Raises ShopError ``not-a-backup`` where the file is no shop's database, and as ``copy_database`` does.
    """
    check_is_ours(backup)
    kept = None
    if target.exists():
        kept = _free_name(target)
        _keep(target, kept)
    copy_database(backup, target)
    return kept


def _free_name(target: Path) -> Path:
    # Never an earlier state's name: that file may be the very backup being restored.
    endings = chain([""], (f"-{number}" for number in count(2)))
    names = (f"{target.name}.before-restore{ending}" for ending in endings)
    return next(path for path in map(target.with_name, names) if not path.exists())


def _keep(target: Path, kept: Path) -> None:
    try:
        copy_database(target, kept)  # plays back a journal that a killed run left, so none is left either
    except ShopError as error:
        if error.slug != "shop-damaged":
            raise
        # That it is damaged is why a person restores: kept as it is, for whoever can mend it. It stays in its
        # place until the backup takes that.
        _copy_as_it_is(target, kept)
        if _journal(target).exists():
            _copy_as_it_is(_journal(target), _journal(kept))
    # A journal belongs to the file that was there before; left, it would be played into the new one.
    _journal(target).unlink(missing_ok=True)


def _copy_as_it_is(source: Path, target: Path) -> None:
    with source.open("rb") as read, write_aside(target) as written:
        shutil.copyfileobj(read, written)


def _journal(database: Path) -> Path:
    return database.with_name(f"{database.name}-journal")


def check_is_ours(backup: Path) -> None:
    """Raise ShopError ``not-a-backup`` unless the file is a shop's record, and sound."""
    try:
        with contextlib.closing(sqlite3.connect(f"{backup.resolve().as_uri()}?mode=ro", uri=True)) as found:
            sound(found, str(backup))
            found.execute("SELECT version_num FROM alembic_version")
            found.execute("SELECT number FROM events LIMIT 1")
    except (sqlite3.Error, ShopError) as error:
        raise ShopError(
            "not-a-backup",
            "it is not a sound backup of a shop",
            "choose a file that 'hundredfold backup' wrote",
            Where(file=str(backup)),
            ExitCode.WRONG_USE,
        ) from error


def setting_in(record: Path, name: str) -> str | None:
    """One setting's canonical JSON in a record that is only looked at; None where it was never made."""
    rows = _looked_up(record, "SELECT value FROM settings WHERE name = ?", name)
    return str(rows[0][0]) if rows else None


def rows_in(record: Path) -> set[tuple[int, str, str]]:
    """Number, kind and subject of every ledger row of a record that is only looked at."""
    found = _looked_up(record, _ALL_ROWS)
    return {(int(str(number)), str(kind), str(subject)) for number, kind, subject in found}


_ALL_ROWS = "SELECT number, happened, subject FROM events"


def _looked_up(record: Path, query: str, *values: str) -> list[tuple[object, ...]]:
    try:
        with contextlib.closing(sqlite3.connect(f"{record.resolve().as_uri()}?mode=ro", uri=True)) as found:
            return found.execute(query, values).fetchall()
    except sqlite3.Error:
        return []  # damaged, or older than what is asked for
