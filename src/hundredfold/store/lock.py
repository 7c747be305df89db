"""One run at a time works on a shop: who holds the lock, and when it is free again.

Three things together: a claim that keeps the threads of this process apart, the operating system's lock
beside a record that is a file, and a row that says who it is, which other computers can read too.
"""

import contextlib
import os
import socket
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta

import psutil
from sqlalchemy import delete, insert, select

from hundredfold.kernel.errors import ExitCode, ShopError, Where
from hundredfold.store.database import Database
from hundredfold.store.filelock import locked_beside
from hundredfold.store.mapping import time_of, time_text
from hundredfold.store.schema import runner_lock as table

_EPOCH = datetime(1970, 1, 1, tzinfo=UTC)
# Systems work the start out from the time since boot, so a corrected clock shifts it a little.
_SAME_START = timedelta(seconds=5)
# Databases whose lock a thread of this process holds or is just taking. A row of ours without it was left
# behind: a full disk kept us from taking the row away, and a process that lives on (the page) must not stand
# in its own way.
_held_here: set[str] = set()
_claiming = threading.Condition()


@dataclass(frozen=True)
class Holder:
    """Who holds the lock. Times as stored, UTC; ``process_started`` tells a re-used pid from the holder."""

    host: str
    pid: int
    process_started: str
    taken: str = ""
    command: str = ""


def this_process() -> Holder:
    """The lock's view of this very process."""
    return Holder(socket.gethostname(), os.getpid(), time_text(_start_of(os.getpid()) or _EPOCH))


def _start_of(pid: int) -> datetime | None:
    try:
        return datetime.fromtimestamp(psutil.Process(pid).create_time(), UTC)
    except psutil.Error:
        return None


def alive(holder: Holder) -> bool:
    """Whether the process that took the lock on this computer still runs, and is not another of that pid."""
    started = _start_of(holder.pid)
    return started is not None and abs(started - time_of(holder.process_started)) < _SAME_START


def is_gone(holder: Holder) -> bool:
    """Whether the holder was a process of this computer and has ended."""
    return holder.host == socket.gethostname() and not alive(holder)


class RunnerLock:
    """The lock's row. ``clock`` gives the time it is taken."""

    def __init__(
        self, database: Database, clock: Callable[[], datetime], me: Callable[[], Holder] = this_process
    ) -> None:
        self._database = database
        self._clock = clock
        self._me = me

    def holder(self) -> Holder | None:
        """Who holds it now, dead or alive."""
        with self._database.reading() as connection:
            return self._holder(connection.execute(_QUERY).one_or_none())

    def _holder(self, row: object) -> Holder | None:
        return Holder(*row) if row is not None else None  # type: ignore[misc]

    @contextmanager
    def held(self, command: str, wait_s: float = 0.0) -> Iterator[None]:
        """Hold the lock for this block; who finds it taken waits up to ``wait_s`` for it.

        A holder on this computer whose process is gone is set aside. Raises ShopError ``shop-in-use``, saying
        who holds it and how to clear it.
        """
        me = self._me()
        with self._claimed(wait_s):
            self._take(me, command)
            try:
                yield
            except BaseException:
                with contextlib.suppress(ShopError):  # what went wrong first is what has to be said
                    self._give_back(me)
                raise
            else:
                self._give_back(me)

    @contextmanager
    def _claimed(self, wait_s: float) -> Iterator[None]:
        """Nobody else of this process or computer holds it, before the row is even looked at."""
        name, began = self._database.name, time.monotonic()
        with _claiming:
            if not _claiming.wait_for(lambda: name not in _held_here, wait_s):
                raise self.taken()
            _held_here.add(name)
        try:
            left = max(0.0, wait_s - (time.monotonic() - began))
            if self._database.file is None:
                yield
                return
            with locked_beside(self._database.file, left) as ours:
                if not ours:
                    raise self.taken()
                yield
        finally:
            with _claiming:
                _held_here.discard(name)
                _claiming.notify_all()

    def taken(self) -> ShopError:
        """The error that says who holds it."""
        now, me = self.holder(), self._me()
        if now is None:  # between two of its steps
            now = replace(me, command="another command", taken=time_text(self._clock()))
        return _in_use(now, self._database.name, same_host=now.host == me.host)

    def refuse_if_used(self) -> None:
        """Raise ShopError ``shop-in-use`` while somebody holds the lock."""
        self._refuse(self.holder(), self._me(), self._database.name not in _held_here)

    def _refuse(self, now: Holder | None, me: Holder, free_here: bool) -> None:
        """Refuse for the row's sake; where the lock is free or ours here, a row of this process is old."""
        if now is None or (free_here and (now.host, now.pid) == (me.host, me.pid)):
            return
        if now.host != me.host or alive(now):
            raise _in_use(now, self._database.name, same_host=now.host == me.host)

    def _take(self, me: Holder, command: str) -> None:
        with self._database.writing() as connection:
            self._refuse(self._holder(connection.execute(_QUERY).one_or_none()), me, True)
            connection.execute(delete(table))
            connection.execute(
                insert(table).values(
                    id=1,
                    host=me.host,
                    pid=me.pid,
                    process_started=me.process_started,
                    taken=time_text(self._clock()),
                    command=command,
                )
            )

    def _give_back(self, me: Holder) -> None:
        with self._database.writing() as connection:
            mine = (table.c.host == me.host) & (table.c.pid == me.pid)
            connection.execute(delete(table).where(mine))

    def clear(self) -> Holder | None:
        """Take the lock from a run on another computer, for a person who knows that it is over.

        Gives who held it. Raises ShopError ``shop-in-use`` where the run is alive on this computer.
        """
        with self._database.writing() as connection:
            was = self._holder(connection.execute(_QUERY).one_or_none())
            me = self._me()
            if was is not None and was.host == me.host:
                self._refuse(was, me, self._database.name not in _held_here)
            connection.execute(delete(table))
            return was


_QUERY = select(table.c.host, table.c.pid, table.c.process_started, table.c.taken, table.c.command)


def _in_use(holder: Holder, where: str, same_host: bool) -> ShopError:
    who = f"this computer (process {holder.pid})" if same_host else f"the computer {holder.host}"
    since = f"{time_of(holder.taken):%Y-%m-%d %H:%M} UTC"
    fix = "wait until it is done, or stop it there, then run this again"
    if not same_host:
        fix += "; if that computer is off or no longer used, clear the lock: hundredfold unlock"
    return ShopError(
        "shop-in-use",
        f"'{holder.command}' has been working on this shop since {since} on {who}",
        fix,
        Where(file=where),
        ExitCode.PROBLEMS,
    )
