"""A worksheet as a reader of files hands it over: the cells of its first rows, its lists and its marks."""

from collections.abc import Mapping
from dataclasses import dataclass, field


@dataclass(frozen=True)
class Seen:
    """One worksheet. Rows and columns are 0-based; only cells that hold something are there.

    ``allowed`` are the choices of drop-down lists by column, ``notes`` the comments and input hints by
    column, ``merged`` the spans (row, first column, last column) of merged headings. ``last_row`` is the last
    row that holds anything, which may lie far below the rows that were read.
    """

    file: str
    name: str  # "" for a CSV
    rows: tuple[Mapping[int, str], ...]
    last_row: int = -1
    allowed: Mapping[int, tuple[str, ...]] = field(default_factory=dict)
    notes: Mapping[int, tuple[str, ...]] = field(default_factory=dict)
    hidden_columns: frozenset[int] = frozenset()
    hidden: bool = False  # the whole sheet
    merged: tuple[tuple[int, int, int], ...] = ()
    protected: bool = False

    def text(self, row: int, column: int) -> str:
        """What a cell says; "" where it is empty or beyond what was read."""
        return self.rows[row].get(column, "") if 0 <= row < len(self.rows) else ""

    @property
    def width(self) -> int:
        """One more than the last column that holds anything."""
        return max((max(row) + 1 for row in self.rows if row), default=0)
