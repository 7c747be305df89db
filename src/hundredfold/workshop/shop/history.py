"""Looking after the shop's record: its history, taking an entry back, and a lock that was left behind.

None of these read the shop's settings, so that a mistake in them stands in nobody's way.
"""

import contextlib
from collections.abc import Collection, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from hundredfold.ledger.decisions import Decision, decisions_of
from hundredfold.ledger.events import Event, Happened
from hundredfold.ledger.fold import standing_numbers
from hundredfold.store.lock import Holder
from hundredfold.store.shopstore import SHORT_S, Store
from hundredfold.workshop.shop.folder import require_shop
from hundredfold.workshop.shop.masters import swap_undone
from hundredfold.workshop.shop.paths import ShopPaths
from hundredfold.workshop.shop.record import open_record

# What may be taken back beside a run: rows that say what the next one shall do. A plan, the state of a pack
# or art in the designs folder must not change under a run.
_BESIDE_A_RUN = frozenset(
    {
        Happened.CHOSEN,
        Happened.PLACED,
        Happened.RETIRED,
        Happened.WORDED,
        Happened.ACCEPTED,
        Happened.REFUSED,
    }
)


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

    Raises ``no-such-decision``, ``already-undone``, ``cannot-be-undone``; and ``shop-in-use`` while a run
    works on the shop that must not lose what is taken back: a plan, a repair.
    """
    with _record(folder) as store, _turn(store, set(ids), by_row=False):
        return _followed(folder, store, store.undo_decisions(ids))


@contextmanager
def _turn(store: Store, numbers: Collection[int], by_row: bool) -> Iterator[None]:
    """Hold the locks that taking these back asks for: of decisions, or of single rows."""
    every = store.events()
    by_number = {event.number: event for event in every}
    kinds = set()
    for row in (one for one in every if (one.number if by_row else one.decision) in numbers):
        origin: Event | None = row
        while origin is not None and origin.undoes is not None:
            origin = by_number.get(origin.undoes)
        kinds.add(origin.happened if origin is not None else Happened.UNDONE)
    with store.short.held(SHORT_S) if kinds <= _BESIDE_A_RUN else store.alone("undo", SHORT_S):
        yield


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
    with _record(folder) as store, _turn(store, {number}, by_row=True):
        return _followed(folder, store, (store.undo(number),))


def unlock(folder: Path) -> Holder | None:
    """Clear a lock that a run on another computer left; gives who held it."""
    with _record(folder) as store:
        return store.lock.clear()
