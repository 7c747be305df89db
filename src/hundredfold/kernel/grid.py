"""A table as a spreadsheet shows it: cells in rows, counted from 1 as the person sees them."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time
from decimal import Decimal

# A CSV gives text only; a workbook gives numbers, dates and truth values as well. None is an empty cell.
Cell = str | float | bool | date | time | None


@dataclass(frozen=True)
class Grid:
    """One worksheet, or a whole CSV file. Rows may differ in length."""

    file: str
    sheet: str  # "" for a CSV
    rows: tuple[tuple[Cell, ...], ...]

    def texts(self, index: int) -> tuple[str, ...]:
        """The texts of one row, by its 0-based index."""
        return tuple(map(cell_text, self.rows[index]))


def cell_text(cell: Cell) -> str:
    """What the cell says, as text without spaces around it.

    Whole numbers have no decimals (``12345``, not ``12345.0``), dates are ISO 8601, truth is yes or no.
    """
    if cell is None:
        return ""
    if isinstance(cell, bool):
        return "yes" if cell else "no"
    if isinstance(cell, float | int):
        # repr is the shortest text that gives the same float back, so 4.1 stays 4.1.
        return format(Decimal(repr(cell)), "f").removesuffix(".0")
    if isinstance(cell, datetime) and cell.time() == time():
        return cell.date().isoformat()
    if isinstance(cell, date | time):
        return cell.isoformat()
    return cell.replace("\u00a0", " ").strip()


def folded(header: str) -> str:
    """A header for comparing: lower case, words apart by one space, signs left out."""
    return " ".join("".join(char if char.isalnum() else " " for char in header.casefold()).split())


@dataclass(frozen=True)
class Headers:
    """Which column holds which field. ``row`` is the 0-based index of the header row."""

    row: int
    columns: Mapping[str, int]  # field -> 0-based column
    names: Mapping[str, str]  # field -> the header as it stands in the file
    unused: tuple[str, ...]  # headers that mean nothing here
    twice: tuple[tuple[str, str, str], ...]  # field and the two headers that both look like it


def find_headers(grid: Grid, synonyms: Mapping[str, Sequence[str]], within: int = 25) -> Headers | None:
    """The row that looks most like a header, within the first rows; the first of equals. None if none does.

    A header means a field when it is the field's own name or one of its synonyms; the field's own name and
    then earlier synonyms win where several columns would do.
    """
    best: Headers | None = None
    for index in range(min(within, len(grid.rows))):
        found = _match(index, grid.texts(index), synonyms)
        if found.columns and (best is None or len(found.columns) > len(best.columns)):
            best = found
    return best


def _match(row: int, headers: Sequence[str], synonyms: Mapping[str, Sequence[str]]) -> Headers:
    seen = [folded(header) for header in headers]
    columns: dict[str, int] = {}
    twice = []
    for field, words in synonyms.items():
        for rank in (field, *words):
            at = [index for index, header in enumerate(seen) if header == folded(rank)]
            if at and field not in columns:
                columns[field] = at[0]
                twice += [(field, headers[at[0]], headers[other]) for other in at[1:]]
    used = set(columns.values())
    unused = tuple(name for index, name in enumerate(headers) if name and index not in used)
    return Headers(row, columns, {field: headers[at] for field, at in columns.items()}, unused, tuple(twice))
