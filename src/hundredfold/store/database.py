"""One engine, two kinds of transaction, and what a database's complaint means to the seller."""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from sqlalchemy import URL, Connection, Dialect, Engine, create_engine, event, make_url
from sqlalchemy.exc import ArgumentError, DBAPIError
from sqlalchemy.pool import NullPool

from hundredfold.kernel.errors import ExitCode, ShopError, Where
from hundredfold.runner.diskerrors import cannot_write, disk_full

# How long a statement waits for another program's transaction: a reader that lets nobody write (a database
# browser left open) must not end an hour's work at once (our choice).
BUSY_S = 120
CONNECT_S = 10  # how long a server may take to answer (common practice, no source)
# The one lock that every writing transaction on a server takes first; the number is ours and only has to be
# the same everywhere. Such locks belong to one database (PostgreSQL 15 manual, 13.3.5 "Advisory Locks").
_WRITERS = 0x48756E64
EXAMPLE_URL = "postgresql+psycopg://puddlewick@localhost/puddlewick"


class Database:
    """A shop's database: a file, or one on a server, named by its URL.

    Raises ShopError ``bad-database-url``, and ``tool-missing`` where the server's driver is not installed.
    """

    def __init__(self, place: Path | str) -> None:
        self.file = Path(place) if isinstance(place, Path) or "://" not in place else None
        url = URL.create("sqlite", database=str(self.file)) if self.file else server_url(str(place))
        self.name = str(self.file) if self.file else url.render_as_string()
        self.engine = _engine(url)

    @property
    def dialect(self) -> Dialect:
        """The SQL dialect spoken here."""
        return self.engine.dialect

    @contextmanager
    def reading(self) -> Iterator[Connection]:
        """One consistent view, taking no lock that keeps others from reading."""
        with self._said_plainly(), self.engine.connect() as connection:
            yield connection.execution_options(**_VIEW.get(connection.dialect.name, {"reading": True}))

    @contextmanager
    def writing(self) -> Iterator[Connection]:
        """One transaction, the only writer from its first moment; all of it is kept or none."""
        with self._said_plainly(), self.engine.begin() as connection:
            if connection.dialect.name == "postgresql":  # what BEGIN IMMEDIATE is to SQLite
                connection.exec_driver_sql(f"SET LOCAL lock_timeout = '{BUSY_S}s'")
                connection.exec_driver_sql(f"SELECT pg_advisory_xact_lock({_WRITERS})")
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


# One snapshot for all statements of a block, as in SQLite (PostgreSQL 15 manual, 13.2.2).
_VIEW = {"postgresql": {"isolation_level": "REPEATABLE READ", "postgresql_readonly": True}}


def server_url(text: str) -> URL:
    """The URL of a PostgreSQL database. Raises ShopError ``bad-database-url``, which repeats no password."""
    fix = f'write it like database = "{EXAMPLE_URL}"'
    try:
        url = make_url(text)
    except (ArgumentError, ValueError):
        raise ShopError("bad-database-url", "the address of the database cannot be read", fix) from None
    if url.drivername != "postgresql+psycopg":
        what = f"{url.drivername} is no kind of database that Hundredfold keeps its record on"
        raise ShopError("bad-database-url", what, fix)
    if url.password is not None:
        what = "it holds a password, and shop.toml is copied with every backup"
        fix = "take the password out and put it into the password file of PostgreSQL (pgpass)"
        raise ShopError("bad-database-url", what, fix)
    return url


def _engine(url: URL) -> Engine:
    if url.get_backend_name() != "sqlite":
        try:
            return create_engine(url, connect_args={"connect_timeout": CONNECT_S})
        except ModuleNotFoundError as error:
            raise ShopError(
                "tool-missing",
                "the driver for PostgreSQL is not installed",
                'install it: pip install "hundredfold[server]"',
                Where(url.render_as_string()),
                ExitCode.TOOL_MISSING,
            ) from error
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
    """The ShopError for a database's complaint that a person can act on; None for a bug of ours."""
    if not isinstance(error, sqlite3.Error):
        return _plain_server_error(error, where)
    # The low byte is the primary result code: https://www.sqlite.org/rescode.html
    code = getattr(error, "sqlite_errorcode", 0) & 0xFF
    if code == sqlite3.SQLITE_FULL:
        return disk_full(where)
    if code in (sqlite3.SQLITE_READONLY, sqlite3.SQLITE_CANTOPEN, sqlite3.SQLITE_PERM):
        return cannot_write(where, "the folder or the file is read-only, or it is missing")
    if code == sqlite3.SQLITE_IOERR:
        return cannot_write(where, "the disk reported an error")
    if code in (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED):
        return _busy(where)
    if code in (sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB):
        return damaged(where)
    return None


def _busy(where: str) -> ShopError:
    return ShopError(
        "shop-busy",
        f"another program kept it locked for more than {BUSY_S} seconds",
        "close other windows that work on this shop, or wait until they are done, then run this again",
        Where(file=where),
        ExitCode.PROBLEMS,
    )


def _plain_server_error(error: BaseException | None, where: str) -> ShopError | None:
    # Five letters of the SQL standard and PostgreSQL's own: PostgreSQL 15 manual, appendix A.
    code = getattr(error, "sqlstate", None)
    if code == "53100":  # disk_full
        return disk_full(where)
    if code in ("42501", "25006"):  # insufficient_privilege, read_only_sql_transaction
        return cannot_write(where, "the server lets this user only read, or not even that")
    if code in ("55P03", "40P01", "40001"):  # lock_not_available, deadlock_detected, serialization_failure
        return _busy(where)
    lost = code is None and type(error).__name__ == "OperationalError"  # no answer has no code
    if lost or (code or "")[:2] in ("08", "28", "3D", "57", "53"):
        said = " ".join(str(error).split())
        return ShopError(
            "server-unreachable",
            f"the database server did not take us in: {said}",
            "check that it runs and that the address, the user and the password file are right",
            Where(file=where),
            ExitCode.PROBLEMS,
        )
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
