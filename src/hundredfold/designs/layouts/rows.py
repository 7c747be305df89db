"""A row of a word list."""

from collections.abc import Mapping
from dataclasses import dataclass

from hundredfold.designs.layouts.pattern import column_key

# Columns that speak about the design instead of filling a slot.
KEYWORDS, NICHE, OCCASION, RIGHTS = "keywords", "niche", "occasion", "rights"
NAME, LAYOUT, PALETTE = "file name", "layout", "palette"
TRAVELLING = (KEYWORDS, NICHE, OCCASION, RIGHTS)
RESERVED = frozenset((*TRAVELLING, NAME, LAYOUT, PALETTE))


@dataclass(frozen=True)
class Row:
    """One row: its number as the spreadsheet shows it, and its cells by column key."""

    file: str
    number: int
    cells: Mapping[str, str]

    def cell(self, name: str) -> str:
        """A cell's text, "" when the list has no such column."""
        return self.cells.get(column_key(name), "")

    @property
    def keywords(self) -> tuple[str, ...]:
        """Its keywords; written with semicolons or commas between them."""
        parts = self.cell(KEYWORDS).replace(";", ",").split(",")
        return tuple(part.strip() for part in parts if part.strip())
