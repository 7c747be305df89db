"""All that a reader needs of a shop's record, read in one transaction: one moment, whoever works then."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from sqlalchemy import Connection, func, select

from hundredfold.ledger.events import Event
from hundredfold.runner.rows import FailureRow, FileStamp, MadeRow
from hundredfold.store.database import Database
from hundredfold.store.lock import Holder, is_gone
from hundredfold.store.mapping import event_of, stamp_of
from hundredfold.store.schema import events, failures, kept, made, runner_lock, runs, stamps


@dataclass(frozen=True)
class KeptRow:
    """A record that a run left: where its bytes lie, what files it followed from, and when it was."""

    name: str
    output: str  # sha256 of the bytes in the vault
    files: str  # one digest of the shop's files at the time
    run: int
    at: str  # UTC


@dataclass(frozen=True)
class RunningRow:
    """The run that holds the lock, and how far it said it was."""

    holder: Holder
    stage: str
    settled: int
    of_all: int
    noted: str


@dataclass(frozen=True)
class Moment:
    """The record at one moment. ``judged`` are the newest outputs of the steps asked for."""

    events: tuple[Event, ...]
    kept: Mapping[str, KeptRow]
    outputs: tuple[MadeRow, ...]
    failures: tuple[FailureRow, ...]
    stamps: tuple[FileStamp, ...]
    running: RunningRow | None


def moment_of(database: Database, steps: Sequence[str] = (), known: tuple[Event, ...] = ()) -> Moment:
    """Read it; takes no lock. A lock whose process is gone counts as none.

    ``known`` are the ledger's rows as an earlier moment had them: only what was appended since is read,
    where the ledger is still the same one.
    """
    with database.reading() as connection:
        return Moment(
            _rows(connection, known),
            {row.name: KeptRow(*row) for row in connection.execute(select(*kept.c))},
            tuple(MadeRow(*row) for row in connection.execute(_OUTPUTS.where(made.c.step.in_(steps)))),
            tuple(FailureRow(*row) for row in connection.execute(_FAILURES)),
            tuple(map(stamp_of, connection.execute(_STAMPS))),
            _running(connection),
        )


def _rows(connection: Connection, known: tuple[Event, ...]) -> tuple[Event, ...]:
    every = select(*_EVENT).order_by(events.c.number)
    if known:
        last = known[-1].number
        same = connection.execute(every.where(events.c.number == last)).one_or_none()
        count = select(func.count()).select_from(events).where(events.c.number <= last)
        if same is not None and event_of(same) == known[-1] and connection.scalar(count) == len(known):
            fresh = tuple(map(event_of, connection.execute(every.where(events.c.number > last))))
            return (*known, *fresh) if fresh else known
    return tuple(map(event_of, connection.execute(every)))


def running_of(database: Database) -> RunningRow | None:
    """Only who works on the shop now, for whoever asks often."""
    with database.reading() as connection:
        return _running(connection)


def _running(connection: Connection) -> RunningRow | None:
    row = connection.execute(_LOCK).one_or_none()
    if row is None or is_gone(Holder(*row)):
        return None
    last = connection.execute(_LAST_RUN).first()
    # A command without a run of its own (undo) has nothing to say of how far it is.
    if last is None or last.ended is not None or last.started < row.taken:
        return RunningRow(Holder(*row), "", 0, 0, "")
    return RunningRow(Holder(*row), last.stage, last.settled, last.of_all, last.noted)


_EVENT = [events.c[name] for name in ("number", "at", "happened", "subject", "data", "undoes", "decision")]
_OUTPUTS = select(made.c.item, made.c.step, made.c.key, made.c.output, made.c.bytes).order_by(made.c.item)
_FAILURES = select(
    *(failures.c[name] for name in ("item", "step", "key", "recipe", "sentence", "log", "run"))
).order_by(failures.c.item, failures.c.step)
_STAMPS = select(*(stamps.c[n] for n in ("path", "size", "mtime_ns", "inode", "digest", "hashed_ns")))
_LOCK = select(*(runner_lock.c[name] for name in ("host", "pid", "process_started", "taken", "command")))
_LAST_RUN = select(runs).order_by(runs.c.number.desc()).limit(1)
