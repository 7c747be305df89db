"""Looking after the shop's record: its history, taking an entry back, and a lock that was left behind.

None of these read the shop's settings, so that a mistake in them stands in nobody's way.
"""

import contextlib
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from hundredfold.ledger.decisions import Decision, decisions_of
from hundredfold.ledger.events import Event
from hundredfold.ledger.fold import standing_numbers
from hundredfold.store.lock import Holder
from hundredfold.store.shopstore import Store
from hundredfold.workshop.shop.desk import SHORT_S
from hundredfold.workshop.shop.folder import require_shop
from hundredfold.workshop.shop.masters import swap_undone
from hundredfold.workshop.shop.paths import ShopPaths
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
    standing = standing_numbers(events)
    found = [event for event in events if subject.casefold() in event.subject.casefold()]
    return tuple(Entry(event, event.number in standing) for event in found[-last:])


def decisions(folder: Path, text: str = "", last: int = 20) -> tuple[Decision, ...]:
    """The newest ``last`` decisions, oldest first; only those about what holds ``text``, where given."""
    with _record(folder) as store:
        every = decisions_of(store.events())
    wanted = text.casefold()
    found = [one for one in every if any(wanted in event.subject.casefold() for event in one.events)]
    return tuple(found[-last:])


def undo(folder: Path, ids: Sequence[int]) -> tuple[Event, ...]:
    """Take back these decisions, all of every one or nothing at all, and give the new rows.

    Raises ``no-such-decision``, ``already-undone``, ``cannot-be-undone``, and ``shop-in-use`` while a run
    works on the shop.
    """
    with _record(folder) as store, store.lock.held("undo", SHORT_S):
        return _followed(folder, store, store.undo_decisions(ids))


def _followed(folder: Path, store: Store, rows: tuple[Event, ...]) -> tuple[Event, ...]:
    """The rows, once the files that go with them are as they say."""
    news = swap_undone(ShopPaths(folder), store.events(), rows)
    if news:
        store.append(news)
    return rows


def undo_row(folder: Path, number: int) -> tuple[Event, ...]:
    """Take back one entry of a decision, and give the new row.

    Raises ``no-such-entry``, and as ``undo`` does.
    """
    with _record(folder) as store, store.lock.held("undo", SHORT_S):
        return _followed(folder, store, (store.undo(number),))


def unlock(folder: Path) -> Holder | None:
    """Clear a lock that a run on another computer left; gives who held it."""
    with _record(folder) as store:
        return store.lock.clear()
