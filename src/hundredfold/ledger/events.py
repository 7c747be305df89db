"""The ledger's rows: what happened, in order, never changed afterwards."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from enum import StrEnum


class Happened(StrEnum):
    """The kinds of ledger rows."""

    ADOPTED = "adopted"
    DESIGN_SEEN = "design seen"
    SKU_GIVEN = "sku given"
    BARCODE_GIVEN = "barcode given"  # one of the bought list, to goods that keep it
    PLANNED = "planned"
    UNPLANNED = "unplanned"
    PACKED = "packed"
    HANDING_OVER = "handing over"  # written before the copy starts
    HANDED_OVER = "handed over"  # written after it is proved complete
    UNSURE = "unsure"  # a hand-over that began and was never seen to end
    SETTLED = "settled"  # a person said what became of an unsure hand-over
    ACCEPTED = "accepted"
    REFUSED = "refused"
    CHANGED = "changed"
    ENDED = "ended"
    PLACED = "placed"  # a person gave a design its own place and size on a blank
    CHOSEN = "chosen"  # a person's own yes or no on a design, a blank, a colour, a channel
    REPAIRED = "repaired"  # a person took a repair: other art in a design's place
    RETIRED = "retired"  # a person said that a design is sold no more
    WORDED = "worded"  # a person wrote a text of a listing by hand
    UNDONE = "undone"  # the inverse of an earlier row, named by its number


@dataclass(frozen=True)
class Event:
    """One appended row. ``number`` is 0 until the store has given it one.

    ``subject`` is what it is about: a listing key, a SKU, or ``channel/YYYY-MM-DD`` for a pack.
    ``data`` holds plain JSON values. ``undoes`` is the number of the row this one reverses.
    """

    happened: Happened
    subject: str
    data: Mapping[str, object] = field(default_factory=dict)
    number: int = 0
    at: datetime | None = None  # UTC, given by the store
    undoes: int | None = None
    decision: int = 0  # the number of the first row that was decided with it, given by the store
