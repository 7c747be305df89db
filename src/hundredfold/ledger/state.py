"""The state of the shop as its ledger tells it."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from hundredfold.ledger.choices import Choice, ChoiceKey
from hundredfold.ledger.keys import GoodsKey, ListingKey, PackKey, SkuKey


class Standing(StrEnum):
    """Where a listing stands with its channel."""

    LIVE = "live"  # adopted, or handed over and not refused
    UNSURE = "unsure"  # in a hand-over whose end nobody saw
    REFUSED = "refused"
    ENDED = "ended"


class Progress(StrEnum):
    """How far a pack has come."""

    PACKED = "packed"
    HANDING_OVER = "handing over"
    UNSURE = "unsure"
    HANDED_OVER = "handed over"


@dataclass(frozen=True)
class Listed:
    """A listing that has left the house. Revision 0 means adopted and never handed over by us.

    ``content`` is what the channel was told, by name (``price``, ``title``, ``art``...); empty when
    it is not known, as with adopted listings.
    """

    standing: Standing
    revision: int
    colours: tuple[str, ...] = ()
    content: Mapping[str, str] = field(default_factory=dict)
    adopted: bool = False
    why: str = ""  # the channel's words when it refused


@dataclass(frozen=True)
class PlannedDay:
    """A listing on the day it is planned for; ``day`` is YYYY-MM-DD; the seller holds a ``pinned`` one."""

    day: str
    action: str
    revision: int
    colours: tuple[str, ...]
    rows: int
    reason: str
    pinned: bool = False


@dataclass(frozen=True)
class RowSent:
    """A row of a pack: which SKU, which revision, and what it asked for (new, change, end).

    ``trace`` holds a few characters for each of its cells and files; empty where an older version packed it.
    """

    sku: str
    revision: int
    action: str
    listing: ListingKey
    trace: str = ""


@dataclass(frozen=True)
class ListingSent:
    """A listing of a pack, with what the channel is told about it."""

    key: ListingKey
    revision: int
    action: str
    colours: tuple[str, ...]
    content: Mapping[str, str]


@dataclass(frozen=True)
class PackState:
    """A pack as the ledger knows it; ``manifest`` is the sha256 of manifest.json's bytes."""

    progress: Progress
    manifest: str
    rows: tuple[RowSent, ...]
    listings: tuple[ListingSent, ...]
    destination: str = ""


@dataclass(frozen=True)
class HandText:
    """A text written by hand, the sha256 of what it was written over, and the row that says so."""

    text: str
    below: str
    row: int


@dataclass(frozen=True)
class LedgerState:
    """Everything folded from the events. SKUs are unique in the whole shop, channels included."""

    skus: Mapping[SkuKey, str] = field(default_factory=dict)
    owners: Mapping[str, SkuKey] = field(default_factory=dict)  # SKU -> key
    by_listing: Mapping[ListingKey, Mapping[SkuKey, str]] = field(default_factory=dict)
    listed: Mapping[ListingKey, Listed] = field(default_factory=dict)
    planned: Mapping[ListingKey, PlannedDay] = field(default_factory=dict)
    packs: Mapping[PackKey, PackState] = field(default_factory=dict)
    sent: Mapping[tuple[str, int], PackKey] = field(default_factory=dict)  # (SKU, revision) -> its pack
    existing: frozenset[str] = frozenset()  # SKUs a channel has, or may have
    ended: frozenset[str] = frozenset()  # SKUs a channel once had
    identifiers: Mapping[str, str] = field(default_factory=dict)  # SKU -> the channel's own number
    answers: Mapping[str, tuple[str, dict[str, object]]] = field(default_factory=dict)  # SKU -> the last one
    retired: Mapping[str, int] = field(default_factory=dict)  # design id -> the row that says so
    placed: Mapping[tuple[str, str], Mapping[str, object]] = field(default_factory=dict)  # (design id, blank)
    choices: Mapping[ChoiceKey, Choice] = field(default_factory=dict)  # those that stand
    by_hand: Mapping[ListingKey, Mapping[str, HandText]] = field(default_factory=dict)  # by field, as "title"
    barcodes: Mapping[GoodsKey, str] = field(default_factory=dict)  # of the bought list, each once
    last_number: int = 0

    @property
    def frozen_days(self) -> frozenset[PackKey]:
        """Days nothing may change any more: handed over, or possibly so."""
        return frozenset(key for key, pack in self.packs.items() if pack.progress is not Progress.PACKED)

    def skus_of(self, listing: ListingKey) -> tuple[tuple[SkuKey, str], ...]:
        """The SKUs given to a listing, family head included, in order of colour and size."""
        return tuple(sorted(self.by_listing.get(listing, {}).items()))
