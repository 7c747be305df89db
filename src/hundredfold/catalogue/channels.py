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


class Counting(StrEnum):
    """How a channel counts the length of a text."""

    CHARACTERS = "characters"  # Unicode code points
    UTF_16 = "utf-16"  # code units: an emoji counts as two or more
    BYTES = "bytes"  # of UTF-8


@dataclass(frozen=True)
class TextLimits:
    """A channel's limits for wording, counted as ``counts`` says; ``search_bytes`` is always bytes of UTF-8.

    0 means none of it, but for the search limits: there it means no limit of that kind, and no search words
    at all where every one is 0. With ``tags`` the search words are so many phrases of ``tag_chars`` each.
    """

    title_chars: int
    points: int = 0
    point_chars: int = 0
    story_chars: int = 0
    search_chars: int = 0
    search_bytes: int = 0
    search_words: int = 0
    tags: int = 0
    tag_chars: int = 0
    counts: Counting = Counting.CHARACTERS


@dataclass(frozen=True)
class WordRules:
    """A channel's rules for its words: phrases and characters it refuses, and what its search looks at."""

    forbidden: tuple[str, ...] = ()
    forbidden_characters: str = ""
    search_sees_title: bool = True  # then search words need not say what the title says


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
    words: WordRules = WordRules()
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
