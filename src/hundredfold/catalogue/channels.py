"""A channel: where listings go, with its fees, limits, table layout and daily cap."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from hundredfold.catalogue.charges import NO_CHARGES, Charges, Fees
from hundredfold.kernel.formulas import harmless
from hundredfold.kernel.money import Money


class CapCounts(StrEnum):
    """What a channel's daily cap counts."""

    ROWS = "rows"
    LISTINGS = "listings"
    FAMILIES = "families"


class TableKind(StrEnum):
    """The file a channel takes its table in."""

    CSV = "csv"
    XLSX = "xlsx"

    def as_read(self, text: str) -> str:
        """What a reader of such a table gets for this text; in XLSX a mark of the cell keeps it text."""
        return harmless(text) if self is TableKind.CSV else text


@dataclass(frozen=True)
class Column:
    """One column of a channel's sheet and what fills it.

    ``fill`` is either fixed text or text with fields in braces (``{title}``, ``{price}``,
    ``{bullet 1}``); the fields are listed in docs/channels.md.
    """

    header: str
    fill: str
    required: bool = False
    max_chars: int | None = None
    only_for: str = ""  # "" every row; "head" family heads; "member" family members


@dataclass(frozen=True)
class Sheet:
    """The exact table a channel wants."""

    kind: TableKind
    columns: tuple[Column, ...]
    byte_order_mark: bool = False
    worksheet: str = "Listings"
    lines_above: tuple[tuple[str, ...], ...] = ()  # rows before the header, as the channel's form has them
    max_rows: int | None = None  # a new part after this many rows
    max_bytes: int | None = None
    max_archive_bytes: int | None = None
    families: bool = False  # a head row before the rows of its members


@dataclass(frozen=True)
class TextLimits:
    """A channel's limits for wording; characters, except where the name says bytes."""

    title_chars: int
    bullets: int
    bullet_chars: int
    description_chars: int
    search_bytes: int


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
