"""What each listing is due: to go out new, to be changed, to be ended, or nothing, and why in words."""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date

from hundredfold.ledger.events import Happened
from hundredfold.ledger.keys import ListingKey, SkuKey
from hundredfold.ledger.state import LedgerState, Listed, Standing
from hundredfold.planning.listings import LOWEST_PRICE, Action, Candidate

_YEARS_OVER = 3  # an older year is a memory: "born 1985" (common practice, no source)
_BEGINNINGS = frozenset({"since", "est", "established", "founded", "of", "seit", "depuis", "desde"})
_WORD_CHARS = 40  # longer texts are named but not quoted in a reason


@dataclass(frozen=True)
class Due:
    """Something a channel should be told about a listing."""

    key: ListingKey
    action: Action
    revision: int
    colours: tuple[str, ...]
    rows: int
    worth: float
    reason: str
    losing: float = 0.0


def due_for(candidate: Candidate, state: LedgerState, start: date) -> Due | str:
    """What the candidate is due; else why it is left, "" where it simply is as the channel has it.

    ``start`` is the plan's first day: what names a year just over is not put up new.
    """
    listed = state.listed.get(candidate.key)
    if listed is None:
        over = _year_over(candidate.name, start)
        if over:
            return f"its name says {over}, which is over; rename it if it sells all the same"
        return _due(candidate, Action.NEW, 1, candidate.reason or "new listing")
    if listed.standing is Standing.UNSURE:
        return "in a hand-over whose end was not seen; settle it first"
    if listed.standing is Standing.ENDED:
        return "ended earlier; an ended listing is not put up again by itself"
    changed = _differences(candidate, listed)
    if listed.standing is Standing.REFUSED:
        if not changed:
            return f"refused by the channel: {listed.why or 'no reason given'}"
        return _due(candidate, Action.NEW, listed.revision + 1, f"refused earlier, since then {changed}")
    if not changed:
        return _refusal(candidate.key, listed, state)
    gone = [
        key for key, sku in state.skus_of(candidate.key) if sku in state.existing and _gone(key, candidate)
    ]
    due = _due(candidate, Action.CHANGE, listed.revision + 1, changed)
    return replace(due, rows=due.rows + len(gone), losing=candidate.losing)


def _year_over(name: str, start: date) -> str:
    """A year of the last few that a design names as its own; "" for none, or where a year is a beginning."""
    named = re.findall(r"(\w+)?\W*\b(20\d\d)\b", name)
    over = [
        year
        for before, year in named
        if start.year - _YEARS_OVER <= int(year) < start.year and before.casefold() not in _BEGINNINGS
    ]
    return max(over, default="")


def ends_due(ends: Mapping[ListingKey, str], state: LedgerState) -> Iterator[Due]:
    """An end for each named listing that is live; the rest have nothing to end."""
    for key, why in sorted(ends.items()):
        listed = state.listed.get(key)
        if listed is None or listed.standing is not Standing.LIVE:
            continue
        rows = sum(1 for _, sku in state.skus_of(key) if sku in state.existing)
        yield Due(
            key, Action.END, listed.revision + 1, listed.colours, max(1, rows), 0.0, f"to be ended: {why}"
        )


def _due(candidate: Candidate, action: Action, revision: int, reason: str) -> Due:
    return Due(candidate.key, action, revision, candidate.colours, candidate.rows, candidate.worth, reason)


def _refusal(key: ListingKey, listed: Listed, state: LedgerState) -> str:
    """Where the channel refused rows of what it was last told, its words; else ""."""
    for _, sku in state.skus_of(key):
        happened, data = state.answers.get(sku, ("", {}))
        if happened == Happened.REFUSED and data.get("revision", listed.revision) == listed.revision:
            return f"the channel refused {sku}: {data.get('reason') or 'no reason given'}"
    return ""


def _gone(key: SkuKey, candidate: Candidate) -> bool:
    """Whether a SKU the channel has is no longer offered, so that the change ends it."""
    if not key.colour and not key.size:
        return False  # the family head
    if candidate.variants:
        return (key.colour, key.size) not in candidate.variants
    return key.colour not in candidate.colours


def _differences(candidate: Candidate, listed: Listed) -> str:
    """What changed since the channel was told, in words; "" when nothing did or nothing is known."""
    if not listed.content:
        return ""
    parts = []
    if set(candidate.colours) != set(listed.colours):
        added = sorted(set(candidate.colours) - set(listed.colours))
        gone = sorted(set(listed.colours) - set(candidate.colours))
        parts += [f"colour {colour} added" for colour in added]
        parts += [f"colour {colour} gone" for colour in gone]
    for name in sorted(set(listed.content) - {LOWEST_PRICE}):  # what is told besides says nothing of before
        old, new = listed.content.get(name, ""), candidate.content.get(name, "")
        if old != new:
            short = 0 < len(old) <= _WORD_CHARS and 0 < len(new) <= _WORD_CHARS and not _digest(new)
            parts.append(f"{name} changed: {old} -> {new}" if short else f"{name} changed")
    return ", ".join(parts)


def _digest(text: str) -> bool:
    return len(text) >= 16 and all(letter in "0123456789abcdef" for letter in text)
