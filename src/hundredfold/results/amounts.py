"""Amounts as reports write them, read exactly: ``1.234,56``, ``(12.30)``, ``12,30-``, ``£1,234.50``.

An amount is held as a whole number of ten-thousandths of its currency's unit: fees are billed in parts of a
coin, and sums of whole numbers are exact in any database.
"""

import re
from dataclasses import dataclass
from decimal import Decimal

PLACES = 4
UNIT = 10**PLACES
LARGEST = 10**14  # ten thousand million units: beyond it a cell is no amount
# What stands around the digits: signs and letters of currencies, spaces of any width, apostrophes between
# thousands.
_AROUND = re.compile(
    r"[\s\u00a0\u202f\u2009'’]|[A-Z]{0,3}[£€$¥₹₺₽]|(?<![A-Z])[A-Z]{3}(?![A-Z])|\bkr\b\.?|\bzł\b|\bFr\.",
    re.IGNORECASE,
)
_DIGITS = re.compile(r"\d+(?:[.,]\d+)*|[.,]\d+")
_MINUS = "-−–"


@dataclass
class MarkVotes:
    """What the amounts of a column say of their decimal mark. Filled while a file is looked through."""

    point: int = 0
    comma: int = 0

    def see(self, text: str) -> None:
        """Take an amount into account: one with both marks tells, or with other than three digits behind."""
        dot, comma = text.rfind("."), text.rfind(",")
        if dot < 0 and comma < 0:
            return
        if dot >= 0 and comma >= 0:
            self._vote(dot > comma)
            return
        mark = "." if dot >= 0 else ","
        tail = sum(char.isdigit() for char in text[text.rfind(mark) + 1 :])
        if text.count(mark) > 1:
            self._vote(mark == ",")  # it stands between thousands
        elif tail != 3:
            self._vote(mark == ".")

    def _vote(self, point: bool) -> None:
        self.point += point
        self.comma += not point

    @property
    def both(self) -> bool:
        """Whether they contradict each other."""
        return bool(self.point and self.comma)

    def mark(self, otherwise: str = ".") -> str:
        """The decimal mark that most say."""
        if self.point == self.comma:
            return otherwise
        return "." if self.point > self.comma else ","


def amount_of(text: str, mark: str = ".") -> int | None:
    """The amount in ten-thousandths; None where the text is no amount or has more decimals than are kept.

    >>> amount_of("(1.234,56)", ",")
    -12345600
    """
    bare = _AROUND.sub("", text)
    negative = bare.startswith("(") and bare.endswith(")")
    bare = bare.strip("()")
    if bare[:1] in _MINUS or bare[-1:] in _MINUS:
        negative = not negative if bare else negative
        bare = bare.strip(_MINUS)
    bare = bare.removeprefix("+")
    if not _DIGITS.fullmatch(bare):
        return None
    whole, _, part = bare.replace("," if mark == "." else ".", "").partition(mark)
    part = part.rstrip("0") if len(part) > PLACES else part
    if len(part) > PLACES or not (whole or part).isdigit() or not (part or "0").isdigit():
        return None
    found = int(whole or 0) * UNIT + int(part.ljust(PLACES, "0"))
    return None if found > LARGEST else (-found if negative else found)


def exact(held: int) -> Decimal:
    """The amount in units of its currency."""
    return Decimal(held).scaleb(-PLACES)


def held(amount: Decimal) -> int:
    """The inverse of ``exact``. Raises ValueError for more decimals than are kept."""
    scaled = amount.scaleb(PLACES)
    if scaled != scaled.to_integral_value():
        raise ValueError(f"{amount} has more than {PLACES} decimals")
    return int(scaled)
