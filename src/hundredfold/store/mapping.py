"""Records to rows and back; no database here."""

import json
from collections.abc import Mapping, Sequence
from datetime import UTC, datetime
from typing import Any

from hundredfold.ledger.events import Event, Happened
from hundredfold.runner.recipes import canonical_json
from hundredfold.runner.rows import FailureRow, FileStamp, MadeRow

_KINDS = {kind.value: kind for kind in Happened}


def time_text(at: datetime) -> str:
    """``2026-11-25T13:05:09.000000Z``: always this length, so that text order is time order."""
    return at.astimezone(UTC).isoformat(timespec="microseconds").replace("+00:00", "Z")


def time_of(text: str) -> datetime:
    """The UTC time of a stored text."""
    return datetime.fromisoformat(text)


def event_row(event: Event, at: datetime) -> dict[str, object]:
    """What the events table gets; the number comes from the database."""
    return {
        "at": time_text(at),
        "happened": event.happened.value,
        "subject": event.subject,
        "data": canonical_json(dict(event.data)),
        "undoes": event.undoes,
        "decision": event.decision,
    }


def event_of(row: Sequence[Any]) -> Event:
    """The event of a row (number, at, happened, subject, data, undoes, decision)."""
    number, at, happened, subject, data, undoes, decision = row
    when = datetime.fromisoformat(at)
    return Event(_KINDS[happened], subject, json.loads(data), number, when, undoes, decision)


def made_row(row: MadeRow, run: int) -> dict[str, object]:
    """What the table of outputs gets."""
    return {
        "item": row.item,
        "step": row.step,
        "key": row.key,
        "recipe": row.recipe,
        "output": row.output,
        "bytes": row.bytes,
        "run": run,
        "made_in": run,
        "before": "",
    }


def failure_row(row: FailureRow, run: int) -> dict[str, object]:
    """What the table of failures gets."""
    return {
        "item": row.item,
        "step": row.step,
        "key": row.key,
        "recipe": row.recipe,
        "sentence": row.sentence,
        "log": row.log,
        "run": run,
    }


def stamp_row(stamp: FileStamp) -> dict[str, object]:
    """What the table of file digests gets."""
    return {
        "path": stamp.path,
        "size": stamp.size,
        "mtime_ns": stamp.mtime_ns,
        "inode": str(stamp.inode),
        "digest": stamp.digest,
        "hashed_ns": stamp.hashed_ns,
    }


def stamp_of(row: Sequence[Any]) -> FileStamp:
    """The stamp of a row (path, size, mtime_ns, inode, digest, hashed_ns)."""
    path, size, mtime_ns, inode, digest, hashed_ns = row
    return FileStamp(path, size, mtime_ns, int(inode), digest, hashed_ns)


def setting_text(value: object) -> str:
    """The stored text of a setting. Raises TypeError for what JSON cannot hold."""
    return canonical_json(value)


def setting_of(text: str) -> object:
    """The value of a stored setting."""
    value: object = json.loads(text)
    return value


def inverse(event: Event) -> Event:
    """The row that takes this one back."""
    data: Mapping[str, object] = {"undone": event.happened.value}
    return Event(Happened.UNDONE, event.subject, data, undoes=event.number)
