"""A channel: where listings go, with its fees, limits, table layout and daily cap."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from hundredfold.catalogue.charges import NO_CHARGES, Charges, Fees
from hundredfold.catalogue.sheets import OUR_NAMES, FileNames, Sheet
from hundredfold.kernel.money import Money


class CapCounts(StrEnum):
    """What a channel's daily cap counts."""

    ROWS = "rows"
    LISTINGS = "listings"
    FAMILIES = "families"


@dataclass(frozen=True)
class TextLimits:
    """A channel's limits for wording; characters, except where the name says bytes."""

    title_chars: int
    bullets: int
    bullet_chars: int
    description_chars: int
    search_bytes: int


class Asks(StrEnum):
    """How a channel is asked to end or to change what is live."""

    ROWS = "rows"  # a row in the table says so
    STOCK = "stock 0"  # the row stays, with nothing in stock; only for ends
    TABLE = "table"  # rows of a table of their own, beside the first
    BY_HAND = "by hand"  # the channel has no way: a list tells the seller what to do


class LengthUnit(StrEnum):
    """What lengths are written in on size pictures."""

    MM = "mm"
    CM = "cm"
    INCH = "in"


@dataclass(frozen=True)
class PictureRules:
    """What a channel asks of its pictures."""

    width_px: int
    height_px: int
    max_bytes: int
    max_count: int
    thumbnail_px: int = 160
    min_side_px: int = 0
    lengths: LengthUnit = LengthUnit.MM


@dataclass(frozen=True)
class Channel:
    """A partner or a marketplace that takes listings."""

    code: str
    name: str
    currency: str
    language: str
    cap_counts: CapCounts
    daily_cap: int
    fees: Fees
    limits: TextLimits
    pictures: PictureRules
    sheet: Sheet
    blanks: tuple[str, ...] = ()  # blank codes sold here; empty: all
    price_ending: str = ""
    min_price: Money | None = None
    max_price: Money | None = None
    charges: Charges = NO_CHARGES
    note: str = ""
    extra: Mapping[str, str] = field(default_factory=dict)  # fixed words a fill may use as {extra NAME}
    their_words: Mapping[str, Mapping[str, str]] = field(default_factory=dict)  # table -> our word -> theirs
    more_tables: tuple[Sheet, ...] = ()  # beside the first: stock, ends, pictures
    files: FileNames = OUR_NAMES
    ends: Asks = Asks.ROWS
    changes: Asks = Asks.ROWS
    stock: int = 0  # what {stock} says of what can be had
    colours: tuple[str, ...] = ()  # colour codes taken here; empty: all
    sizes: tuple[str, ...] = ()
    destination: str = ""  # the country its goods go to, where codes differ by it
    values: Mapping[str, str] = field(default_factory=dict)  # what is true of all listed here: {value NAME}
    must_say: tuple[str, ...] = ()  # values that a listing may not lack here
