"""The table a channel wants: its file's kind and dialect, its columns, and what fills each."""

from dataclasses import dataclass
from enum import StrEnum

from hundredfold.kernel.formulas import harmless


class TableKind(StrEnum):
    """The file a channel takes its table in."""

    CSV = "csv"
    XLSX = "xlsx"

    def as_read(self, text: str) -> str:
        """What a reader of such a table gets for this text; in XLSX a mark of the cell keeps it text."""
        return harmless(text) if self is TableKind.CSV else text


class RowsOf(StrEnum):
    """What a table has a row for."""

    VARIANTS = "variants"  # one row a colour and size, and a family head where the channel has families
    LISTINGS = "listings"
    PICTURES = "pictures"
    PRINT_FILES = "print files"


class CellKind(StrEnum):
    """What a workbook's cell holds."""

    TEXT = "text"
    NUMBER = "number"
    DATE = "date"


class TextForm(StrEnum):
    """How a text is given."""

    PLAIN = "plain"
    HTML = "html"  # signs escaped; paragraphs and lists as elements


class Cut(StrEnum):
    """What becomes of a text that is too long."""

    NEVER = "never"  # the listing is kept out of the pack, and it is told
    WORD = "at a word"


@dataclass(frozen=True)
class Column:
    """One column of a channel's sheet and what fills it.

    ``fill`` is fixed text, or text with fields in braces (``{title}``, ``{price}``, ``{point 1}``); fields
    and every option are in docs/channels.md. ``only_for`` and ``required_for`` hold row words: head, member,
    single, new, change, end, or a field and its value (``blank MUG-325``).
    """

    header: str
    fill: str = ""
    required: bool = False
    max_chars: int | None = None
    only_for: tuple[str, ...] = ()  # empty: every row
    required_for: tuple[str, ...] = ()
    their_words: str = ""  # the table of the channel's words that the value is looked up in
    if_empty: str = ""  # a fill for rows where the first one gives nothing
    join: str | None = None  # between the items of a list; None: the field's own
    prefix: str = ""  # before the value, or before each item of a list; not where there is none
    items: int | None = None  # at most so many of a list
    item_chars: int | None = None  # longer items are left out
    written: str = ""  # a number or a day as the channel writes it: "1.234,50", "31.12.2026"
    unit: str = ""  # a measure is given in it: mm, cm, in, g, kg, oz, lb, ml, l, fl oz
    decimals: int | None = None
    text: TextForm = TextForm.PLAIN
    cut: Cut = Cut.NEVER
    max_bytes: int | None = None  # in UTF-8
    cell: CellKind | None = None  # None: a price alone is a number, all else text


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
    lines_below: tuple[tuple[str, ...], ...] = ()  # rows between the header and ours
    separator: str = ","
    encoding: str = "utf-8"
    line_end: str = "\r\n"
    quote_all: bool = False
    numbers_written: str = ""  # for columns that say nothing themselves
    days_written: str = ""
    form: str = ""  # the partner's own file in the shop folder; ours is a copy of it with rows filled in
    first_row: int = 0  # of the form: 1-based, where our rows begin; what stood there and below goes
    rows: RowsOf = RowsOf.VARIANTS
    only_for: tuple[str, ...] = ()  # rows the table is about; empty: all
    name: str = "listings"  # of the file, without its ending; may hold {date} and {channel}

    @property
    def lines_to_header(self) -> int:
        """Lines from the top through the header and what stands below it."""
        return self.first_row - 1 if self.form else len(self.lines_above) + 1 + len(self.lines_below)


@dataclass(frozen=True)
class FileNames:
    """How a channel wants files named; "" leaves our own names. Fields: docs/channels.md, "Files"."""

    artwork: str = "artwork"  # the archives
    pictures: str = "pictures"
    print_file: str = ""  # the files in them: "{sku}-{area}"
    picture: str = ""  # "{sku}_{number}"
    loose: bool = False  # files beside the table instead of in archives


OUR_NAMES = FileNames()
