"""What is planned: listings, their rows, and the days they go out."""

from dataclasses import dataclass
from datetime import date
from enum import StrEnum


class Action(StrEnum):
    """What a row asks the channel to do."""

    NEW = "new"
    CHANGE = "change"
    END = "end"


@dataclass(frozen=True, order=True)
class ListingKey:
    """A listing is a design on a blank in a channel."""

    channel: str
    design: str  # Design.id
    blank: str  # Blank.code

    def __str__(self) -> str:
        return f"{self.channel}/{self.blank}/{self.design}"


@dataclass(frozen=True)
class Candidate:
    """A listing that could be planned, with the colours that passed their proof."""

    key: ListingKey
    colours: tuple[str, ...]
    rows: int  # table rows it needs, a family head included
    worth: float = 0.0  # higher goes first
    reason: str = ""


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


@dataclass(frozen=True)
class Plan:
    """A month of planned listings, sorted by day, channel, then key."""

    start: date
    days: int
    listings: tuple[PlannedListing, ...]
    left_over: tuple[ListingKey, ...]  # candidates the caps left out
