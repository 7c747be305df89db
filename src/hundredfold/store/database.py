"""One engine, two kinds of transaction, and what a database's complaint means to the seller."""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from sqlalchemy import URL, Connection, Dialect, Engine, create_engine, event, make_url
from sqlalchemy.exc import DBAPIError
from sqlalchemy.pool import NullPool

from hundredfold.kernel.errors import ExitCode, ShopError, Where
from hundredfold.runner.diskerrors import cannot_write, disk_full

BUSY_S = 10  # how long a statement waits for another program's transaction (common practice, no source)


class Database:
    """A shop's database, at a file or at the URL of a server."""

    def __init__(self, place: Path | str) -> None:
        self.file = Path(place) if isinstance(place, Path) or "://" not in place else None
        self.name = str(self.file) if self.file else make_url(str(place)).render_as_string()
        url = URL.create("sqlite", database=str(self.file)) if self.file else make_url(str(place))
        self.engine = _engine(url)

    @property
    def dialect(self) -> Dialect:
        """The SQL dialect spoken here."""
        return self.engine.dialect

    @contextmanager
    def reading(self) -> Iterator[Connection]:
        """One consistent view, taking no lock that keeps others from reading."""
        with self._said_plainly(), self.engine.connect() as connection:
            yield connection.execution_options(reading=True)

    @contextmanager
    def writing(self) -> Iterator[Connection]:
        """One transaction, the only writer from its first moment; all of it is kept or none."""
        with self._said_plainly(), self.engine.begin() as connection:
            yield connection

    def close(self) -> None:
        """Let go of the file."""
        self.engine.dispose()

    @contextmanager
    def _said_plainly(self) -> Iterator[None]:
        try:
            yield
        except (DBAPIError, sqlite3.Error) as error:
            said = plain_error(error.orig if isinstance(error, DBAPIError) else error, self.name)
            if said is None:
                raise
            raise said from error


def _engine(url: URL) -> Engine:
    if url.get_backend_name() != "sqlite":
        return create_engine(url)
    # No pool: a file kept open cannot be replaced on Windows, and opening it costs well under a millisecond.
    engine = create_engine(url, poolclass=NullPool, connect_args={"timeout": BUSY_S})
    event.listen(engine, "connect", _set_up)
    event.listen(engine, "begin", _begin)
    return engine


def _set_up(connection: Any, _record: object) -> None:
    connection.isolation_level = None  # the driver's own BEGIN would come late and unasked
    for pragma in (
        "journal_mode=DELETE",  # write-ahead logging breaks on synced and network folders
        "synchronous=FULL",
        "foreign_keys=ON",
        f"busy_timeout={BUSY_S * 1000}",
    ):
        connection.execute(f"PRAGMA {pragma}")


def _begin(connection: Connection) -> None:
    reading = connection.get_execution_options().get("reading", False)
    connection.exec_driver_sql("BEGIN" if reading else "BEGIN IMMEDIATE")


def plain_error(error: BaseException | None, where: str) -> ShopError | None:
    """The ShopError for a complaint of SQLite that a person can act on; None for a bug of ours."""
    # The low byte is the primary result code: https://www.sqlite.org/rescode.html
    code = getattr(error, "sqlite_errorcode", 0) & 0xFF
    if code == sqlite3.SQLITE_FULL:
        return disk_full(where)
    if code in (sqlite3.SQLITE_READONLY, sqlite3.SQLITE_CANTOPEN, sqlite3.SQLITE_PERM):
        return cannot_write(where, "the folder or the file is read-only, or it is missing")
    if code == sqlite3.SQLITE_IOERR:
        return cannot_write(where, "the disk reported an error")
    if code in (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED):
        return ShopError(
            "shop-busy",
            f"another program kept it locked for more than {BUSY_S} seconds",
            "close other windows that work on this shop, or wait until they are done, then run this again",
            Where(file=where),
            ExitCode.PROBLEMS,
        )
    if code in (sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB):
        return damaged(where)
    return None


def damaged(where: str) -> ShopError:
    """The database cannot be understood any more."""
    return ShopError(
        "shop-damaged",
        "the shop's record is damaged, so nothing was changed",
        "restore the newest backup: hundredfold restore FILE",
        Where(file=where),
        ExitCode.PROBLEMS,
    )
