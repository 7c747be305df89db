"""Which listing goes to which channel on which day, under the daily caps.

What is planned stays planned: a listing keeps its day while the day is open and the listing is still
due, so a new design takes free room only, and a shorter plan leaves the days after it as they are. New
listings go in order of worth to the earliest day with room that has nothing of the same design yet; where
every day with room has one, to the day with fewest of it. Ends and changes go before new listings, and
take the place of the least worth, but never of what the seller has pinned: a wrong price on a live listing
costs money every day. Of the changes, those go first that lose most money on each sale.
"""

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta

from hundredfold.catalogue.channels import CapCounts, Channel
from hundredfold.kernel.counting import counted
from hundredfold.kernel.errors import ShopError
from hundredfold.kernel.findings import Finding
from hundredfold.ledger.events import Event, Happened
from hundredfold.ledger.keys import ListingKey, PackKey
from hundredfold.ledger.state import LedgerState, PlannedDay
from hundredfold.planning.checks import HELD_BACK
from hundredfold.planning.due import Due, due_for, ends_due
from hundredfold.planning.listings import Action, Candidate, Plan, PlannedListing

_FIRST = {Action.END: 0, Action.CHANGE: 1, Action.NEW: 2}


def plan_month(
    candidates: Iterable[Candidate],
    channels: Iterable[Channel],
    state: LedgerState,
    start: date,
    days: int = 30,
    ends: Mapping[ListingKey, str] | None = None,
) -> Plan:
    """Plans the days from ``start``; ``ends`` names live listings to end, each with its reason.

    Listings that are live, adopted, refused unchanged, ended, or in an unclear hand-over are not planned
    as new. Raises ShopError ``bad-days`` when ``days`` is not 1 to 366.
    """
    if not 1 <= days <= 366:
        raise ShopError("bad-days", f"a plan of {days} days", "plan 1 to 366 days")
    channels = sorted(channels, key=lambda c: c.code)
    due, why_left = _all_due(candidates, {channel.code for channel in channels}, state, ends or {}, start)
    listings: list[PlannedListing] = []
    no_day: set[ListingKey] = set()
    later: dict[ListingKey, str] = {}
    for channel in channels:
        calendar = _Calendar(channel, state, start, days)
        mine = due.get(channel.code, [])
        stand = calendar.later(mine, state)
        later |= stand
        left = calendar.fill([each for each in mine if each.key not in stand], state.planned)
        listings += calendar.listings
        why_left |= left
        no_day |= set(left)
    listings.sort(key=lambda p: (p.day, p.key.channel, p.key))
    left_over = tuple(sorted(no_day))
    return Plan(start, days, tuple(listings), left_over, dict(sorted(why_left.items())), later)


def _all_due(
    candidates: Iterable[Candidate],
    channels: Collection[str],
    state: LedgerState,
    ends: Mapping[ListingKey, str],
    start: date,
) -> tuple[dict[str, list[Due]], dict[ListingKey, str]]:
    """What is due, by channel, and why the rest is left."""
    due: dict[str, list[Due]] = {}
    why_left: dict[ListingKey, str] = {}
    for candidate in sorted(candidates, key=lambda c: c.key):
        key = candidate.key
        if key in ends:
            continue
        known = key.channel in channels
        answer = due_for(candidate, state, start) if known else f"the shop has no channel {key.channel}"
        if isinstance(answer, Due):
            due.setdefault(key.channel, []).append(answer)
        elif answer:
            why_left[key] = answer
    for ending in ends_due(ends, state):
        due.setdefault(ending.key.channel, []).append(ending)
    return due, why_left


def planned_events(plan: Plan, state: LedgerState) -> tuple[Event, ...]:
    """What to append so that the ledger holds this plan: nothing where it already does."""
    events = []
    wanted = set(plan.later)
    for planned in plan.listings:
        wanted.add(planned.key)
        entry = PlannedDay(
            planned.day.isoformat(),
            planned.action.value,
            planned.revision,
            planned.colours,
            planned.rows,
            planned.reason,
            planned.pinned,
        )
        if state.planned.get(planned.key) == entry:
            continue
        data = {
            **planned.key.as_data(),
            "day": entry.day,
            "action": entry.action,
            "revision": entry.revision,
            "colours": list(entry.colours),
            "rows": entry.rows,
            "reason": entry.reason,
        }
        if entry.pinned:
            data["pinned"] = True
        events.append(Event(Happened.PLANNED, str(planned.key), data))
    gone = sorted(key for key in state.planned if key not in wanted)
    events += [Event(Happened.UNPLANNED, str(key), key.as_data()) for key in gone]
    return tuple(events)


def held_back(plan: Plan) -> tuple[Finding, ...]:
    """A finding for each channel and reason for which listings are held back though there may be room."""
    groups: dict[tuple[str, str], list[ListingKey]] = {}
    for key, why in plan.held_back.items():
        groups.setdefault((key.channel, why), []).append(key)
    findings = []
    for (_, why), keys in sorted(groups.items()):
        others = f" and {len(keys) - 1} more" if len(keys) > 1 else ""
        fix = (
            "answer what it says; a refused listing goes out again once its art, price or words have changed"
        )
        item = f"{keys[0]}{others}"
        findings.append(HELD_BACK.finds("held-back", item, why, fix, {"listings": len(keys)}))
    return tuple(findings)


def weight(counts: CapCounts, rows: int) -> int:
    """What one listing takes of a daily cap: its rows, or one where listings or families are counted."""
    return rows if counts is CapCounts.ROWS else 1


@dataclass
class _Day:
    day: date
    frozen: bool
    used: int = 0
    designs: dict[str, int] = field(default_factory=dict)


class _Calendar:
    """One channel's days, being filled."""

    def __init__(self, channel: Channel, state: LedgerState, start: date, days: int) -> None:
        self.channel = channel
        frozen = {key.day for key in state.frozen_days if key.channel == channel.code}
        dates = [start + timedelta(days=n) for n in range(days)]
        self.days = [_Day(day, day.isoformat() in frozen) for day in dates]
        self.by_name = {slot.day.isoformat(): slot for slot in self.days}
        self.open = [slot for slot in self.days if not slot.frozen]
        self.listings: list[PlannedListing] = []

    def later(self, due: Iterable[Due], state: LedgerState) -> dict[ListingKey, str]:
        """What is planned already for a day after these and stands; by listing, the day.

        Nothing, where none of these days was planned before: then it is an earlier month, not a part of one.
        """
        days = {plan.day for key, plan in state.planned.items() if key.channel == self.channel.code}
        days |= {key.day for key in state.packs if key.channel == self.channel.code}
        if not days & self.by_name.keys():
            return {}
        last = self.days[-1].day.isoformat()
        found = {}
        for each in due:
            old = state.planned.get(each.key)
            if old and old.day > last and (old.action, old.revision) == (each.action, each.revision):
                found[each.key] = old.day
        return found

    def fill(self, due: Sequence[Due], before: Mapping[ListingKey, PlannedDay]) -> dict[ListingKey, str]:
        """Places what is due; answers what found no day, with the reason."""
        order = sorted(due, key=lambda d: (_FIRST[d.action], -d.losing, -d.worth, d.key))
        held = {key for key, old in before.items() if old.pinned}
        pinned = [d for d in order if d.key in held]
        free = [d for d in order if d.key not in held]
        urgent = [d for d in free if d.action is not Action.NEW]
        new = [d for d in free if d.action is Action.NEW]
        return self._settle(pinned, before) | self._settle(urgent, before) | self._settle(new, before)

    def _settle(self, due: Sequence[Due], before: Mapping[ListingKey, PlannedDay]) -> dict[ListingKey, str]:
        """Keeps the days that can be kept, then finds a day for each of the rest."""
        left = {}
        for entry in [d for d in due if not self._keep(d, before.get(d.key))]:
            slot, why = self._find(entry)
            if slot is None:
                left[entry.key] = why
            else:
                self._place(entry, slot, f"{entry.reason}{self._moved(entry, before)}; {why}")
        return left

    def _moved(self, due: Due, before: Mapping[ListingKey, PlannedDay]) -> str:
        """Why a listing that had an open day lost it."""
        old = before.get(due.key)
        slot = self.by_name.get(old.day) if old else None
        if old is None or slot is None or slot.frozen or old.action != due.action.value:
            return ""
        return f"; moved from {old.day}, where others had to go first"

    def _keep(self, due: Due, old: PlannedDay | None) -> bool:
        """Whether the listing stays on the day it had."""
        slot = self.by_name.get(old.day) if old else None
        if old is None or slot is None or slot.frozen or not self._room(due, slot):
            return False
        if (old.action, old.revision) != (due.action.value, due.revision):
            return False
        self._place(due, slot, old.reason, old.pinned)
        return True

    def _find(self, due: Due) -> tuple[_Day | None, str]:
        size, cap, counts = self._size(due), self.channel.daily_cap, self.channel.cap_counts.value
        if size > cap:
            return None, f"its {size} {counts} are more than {self.channel.name} takes in a day ({cap})"
        roomy = [slot for slot in self.open if slot.used + size <= cap]
        if not roomy:
            return None, f"no room left in {counted(len(self.days), 'day')} at {cap} {counts} a day"
        design = due.key.design
        fewest = min(slot.designs.get(design, 0) for slot in roomy)
        slot = next(slot for slot in roomy if slot.designs.get(design, 0) == fewest)
        if due.action is not Action.NEW:
            return roomy[0], f"first day with room, {roomy[0].used} of {cap} {counts} taken"
        alone = "with nothing of this design yet" if fewest == 0 else f"with fewest of this design ({fewest})"
        return slot, f"first day with room {alone}, {slot.used} of {cap} {counts} taken"

    def _place(self, due: Due, slot: _Day, reason: str, pinned: bool = False) -> None:
        slot.used += self._size(due)
        slot.designs[due.key.design] = slot.designs.get(due.key.design, 0) + 1
        self.listings.append(
            PlannedListing(due.key, slot.day, due.action, due.revision, due.colours, due.rows, reason, pinned)
        )

    def _size(self, due: Due) -> int:
        return weight(self.channel.cap_counts, due.rows)

    def _room(self, due: Due, slot: _Day) -> bool:
        return slot.used + self._size(due) <= self.channel.daily_cap


def later_packs(plan: Plan) -> tuple[PackKey, ...]:
    """The packs of the days after the plan that stand as they were planned."""
    return tuple(sorted({PackKey(key.channel, day) for key, day in plan.later.items()}))
