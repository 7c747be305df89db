"""The shop as it stands: running work, packs, decisions, prices, designs."""

from dataclasses import dataclass
from typing import Any

from hundredfold.workshop.records.common import FindingRecord
from hundredfold.workshop.records.month import MonthRecord
from hundredfold.workshop.records.proofs import ProofRecord


@dataclass(frozen=True)
class RunningRecord:
    """Who works on the shop now. ``of_all`` is 0 where it is not known how much there is to do."""

    command: str
    since: str  # UTC
    host: str
    pid: int
    stage: str
    done: int
    of_all: int
    noted: str  # UTC, when it said so


@dataclass(frozen=True)
class PackRecord:
    """One channel's pack of one day. ``state`` is planned, made, handing over, unsure or handed over.

    ``accepted`` and ``refused`` count the channel's answers to its rows, ``files`` are those of its folder.
    """

    pack: str  # channel/YYYY-MM-DD
    channel: str
    day: str
    state: str
    listings: int
    rows: int
    destination: str
    accepted: int
    refused: int
    files: tuple[str, ...]


@dataclass(frozen=True)
class PacksView:
    """All packs, by day, then channel."""

    packs: tuple[PackRecord, ...]


@dataclass(frozen=True)
class DayRecord:
    """A channel's day: its rows, and its pack's state."""

    day: str
    channel: str
    listings: int
    rows: int
    state: str


@dataclass(frozen=True)
class CalendarView:
    """The planned days, in order, with each channel's daily cap in words."""

    caps: dict[str, str]
    days: tuple[DayRecord, ...]


@dataclass(frozen=True)
class EntryRecord:
    """One row of the ledger."""

    number: int
    at: str | None
    happened: str
    subject: str
    undoes: int | None
    data: dict[str, Any]


@dataclass(frozen=True)
class DecisionRecord:
    """Rows that were decided together."""

    decision: int
    at: str | None
    what: str
    about: str
    undoes: int | None
    stands: bool
    can_be_undone: bool
    entries: tuple[EntryRecord, ...]


@dataclass(frozen=True)
class HistoryView:
    """Decisions, oldest first."""

    decisions: tuple[DecisionRecord, ...]


@dataclass(frozen=True)
class PricePartRecord:
    """One part of what is paid; ``kind`` groups parts that are drawn alike."""

    name: str
    kind: str
    amount: str
    how: str


@dataclass(frozen=True)
class PriceRecord:
    """A variant's price in a channel with its whole sum, or the finding that says why there is none.

    ``parts`` add up to what is paid, profit last. Where there are several destinations, all is said of the
    one where least is left.
    """

    blank: str
    channel: str
    colour: str
    size: str
    base_cost: str
    price: str | None
    fee: str | None
    profit: str | None
    working: tuple[str, ...]
    finding: FindingRecord | None
    parts: tuple[PricePartRecord, ...] = ()
    destination: str = ""
    wanted: str = ""
    margin: str = ""
    markup: str = ""
    advert_break_even: str = ""


@dataclass(frozen=True)
class PricesView:
    """Prices as the shop's files give them now."""

    prices: tuple[PriceRecord, ...]
    findings: tuple[FindingRecord, ...] = ()  # what is to be said of prices that the seller chose


@dataclass(frozen=True)
class DesignRecord:
    """A design in the list: how its colours fared, and what of it is live."""

    id: str
    path: str
    title: str
    passed: int
    warned: int
    stopped: int
    worst: str
    live: int
    planned: int
    retired: bool


@dataclass(frozen=True)
class DesignsView:
    """All designs by path."""

    designs: tuple[DesignRecord, ...]


@dataclass(frozen=True)
class ListingRecord:
    """A design on a blank in a channel, as the ledger has it."""

    listing: str
    channel: str
    blank: str
    standing: str  # live, unsure, refused, ended; empty where it never went out
    planned: str  # day; empty where it is not planned
    skus: tuple[str, ...]
    why: str


@dataclass(frozen=True)
class DesignView:
    """One design: its line, its proof where one is kept, its listings, and its failures in words."""

    design: DesignRecord
    proof: ProofRecord | None
    listings: tuple[ListingRecord, ...]
    failures: tuple[str, ...]


@dataclass(frozen=True)
class ShopView:
    """The shop as it stands: the last month, what waits worst first, the next pack, running work."""

    name: str
    currency: str
    month: MonthRecord | None
    waiting: tuple[FindingRecord, ...]
    unsure: tuple[str, ...]
    next_pack: str
    running: RunningRecord | None
