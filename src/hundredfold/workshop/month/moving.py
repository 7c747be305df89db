"""The seller's own days: planned listings moved, or pinned, as one decision that undo takes back.

A move appends the listing's planned row anew, with another day. The next plan keeps a day that a listing has,
as long as the day is open and nothing more urgent needs its room; so the move stands. A pinned listing keeps
its day before anything urgent.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

from hundredfold.catalogue.channels import Channel
from hundredfold.kernel.counting import counted
from hundredfold.kernel.errors import ShopError
from hundredfold.ledger.events import Event, Happened
from hundredfold.ledger.keys import ListingKey, PackKey
from hundredfold.ledger.state import LedgerState, PlannedDay
from hundredfold.planning.month import weight
from hundredfold.store.shopstore import SHORT_S
from hundredfold.workshop.shop.desk import Desk, desk

MOVED = "you moved it here from"
_WAIT = "look at the calendar again"


@dataclass(frozen=True)
class Moved:
    """How many listings were moved, and the decision that undo takes back; 0 where all were there already."""

    listings: int
    decision: int


def move_listings(folder: Path, keys: Sequence[ListingKey], to: date, today: date) -> Moved:
    """Give planned listings another day, all of them or none.

    Raises ShopError ``not-planned``, ``day-closed``, ``day-full``, ``unknown-channel``, ``shop-in-use``.
    """
    with desk(folder, "move", SHORT_S) as opened:
        state = opened.ledger()
        moving = {key: _planned(state, key) for key in keys if _planned(state, key).day != to.isoformat()}
        if not moving:
            return Moved(0, 0)
        if to < today:
            raise ShopError("day-closed", f"{to} is over", "choose a day that is still to come")
        for key, entry in moving.items():
            _open(state, PackKey(key.channel, entry.day))
            _open(state, PackKey(key.channel, to.isoformat()))
        _room(opened, state, moving, to.isoformat())
        kept = opened.store.append([_row(key, entry, to) for key, entry in moving.items()])
    return Moved(len(moving), kept[0].decision)


def pin_listings(folder: Path, keys: Sequence[ListingKey], pinned: bool) -> Moved:
    """Hold planned listings on their days, or let them go again, all of them or none.

    Raises ShopError ``not-planned``, ``day-closed``, ``shop-in-use``.
    """
    with desk(folder, "move") as opened:
        state = opened.ledger()
        changing = {key: entry for key in keys if (entry := _planned(state, key)).pinned is not pinned}
        if not changing:
            return Moved(0, 0)
        for key, entry in changing.items():
            _open(state, PackKey(key.channel, entry.day))
        rows = [_as_row(key, replace(entry, pinned=pinned)) for key, entry in changing.items()]
        kept = opened.store.append(rows)
    return Moved(len(changing), kept[0].decision)


def _planned(state: LedgerState, key: ListingKey) -> PlannedDay:
    found = state.planned.get(key)
    if found is None:
        raise ShopError("not-planned", f"{key} is planned for no day", _WAIT)
    return found


def _open(state: LedgerState, key: PackKey) -> None:
    if key in state.frozen_days:
        what = f"{key} is handed over, or is just being handed over"
        raise ShopError("day-closed", what, "choose another day: what has left the shop stays as it was")


def _room(opened: Desk, state: LedgerState, moving: Mapping[ListingKey, PlannedDay], day: str) -> None:
    for code in sorted({key.channel for key in moving}):
        channel = opened.shop.channel(code)
        there = [entry for key, entry in state.planned.items() if (key.channel, entry.day) == (code, day)]
        coming = [entry for key, entry in moving.items() if key.channel == code]
        taken, more = _weight(channel, there), _weight(channel, coming)
        if taken + more > channel.daily_cap:
            counts = channel.cap_counts.value
            cap = f"{channel.name} takes {channel.daily_cap} {counts} a day"
            what = f"{cap}; {day} has {taken}, {more} more would come"
            raise ShopError(
                "day-full", what, f"move {counted(len(there), 'listing')} away first, or fewer of them"
            )


def _weight(channel: Channel, entries: Iterable[PlannedDay]) -> int:
    return sum(weight(channel.cap_counts, entry.rows) for entry in entries)


def _row(key: ListingKey, entry: PlannedDay, to: date) -> Event:
    return _as_row(key, replace(entry, day=to.isoformat(), reason=f"{MOVED} {entry.day}"))


def _as_row(key: ListingKey, fresh: PlannedDay) -> Event:
    data = {
        **key.as_data(),
        "day": fresh.day,
        "action": fresh.action,
        "revision": fresh.revision,
        "colours": list(fresh.colours),
        "rows": fresh.rows,
        "reason": fresh.reason,
    }
    if fresh.pinned:
        data["pinned"] = True
    return Event(Happened.PLANNED, str(key), data)
