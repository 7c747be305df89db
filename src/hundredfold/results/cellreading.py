"""The cells of one section of a report, by field: amounts, days, counts, currencies, each text read once."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from hundredfold.learning.wordlists import CURRENCIES
from hundredfold.results.amounts import UNIT, amount_of
from hundredfold.results.dates import DateOrder, day_of
from hundredfold.results.mapping import ReportMapping
from hundredfold.results.typewords import RowKind, kind_of

_SIGNS = {"£": "GBP", "€": "EUR", "$": "USD", "us$": "USD"}


class RowError(ValueError):
    """Why one row cannot be used; the text is the reason, in words for the seller."""


@dataclass(frozen=True)
class ReadAs:
    """How the cells are to be read: what the survey found, or the seller said."""

    mark: str = "."
    order: DateOrder = DateOrder.DAY_FIRST
    currency: str = ""  # where no column tells it
    day: str = ""  # where no column tells it
    price_is_total: bool = False
    types_in_what: bool = True
    negative: frozenset[str] = frozenset()  # kinds of cost written with a minus
    words: Mapping[str, RowKind] | None = None  # the seller's own, by the word
    skus: Mapping[str, str] | None = None  # the channel's own number -> our SKU


class ReportCells:
    """Reads a section's rows. Texts repeat, so each is read once."""

    def __init__(self, mapping: ReportMapping, how: ReadAs) -> None:
        self.how, self.mapping = how, mapping
        self._at = {one.field: one.index for one in reversed(mapping.columns) if one.field}
        self._all = {name: mapping.all_at(name) for name in {one.field for one in mapping.columns}}
        self._amounts: dict[str, int] = {}
        self._days: dict[str, str] = {}
        self._counts: dict[str, int] = {}
        self._kinds: dict[str, RowKind] = {}

    def has(self, name: str) -> bool:
        """Whether a column holds it."""
        return name in self._at

    def text(self, row: Sequence[str], name: str) -> str:
        """The cell's text; "" where there is no column or the row is short."""
        at = self._at.get(name)
        return row[at].strip() if at is not None and at < len(row) else ""

    def amount(self, row: Sequence[str], name: str) -> int | None:
        """An amount, the sum where several columns hold parts of it; None for no column or an empty cell."""
        total: int | None = None
        for at in self._all.get(name, ()):
            text = row[at] if at < len(row) else ""
            if text:
                found = self._amounts.get(text)
                if found is None:
                    found = self._read_amount(text, at)
                total = found if total is None else total + found
        return total

    def _read_amount(self, text: str, at: int) -> int:
        if text.strip() in ("", "-", "–", "—"):
            return 0
        found = amount_of(text, self.how.mark)
        if found is None:
            raise RowError(f'"{text[:24]}" under "{self.mapping.columns[at].heading}" is no amount')
        if len(self._amounts) < 200_000:
            self._amounts[text] = found
        return found

    def cost(self, row: Sequence[str], name: str) -> int | None:
        """An amount that is a cost, positive whatever the report's sign for it."""
        found = self.amount(row, name)
        return -found if found and name in self.how.negative else found

    def day(self, row: Sequence[str]) -> str:
        """The row's day."""
        text = self.text(row, "date")
        found = self._days.get(text)
        if found is None:
            if not text and (self.how.day or not self.has("date")):
                return self.how.day
            read = day_of(text, self.how.order)
            if read is None:
                raise RowError(f'"{text[:24]}" is no date, read {self.how.order.value}')
            found = self._days[text] = read
        return found

    def units(self, row: Sequence[str]) -> int | None:
        """How many pieces; None where no column tells."""
        text = self.text(row, "units")
        if not text:
            return None
        found = self._counts.get(text)
        if found is None:
            read = amount_of(text, self.how.mark)
            read = amount_of(text, ".") if read is None else read
            if read is None or read % UNIT:
                raise RowError(f'"{text[:24]}" is no number of pieces')
            found = self._counts[text] = read // UNIT
        return found

    def currency(self, row: Sequence[str]) -> str:
        """The row's currency, as ISO 4217 writes it."""
        text = self.text(row, "currency")
        if not text:
            return self.how.currency
        code = _SIGNS.get(text.casefold()) or CURRENCIES.get(text.casefold()) or text.upper()
        if not (len(code) == 3 and code.isalpha() and code.isascii()):
            raise RowError(f'"{text[:12]}" is no currency')
        return code

    def sku(self, row: Sequence[str]) -> str:
        """Our SKU; by the channel's own number where the report has no other."""
        sku = self.text(row, "sku")
        if not sku:
            sku = self.text(row, "identifier")
        return (self.how.skus or {}).get(sku, sku)

    def kind(self, text: str) -> RowKind:
        """What a row of this type is: the seller's own word first."""
        found = self._kinds.get(text)
        if found is None:
            own = (self.how.words or {}).get(text.strip().casefold())
            found = self._kinds[text] = own or kind_of(text)
        return found
