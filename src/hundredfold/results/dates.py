"""Days as reports write them, and which comes first, day or month: told by a file's own contradictions."""

import re
from collections import Counter
from dataclasses import dataclass, field
from datetime import date
from enum import StrEnum

from hundredfold.learning.words import fold

_ISO = re.compile(r"(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})(?!\d)|(20\d\d)(\d\d)(\d\d)(?!\d)")
_PARTS = re.compile(r"(\d{1,2})[-/. ]{1,2}(\d{1,2})[-/. ]{1,2}(\d{4}|\d{2})(?!\d)")
_NAMED = re.compile(
    r"(\d{1,2})(?:st|nd|rd|th|er)?[-\s.,/]*(?:de\s+)?([a-z]{3,})[-\s.,/]*(?:de\s+|del\s+)?(\d{4}|\d{2})(?!\d)"
)
_NAMED_FIRST = re.compile(r"(?:[a-z]{3,},?\s+)?([a-z]{3,})\.?[-\s]*(\d{1,2})(?:st|nd|rd|th)?[-\s,]+(\d{4})")
# Months by the letters that tell them apart, in English, German, French, Spanish and Italian (CLDR names).
_MONTHS = (
    "jan gen ene janv", "feb fev fevr", "mar mrz maerz marz mars", "apr avr abr", "may mai mag",
    "jun giu juin",    "jul lug juil", "aug aou ago aout", "sep set", "oct okt ott", "nov", "dec dez dic",
)  # fmt: skip
_MONTH_OF = {word: number for number, words in enumerate(_MONTHS, 1) for word in words.split()}


class DateOrder(StrEnum):
    """Which of two small numbers of a date is the day."""

    DAY_FIRST = "day first"
    MONTH_FIRST = "month first"


@dataclass
class DateVotes:
    """What the dates of a column say of their order. Filled while a file is looked through."""

    day_first: int = 0  # 31/01: no month has that number
    month_first: int = 0
    open: Counter[tuple[int, int, int]] = field(default_factory=Counter)  # those that could be either

    def see(self, text: str) -> None:
        """Take a date into account."""
        found = _PARTS.match(text) if not _ISO.match(text) else None
        if found is None:
            return
        first, second = int(found[1]), int(found[2])
        if first > 12 >= second:
            self.day_first += 1
        elif second > 12 >= first:
            self.month_first += 1
        elif first != second:
            self.open[first, second, _year(found[3])] += 1

    @property
    def both(self) -> bool:
        """Whether some dates can only be read one way and some only the other."""
        return bool(self.day_first and self.month_first)

    @property
    def unsure(self) -> bool:
        """Whether no date tells."""
        return bool(self.open) and not self.day_first and not self.month_first

    def order(self, otherwise: DateOrder, latest: date | None = None) -> DateOrder:
        """The order most dates tell. Where none does: the one that puts none after ``latest``, else the
        narrower span of days, where it is under half of the other; else ``otherwise``.
        """
        if self.day_first != self.month_first:
            return DateOrder.DAY_FIRST if self.day_first > self.month_first else DateOrder.MONTH_FIRST
        if not self.open:
            return otherwise
        by_day = [date(year, second, first) for first, second, year in self.open]
        by_month = [date(year, first, second) for first, second, year in self.open]
        if latest is not None and (max(by_day) > latest) != (max(by_month) > latest):
            return DateOrder.MONTH_FIRST if max(by_day) > latest else DateOrder.DAY_FIRST
        spans = [(max(days) - min(days)).days + 1 for days in (by_day, by_month)]
        if len(self.open) > 2 and min(spans) * 2 < max(spans):
            return DateOrder.DAY_FIRST if spans[0] < spans[1] else DateOrder.MONTH_FIRST
        return otherwise


def _year(text: str) -> int:
    return int(text) if len(text) == 4 else 2000 + int(text)


def day_of(text: str, order: DateOrder = DateOrder.DAY_FIRST) -> str | None:
    """The day as YYYY-MM-DD, as the report writes it (its time and zone left away); None where it is none."""
    text = text.strip()
    if found := _ISO.match(text):
        year, month, day = (found[1], found[2], found[3]) if found[1] else (found[4], found[5], found[6])
        return _valid(int(year), int(month), int(day))
    if found := _PARTS.match(text):
        first, second = int(found[1]), int(found[2])
        day, month = (first, second) if order is DateOrder.DAY_FIRST else (second, first)
        return _valid(_year(found[3]), month, day)
    return _named(fold(text))


def _named(text: str) -> str | None:
    if found := _NAMED.match(text):
        return _valid(_year(found[3]), _month(found[2]), int(found[1]))
    if found := _NAMED_FIRST.match(text):
        return _valid(int(found[3]), _month(found[1]), int(found[2]))
    return None


def _month(word: str) -> int:
    return next((_MONTH_OF[word[:length]] for length in (5, 4, 3) if word[:length] in _MONTH_OF), 0)


def _valid(year: int, month: int, day: int) -> str | None:
    try:
        return date(year, month, day).isoformat()
    except ValueError:
        return None
