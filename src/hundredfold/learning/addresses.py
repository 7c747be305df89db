"""Cell addresses as workbooks write them: B7, $A$1:$C$9, 'My lists'!$A:$A."""

import re
from dataclasses import dataclass

_CELL = re.compile(r"\$?([A-Z]{1,3})\$?(\d{1,7})")
_RANGE = re.compile(r"\$?([A-Z]{1,3})?\$?(\d{1,7})?(?::\$?([A-Z]{1,3})?\$?(\d{1,7})?)?")
MAX_ROWS, MAX_COLUMNS = 1_048_576, 16_384


@dataclass(frozen=True)
class Area:
    """A rectangle of cells, 0-based and inclusive; ``sheet`` is "" for the sheet it stands in."""

    sheet: str
    top: int
    left: int
    bottom: int
    right: int


def column_index(letters: str) -> int:
    """0 for A, 27 for AB."""
    index = 0
    for letter in letters:
        index = index * 26 + ord(letter) - 64
    return index - 1


def cell_at(address: str) -> tuple[int, int] | None:
    """The 0-based row and column of ``B7``; None where it is no address."""
    found = _CELL.fullmatch(address)
    return (int(found[2]) - 1, column_index(found[1])) if found else None


def area_of(reference: str) -> Area | None:
    """The rectangle a reference names; None for formulas and names."""
    sheet, _, cells = reference.strip().lstrip("=").rpartition("!")
    found = _RANGE.fullmatch(cells)
    if not cells or not found or not (found[1] or found[2]):
        return None
    left = column_index(found[1]) if found[1] else 0
    top = int(found[2]) - 1 if found[2] else 0
    one = not (found[3] or found[4])
    right = column_index(found[3]) if found[3] else (left if found[1] else MAX_COLUMNS - 1)
    bottom = int(found[4]) - 1 if found[4] else (top if one and found[2] else MAX_ROWS - 1)
    return Area(sheet.strip("'").replace("''", "'"), top, left, bottom, right)
