"""A first look through a whole report: its dates, decimal marks and signs, told by all rows together."""

from collections import Counter
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from hundredfold.learning.words import split_words
from hundredfold.results.amounts import MarkVotes, amount_of
from hundredfold.results.dates import DateVotes
from hundredfold.results.fieldwords import MONEY
from hundredfold.results.mapping import ReportMapping, heading_score
from hundredfold.results.typewords import RowKind, both_say, kind_of

Row = tuple[int, Sequence[str]]  # its number as a spreadsheet shows it, and its cells
TOTALS = frozenset(
    ("total", "totals", "sum", "summe", "gesamt", "gesamtsumme", "totale", "totaux", "somme", "suma",
     "subtotal", "zwischensumme", "overall", "insgesamt")
)  # fmt: skip
COSTS = frozenset(
    {RowKind.FEE, RowKind.PAYMENT, RowKind.ADVERT, RowKind.REFUND, RowKind.POSTAGE, RowKind.DISCOUNT}
)
_VOCABULARY = 40  # a column with more different words is free text, no list of types
_SAMPLES = 4000


@dataclass(frozen=True)
class Section:
    """The rows from one row of headings to the next."""

    headings_row: int
    mapping: ReportMapping


@dataclass
class Survey:
    """What was seen. ``signs`` counts negative and positive amounts of each kind of money."""

    sections: list[Section]
    dates: DateVotes = field(default_factory=DateVotes)
    marks: MarkVotes = field(default_factory=MarkVotes)
    signs: dict[str, Counter[bool]] = field(default_factory=dict)  # field -> negative? -> how many
    totals: list[int] = field(default_factory=list)
    again: list[int] = field(default_factory=list)  # rows of headings below the first
    what: set[str] = field(default_factory=set)
    prices: list[tuple[str, str, str]] = field(default_factory=list)  # SKU, units, price
    rows: int = 0
    last_row: int = 0

    def negative(self, name: str) -> bool:
        """Whether costs of this kind are written with a minus."""
        votes = self.signs.get(name, Counter())
        return votes[True] > votes[False]

    @property
    def types_in_what(self) -> bool:
        """Whether the column of descriptions is a list of types rather than free text."""
        return len(self.what) <= _VOCABULARY

    def price_is_total(self, mark: str) -> bool | None:
        """Whether a price is for all pieces of its row: told by one SKU sold in ones and in several."""
        single: dict[str, int] = {}
        several: list[tuple[str, int, int]] = []
        for sku, units_text, price_text in self.prices:
            units, price = amount_of(units_text, "."), amount_of(price_text, mark)
            if units is None or not price or units <= 0:
                continue
            pieces = units // 10_000
            if pieces == 1:
                single[sku] = price
            elif pieces > 1:
                several.append((sku, pieces, price))
        votes: Counter[bool] = Counter()
        for sku, pieces, price in several:
            one = single.get(sku)
            if one:
                votes[abs(price - one * pieces) < abs(price - one)] += 1
        return None if not several else (votes[True] > votes[False] if votes else None)


def is_total(cells: Sequence[str]) -> bool:
    """Whether the row sums up others: it says so in words, and most of it is empty."""
    texts = [text for text in cells if text.strip()]
    said = any(
        word in TOTALS for text in texts[:3] if not any(map(str.isdigit, text)) for word in split_words(text)
    )
    return said and len(texts) <= max(2, 0.8 * len(cells))


def look_through(
    rows: Iterable[Row], first: Section, remap: Callable[[Sequence[str]], ReportMapping]
) -> Survey:
    """Look through all rows below the first headings. ``remap`` maps headings found further down."""
    survey = Survey([first])
    eyes = _Eyes(survey, first.mapping)
    for number, cells in rows:
        survey.last_row = number
        if eyes.ordinary(cells):
            survey.rows += 1
            eyes.see(cells)
        elif not any(cells):
            continue
        elif heading_score(cells) >= max(2.0, 0.5 * sum(bool(c.field) for c in eyes.mapping.columns)):
            survey.again.append(number)
            mapping = remap(cells)
            if [c.heading for c in mapping.columns] != [c.heading for c in eyes.mapping.columns]:
                survey.sections.append(Section(number, mapping))
                eyes = _Eyes(survey, mapping)
        elif is_total(cells):
            survey.totals.append(number)
        else:
            survey.rows += 1
    return survey


class _Eyes:
    """Looks at the rows of one section; each text is judged once."""

    def __init__(self, survey: Survey, mapping: ReportMapping) -> None:
        self.survey, self.mapping = survey, mapping
        self._date = mapping.at("date")
        self._money = [(c.index, c.field) for c in mapping.columns if c.field in MONEY]
        self._kind, self._what = mapping.at("kind"), mapping.at("what")
        places = (_first(mapping, "sku", "identifier"), mapping.at("units"), mapping.at("price"))
        self._priced = tuple(at for at in places if at is not None) if None not in places else ()
        self._judge = self._date if self._date is not None else (self._money[0][0] if self._money else None)
        self._known: dict[str, bool] = {}
        self._texts: list[set[str]] = [set() for _ in self._money]

    def ordinary(self, cells: Sequence[str]) -> bool:
        """Whether the row has a date (or an amount, where the report has none): else it may be a total."""
        if self._judge is None or self._judge >= len(cells):
            return False
        text = cells[self._judge][:10]
        known = self._known.get(text)
        if known is None:
            known = self._known[text] = any(map(str.isdigit, text))
            if known and self._judge == self._date:
                self.survey.dates.see(text)
        return known

    def see(self, cells: Sequence[str]) -> None:
        """Take a row's amounts into account."""
        width = len(cells)
        kind = kind_of(cells[self._kind]) if self._kind is not None and self._kind < width else RowKind.SALE
        what = cells[self._what] if self._what is not None and self._what < width else ""
        if what and len(self.survey.what) <= _VOCABULARY:
            self.survey.what.add(what)
        for (at, name), seen in zip(self._money, self._texts, strict=True):
            text = cells[at] if at < width else ""
            if text and (kind is not RowKind.SALE or text not in seen):
                seen.add(text)
                self.survey.marks.see(text)
                self._sign(name, kind, what, text)
        if self._priced and len(self.survey.prices) < _SAMPLES and width > max(self._priced):
            sku, units, price = (cells[at] for at in self._priced)
            self.survey.prices.append((sku, units, price))

    def _sign(self, name: str, kind: RowKind, what: str, text: str) -> None:
        if not any(char in "123456789" for char in text):
            return
        negative = any(char in "-−–(" for char in text)
        if name in ("fee", "payment", "advert", "refund", "discount", "base cost"):
            self._count(name, negative)
        elif name in ("amount", "total", "net", "paid", "price", "unit price"):
            meant = both_say(kind, kind_of(what) if what else RowKind.UNKNOWN)
            if meant in COSTS:
                self._count(meant.value, negative)

    def _count(self, name: str, negative: bool) -> None:
        self.survey.signs.setdefault(name, Counter())[negative] += 1


def _first(mapping: ReportMapping, *fields: str) -> int | None:
    return next((at for field in fields if (at := mapping.at(field)) is not None), None)


def words_of(given: Mapping[str, str]) -> dict[str, RowKind]:
    """The seller's own words for types: ``{"sundry": "fee"}``. Raises ValueError for a kind there is not."""
    return {word.strip().casefold(): RowKind(kind.strip().casefold()) for word, kind in given.items()}
