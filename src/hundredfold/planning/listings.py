"""What is planned: listings, their rows, and the days they go out."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from enum import StrEnum

from hundredfold.ledger.keys import ListingKey as ListingKey


class Action(StrEnum):
    """What a row asks the channel to do."""

    NEW = "new"
    CHANGE = "change"
    END = "end"


# Of content: kept where variants differ in price, to tell what is lost; "price" alone tells a change.
LOWEST_PRICE = "lowest price"


@dataclass(frozen=True)
class Candidate:
    """A listing that could be planned, with the colours that passed their proof.

    ``content`` is what the channel would be told, by name (``price``, ``title``, ``art``...): short texts
    or digests, compared with what it was last told to see whether a change is due.
    """

    key: ListingKey
    colours: tuple[str, ...]
    rows: int  # table rows it needs, a family head included
    worth: float = 0.0  # higher goes first
    reason: str = ""
    content: Mapping[str, str] = field(default_factory=dict)
    variants: frozenset[tuple[str, str]] = (
        frozenset()
    )  # (colour, size) offered; empty: every size of the colours
    name: str = ""  # what the design says, as the seller knows it
    # Coins short of the target on each sale while the channel shows what it was last told; changes go by it.
    losing: float = 0.0


@dataclass(frozen=True)
class PlannedListing:
    """A listing on its day, with the reason in words."""

    key: ListingKey
    day: date
    action: Action
    revision: int
    colours: tuple[str, ...]
    rows: int
    reason: str
    pinned: bool = False  # the seller holds it on this day


@dataclass(frozen=True)
class Plan:
    """A month of planned listings, sorted by day, channel, then key."""

    start: date
    days: int
    listings: tuple[PlannedListing, ...]
    left_over: tuple[ListingKey, ...]  # candidates that found no day
    why_left: Mapping[ListingKey, str] = field(default_factory=dict)  # in words, for all that is not planned
    # Planned before for days after these, and standing; by listing, the day.
    later: Mapping[ListingKey, str] = field(default_factory=dict)

    @property
    def held_back(self) -> dict[ListingKey, str]:
        """What is not planned though there may be room: refused, ended, unsure; with the reason in words."""
        full = set(self.left_over)
        return {key: why for key, why in self.why_left.items() if key not in full}
