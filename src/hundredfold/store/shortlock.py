"""The lock of short writes: a choice, an answer, an undo. A month or a proof that goes on does not hold it.

A short write only appends rows to the ledger, so it may come in beside a long run. Whatever needs the shop
for itself (handing over, restoring, adopting) takes the runner's lock first and then this one.
"""

import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

from hundredfold.kernel.errors import ShopError
from hundredfold.store.database import Database
from hundredfold.store.filelock import locked_beside

# Ours alone, like the number of the writers' lock (PostgreSQL 15 manual, 13.3.5 "Advisory Locks").
_SHORT = 0x48756E65
_TURN_S = 0.05  # between two tries of one who waits


class ShortLock:
    """``taken`` makes the error for one who waited in vain."""

    def __init__(self, database: Database, taken: Callable[[], ShopError]) -> None:
        self._database = database
        self._taken = taken

    @contextmanager
    def held(self, wait_s: float) -> Iterator[None]:
        """Hold it for this block. Raises ShopError ``shop-in-use`` after so many seconds."""
        file = self._database.file
        with self._on_server(wait_s) if file is None else locked_beside(short_place(file), wait_s) as ours:
            if not ours:
                raise self._taken()
            yield

    @contextmanager
    def _on_server(self, wait_s: float) -> Iterator[bool]:
        """A lock of the connection: the server lets go of it however its holder ends."""
        until = time.monotonic() + wait_s
        with self._database.engine.connect() as connection:
            ask = f"SELECT pg_try_advisory_lock({_SHORT})"
            while not (ours := bool(connection.exec_driver_sql(ask).scalar())) and time.monotonic() < until:
                time.sleep(_TURN_S)
            connection.commit()  # no transaction stays open meanwhile; the lock is the session's
            try:
                yield ours
            finally:
                if ours:
                    connection.exec_driver_sql(f"SELECT pg_advisory_unlock({_SHORT})")


def short_place(file: Path) -> Path:
    """What the operating system's lock lies beside."""
    return file.with_name(f"{file.name}.short")
