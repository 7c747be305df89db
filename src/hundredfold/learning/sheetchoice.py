"""Which worksheets of a workbook are meant to be filled: not the welcome page, not the lists."""

from collections.abc import Sequence
from dataclasses import dataclass

from hundredfold.learning.columns import propose
from hundredfold.learning.fields import FieldCatalogue
from hundredfold.learning.headings import Headings, find_headings
from hundredfold.learning.seen import Surety
from hundredfold.learning.sheet import Seen


@dataclass(frozen=True)
class Fillable:
    """A worksheet with headings; ``found`` counts the columns that hold a field of ours."""

    sheet: Seen
    headings: Headings
    found: int


def fillable(sheets: Sequence[Seen], catalogue: FieldCatalogue) -> tuple[Fillable, ...]:
    """The worksheets that could be filled, the likeliest first; hidden ones and mere lists are not."""
    answers = []
    for place, sheet in enumerate(sheets):
        if sheet.hidden:
            continue
        headings = find_headings(sheet, catalogue)
        if headings is None or len(headings.columns) < 2:
            continue
        found = sum(one.surety is not Surety.GAP for one in propose(headings.columns, catalogue))
        if found >= 2:
            answers.append((-found, place, Fillable(sheet, headings, found)))
    return tuple(one for _, _, one in sorted(answers, key=lambda each: each[:2]))
