"""A channel's table as the partner sees it: its columns, what fills each, and a row that really went in."""

from dataclasses import dataclass
from pathlib import Path

from hundredfold.catalogue.channels import Channel
from hundredfold.learning.words import letter_of
from hundredfold.workshop.views.looking import Glance, look_at
from hundredfold.workshop.views.packs import pack_records
from hundredfold.workshop.views.packsheet import first_lines


@dataclass(frozen=True)
class ColumnShown:
    """A column: letter, the partner's heading, what fills it, what stands there in the example row."""

    letter: str
    header: str
    fill: str
    required: bool
    max_chars: int | None
    only_for: tuple[str, ...]
    example: str


@dataclass(frozen=True)
class SheetSample:
    """``pack`` is where the example row is from, "" where no pack was made yet; ``row`` counts from 0."""

    channel: Channel
    columns: tuple[ColumnShown, ...]
    pack: str
    row: int
    rows: int


def sheet_sample(folder: Path, channel: str, row: int = 0) -> SheetSample:
    """A channel's sheet with an example row. Raises ``unknown-channel``, and as ``look_at`` does."""
    look = look_at(folder)
    found = look.shop.channel(channel)
    pack, rows = _rows(look, found)
    chosen = rows[row % len(rows)] if rows else ()
    columns = tuple(
        ColumnShown(
            letter_of(number),
            column.header,
            column.fill,
            column.required,
            column.max_chars,
            column.only_for,
            chosen[number] if number < len(chosen) else "",
        )
        for number, column in enumerate(found.sheet.columns)
    )
    return SheetSample(found, columns, pack, row % len(rows) if rows else 0, len(rows))


def _rows(look: Glance, channel: Channel) -> tuple[str, tuple[tuple[str, ...], ...]]:
    """The first rows of the channel's newest table on disk, below its headings."""
    headers = tuple(column.header for column in channel.sheet.columns)
    for pack in reversed(pack_records(look)):
        if pack.channel == channel.code and pack.files:
            lines = first_lines(look.shop.paths.packs / pack.channel / pack.day, pack.files)
            tops = [n for n, line in enumerate(lines) if line[: len(headers)] == headers]
            if tops:
                return pack.pack, lines[tops[0] + 1 :]
    return "", ()
