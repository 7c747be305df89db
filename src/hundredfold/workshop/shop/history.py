"""Looking after the shop's record: its history, taking an entry back, and a lock that was left behind.

None of these read the shop's settings, so that a mistake in them stands in nobody's way.
"""

import contextlib
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from hundredfold.ledger.events import Event
from hundredfold.ledger.fold import standing_events
from hundredfold.store.lock import Holder
from hundredfold.store.shopstore import Store
from hundredfold.workshop.shop.folder import require_shop
from hundredfold.workshop.shop.record import open_record


@dataclass(frozen=True)
class Entry:
    """One row of the history; ``stands`` is false where a later row took it back."""

    event: Event
    stands: bool


@contextmanager
def _record(folder: Path) -> Iterator[Store]:
    with contextlib.closing(open_record(require_shop(folder))) as store:
        yield store


def history(folder: Path, subject: str = "", last: int = 20) -> tuple[Entry, ...]:
    """The newest ``last`` entries, oldest first; only those whose subject holds ``subject``, where given.

    Raises ShopError ``no-shop`` and what opening the record raises, as everything here does.
    """
    with _record(folder) as store:
        events = store.events()
    standing = {event.number for event in standing_events(events)}
    found = [event for event in events if subject.casefold() in event.subject.casefold()]
    # An undo is no standing event itself; it stands as long as what it took back is gone.
    return tuple(
        Entry(event, event.number in standing or (event.undoes is not None and event.undoes not in standing))
        for event in found[-last:]
    )


def undo(folder: Path, numbers: Sequence[int]) -> tuple[Event, ...]:
    """Append the inverse of each entry, in order, and give them.

    Raises ``no-such-entry``, ``already-undone``, ``cannot-be-undone`` (entries before it are taken back by
    then), and ``shop-in-use`` while a run works on the shop.
    """
    with _record(folder) as store, store.lock.held("undo"):
        return tuple(store.undo(number) for number in numbers)


def unlock(folder: Path) -> Holder | None:
    """Clear a lock that a run on another computer left; gives who held it."""
    with _record(folder) as store:
        return store.lock.clear()
