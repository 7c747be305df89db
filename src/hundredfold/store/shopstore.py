"""The shop's database: opened, migrated after a backup, and everything that is kept in it."""

import contextlib
from collections.abc import Callable, Collection, Iterable, Iterator, Sequence
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path

from sqlalchemy import delete, inspect, select

from hundredfold.kernel.errors import ExitCode, ShopError, Where
from hundredfold.ledger.events import Event, Happened
from hundredfold.store.backups import copy_database, restore_database
from hundredfold.store.buildbook import BuildBook, upsert
from hundredfold.store.database import Database
from hundredfold.store.eventlog import EventLog
from hundredfold.store.filelock import locked_beside
from hundredfold.store.keptbook import KeptBook
from hundredfold.store.lock import RunnerLock
from hundredfold.store.mapping import setting_of, setting_text
from hundredfold.store.runs import RunBook
from hundredfold.store.salesbook import SalesBook
from hundredfold.store.schema import HEAD, settings
from hundredfold.store.shortlock import ShortLock, short_place

# What a decision waits for another one: two windows, a hand-over of a small pack (our choice).
SHORT_S = 3.0


def utc_now() -> datetime:
    """The computer's clock, in UTC."""
    return datetime.now(UTC)


class Store:
    """One shop's database.

    ``builds`` keeps outputs, failures and file digests, ``runs`` the numbered runs, ``lock`` says who works
    on the shop, ``short`` keeps short writes apart, ``kept`` holds what runs leave for readers, ``sales``
    what reports told. Ledger rows are appended and read here. Every write is one transaction.
    """

    def __init__(self, database: Database, clock: Callable[[], datetime] = utc_now) -> None:
        self.database = database
        self.builds = BuildBook(database)
        self.runs = RunBook(database, clock)
        self.lock = RunnerLock(database, clock)
        self.short = ShortLock(database, self.lock.taken)
        self.kept = KeptBook(database, clock)
        self.sales = SalesBook(database, clock)
        self._log = EventLog(database, clock)

    @contextmanager
    def alone(self, command: str, wait_s: float = 0.0) -> Iterator[None]:
        """Nobody else works on the shop for this block, no run and no short write.

        Raises ShopError ``shop-in-use``.
        """
        with self.lock.held(command, wait_s), self.short.held(max(wait_s, SHORT_S)):
            yield

    def append(self, events: Iterable[Event], decision: int = 0) -> tuple[Event, ...]:
        """Append ledger rows, all or none, as one decision (or as more of an earlier one).

        Gives them back with number and UTC time.
        """
        return self._log.append(events, decision)

    def events(
        self, since: int = 0, kinds: Collection[Happened] | None = None, subject: str | None = None
    ) -> tuple[Event, ...]:
        """Ledger rows with numbers above ``since``, in order; only these kinds and this subject if given."""
        return self._log.events(since, kinds, subject)

    def last_number(self) -> int:
        """The number of the newest ledger row; 0 while there is none."""
        return self._log.last_number()

    def history(self, subject: str) -> tuple[Event, ...]:
        """All that happened to one subject."""
        return self._log.history(subject)

    def undo(self, number: int) -> Event:
        """Append the inverse of a row; see ``EventLog.undo`` for what it raises."""
        return self._log.undo(number)

    def undo_decisions(self, ids: Sequence[int]) -> tuple[Event, ...]:
        """Take back whole decisions, all or none; see ``EventLog.undo_decisions`` for what it raises."""
        return self._log.undo_decisions(ids)

    def settings(self) -> dict[str, object]:
        """Settings made on the page, by name, in the order of the names."""
        with self.database.reading() as connection:
            rows = connection.execute(select(settings.c.name, settings.c.value))
            # Sorted here: a server sorts by its own language.
            return {name: setting_of(value) for name, value in sorted(tuple(row) for row in rows)}

    def setting(self, name: str) -> object:
        """One setting; None where it was never made."""
        with self.database.reading() as connection:
            value = connection.scalar(select(settings.c.value).where(settings.c.name == name))
            return None if value is None else setting_of(value)

    def set_setting(self, name: str, value: object) -> None:
        """Keep a setting; None takes it away. Values are what JSON can hold."""
        with self.database.writing() as connection:
            if value is None:
                connection.execute(delete(settings).where(settings.c.name == name))
            else:
                upsert(connection, settings, [{"name": name, "value": setting_text(value)}])

    def backup(self, to: Path) -> None:
        """A sound copy of the whole database as the file ``to``, whole or not at all; see ``backups``."""
        copy_database(self._file(), to)

    def _file(self) -> Path:
        if self.database.file is None:
            fix = "back it up with the server's own tool (pg_dump), and copy the shop folder"
            raise _on_a_server(self.database.name, fix)
        return self.database.file

    def close(self) -> None:
        """Let go of the file."""
        self.database.close()


def open_store(place: Path | str, clock: Callable[[], datetime] = utc_now) -> Store:
    """Open shop.db, or the database at a URL; made where it is missing, migrated where it is older.

    Before a migration an old file is copied beside it (``shop.db.before-0002``); a server's tables change in
    one transaction, and copies of them are its own tools' work. Raises ShopError ``shop-too-new``,
    ``shop-damaged``, ``shop-busy``, ``cannot-write``, ``disk-full``; of a server ``server-unreachable``,
    ``bad-database-url``, ``tool-missing``.
    """
    database = Database(place)
    if database.file is not None:
        with contextlib.suppress(OSError):  # opening says it better
            database.file.parent.mkdir(parents=True, exist_ok=True)
    version = _version(database)
    if version != HEAD:
        _bring_up_to_date(database, version)
    return Store(database, clock)


def _on_a_server(name: str, fix: str) -> ShopError:
    what = "this shop's record is kept on a database server"
    return ShopError("backup-needs-file", what, fix, Where(file=name))


def restore_shop(place: Path | str, backup: Path) -> Path | None:
    """Put a backup in the place of a shop's database, whole or not at all; any store on it is closed first.

    The state before is kept beside it and its path given back. Raises ShopError ``not-a-backup``,
    ``shop-in-use`` while a run works on the shop, ``backup-needs-file`` of a server's database, and as
    ``Store.backup`` does.
    """
    if isinstance(place, str):
        raise _on_a_server(place, "bring it back with the server's own tool (pg_restore or psql)")
    with locked_beside(place) as ours, locked_beside(short_place(place), SHORT_S) as quiet:
        if place.exists():
            try:
                with contextlib.closing(open_store(place)) as store:
                    if not (ours and quiet):
                        raise store.lock.taken()
                    store.lock.refuse_if_used()
            except ShopError as error:
                # These two are why a person restores; but not while somebody works on it.
                if not (ours and quiet) or error.slug not in ("shop-damaged", "shop-too-new"):
                    raise
        return restore_database(backup, place)


def _version(database: Database) -> str | None:
    with database.reading() as connection:
        if not inspect(connection).has_table("alembic_version"):
            return None
        found: str | None = connection.exec_driver_sql("SELECT version_num FROM alembic_version").scalar()
        return found


def _bring_up_to_date(database: Database, version: str | None) -> None:
    if version is not None and version > HEAD:
        raise ShopError(
            "shop-too-new",
            f"a newer Hundredfold wrote it (tables {version}; this one knows {HEAD})",
            "install the newer version again, or restore a backup made before it",
            Where(file=database.name),
            ExitCode.WRONG_USE,
        )
    if version is not None and database.file is not None:
        copy_database(database.file, database.file.with_name(f"{database.file.name}.before-{HEAD}"))
    # Loaded only when there is something to migrate: it would double the time to open a shop.
    from hundredfold.store.migrating import migrate

    with database.writing() as connection:
        migrate(connection)
