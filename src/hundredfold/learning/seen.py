"""A column as it stands in somebody's table, and what is proposed for it."""

from dataclasses import dataclass
from enum import StrEnum

from hundredfold.learning.words import letter_of


class Surety(StrEnum):
    """How sure a proposal is. A gap has no field."""

    SURE = "sure"
    LIKELY = "likely"
    GAP = "gap"


@dataclass(frozen=True)
class SeenColumn:
    """A column as it stands in somebody's table.

    ``header`` is the row that names it, ``group`` the headings above (a merged "Pictures"), ``notes`` what
    is said of it elsewhere (a comment, a row of explanations), ``allowed`` the choices of its drop-down list,
    ``examples`` the values below it.
    """

    index: int  # 0-based
    header: str
    group: str = ""
    notes: tuple[str, ...] = ()
    allowed: tuple[str, ...] = ()
    examples: tuple[str, ...] = ()
    required: bool = False
    hidden: bool = False
    max_chars: int | None = None
    key: str = ""  # the machine's name of it, where a row of those stands beside the headers
    theirs: frozenset[str] = frozenset()  # words of the file's name and title: the partner's own name

    @property
    def letter(self) -> str:
        """A, B, … AA."""
        return letter_of(self.index)


@dataclass(frozen=True)
class Proposal:
    """What fills a column, or a gap. ``number`` is that of a numbered field: 2 of "Picture 2"."""

    column: SeenColumn
    field: str = ""
    number: int | None = None
    surety: Surety = Surety.GAP
    score: float = 0.0
    why: tuple[str, ...] = ()
    unit: str = ""
    currency: str = ""
