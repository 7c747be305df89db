"""A cell of a table, as every format can write it."""

from datetime import date
from decimal import Decimal
from typing import NamedTuple

from hundredfold.catalogue.sheets import TableKind


class Cell(NamedTuple):
    """A cell's text as a CSV has it, with the number or day a workbook should hold; or what is wrong."""

    text: str
    number: Decimal | None = None
    day: date | None = None
    wrong: str = ""

    def as_read(self, kind: TableKind) -> str:
        """The text a reader of the finished table gets."""
        if kind is TableKind.XLSX:
            if self.number is not None:
                return format(self.number.normalize(), "f")
            return self.day.isoformat() if self.day is not None else self.text
        return self.text if self.number is not None else kind.as_read(self.text)
