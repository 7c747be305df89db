"""The planned days with all that stands on them, as records."""

from dataclasses import dataclass


@dataclass(frozen=True)
class DayListing:
    """A listing on its day. ``listing`` is its key as text, ``design`` the design's id."""

    listing: str
    design: str
    path: str
    blank: str
    blank_name: str
    colour: str  # the first of those listed
    action: str
    rows: int
    reason: str
    pinned: bool = False


@dataclass(frozen=True)
class ChannelDay:
    """One channel's day: ``used`` of ``cap``; ``frozen`` days have left the shop, or are leaving."""

    channel: str
    name: str
    day: str
    state: str
    used: int
    cap: int
    counts: str
    frozen: bool
    remade: bool  # a pack was made, and the plan has changed since
    listings: tuple[DayListing, ...]


@dataclass(frozen=True)
class OccasionRule:
    """An occasion: what is for it must be live from ``live_from`` on."""

    name: str
    day: str
    live_from: str


@dataclass(frozen=True)
class DaysView:
    """All days that something is planned for or was made for, by day, then channel.

    ``names`` are the channels' by code; ``unread`` rows of occasions.csv could not be told.
    """

    days: tuple[ChannelDay, ...]
    occasions: tuple[OccasionRule, ...]
    names: dict[str, str]
    left_over: dict[str, str]
    unread: int
