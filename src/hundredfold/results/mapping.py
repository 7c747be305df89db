"""Which column of a report holds what: by headings and values, the seller's own words before all."""

import re
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace

from hundredfold.learning.fields import Field
from hundredfold.learning.wordlists import CURRENCIES
from hundredfold.results.amounts import amount_of
from hundredfold.results.dates import day_of
from hundredfold.results.fieldwords import ADDING, MONEY, REPORT
from hundredfold.results.headings import covers, said_by
from hundredfold.results.typewords import RowKind, kind_of

SURE, LIKELY = 0.8, 0.5
WITHIN = 40  # rows in which headings are looked for
_COUNT = re.compile(r"-?\d{1,7}([.,]0+)?")
_LETTERS = re.compile(r"[^\W\d_]{2,}")


@dataclass(frozen=True)
class ReportColumn:
    """A column and what it holds: a field of ours, or "" where nothing is taken from it."""

    index: int
    heading: str
    field: str = ""
    score: float = 0.0
    currency: str = ""
    chosen: bool = False

    @property
    def sure(self) -> bool:
        """Whether nothing is left to confirm."""
        return self.score >= SURE


@dataclass(frozen=True)
class ReportMapping:
    """The columns of a report. Several may hold one field where their amounts add up."""

    columns: tuple[ReportColumn, ...]

    def at(self, field: str) -> int | None:
        """Where a field stands; None where no column holds it."""
        return next((one.index for one in self.columns if one.field == field), None)

    def all_at(self, field: str) -> tuple[int, ...]:
        """Every column that holds a part of it."""
        return tuple(one.index for one in self.columns if one.field == field)

    def has(self, *fields: str) -> bool:
        """Whether one of the fields stands here."""
        return any(one.field in fields for one in self.columns)

    @property
    def currency(self) -> str:
        """The one currency that headings of amounts name; "" where they name none or several."""
        named = {one.currency for one in self.columns if one.currency and one.field in MONEY}
        return named.pop() if len(named) == 1 else ""

    @property
    def moved_by(self) -> dict[str, str]:
        """The seller's own words, to be remembered: field by heading."""
        return {one.field: one.heading for one in self.columns if one.chosen}


def heading_row(rows: Sequence[Sequence[str]], said: Collection[str] = ()) -> int | None:
    """The first row that reads like headings: others may follow further down.

    A row that holds the headings which the seller ``said`` is it. None where no row names two fields.
    """
    wanted = {heading.strip().casefold() for heading in said}
    if wanted:
        folded = ({cell.strip().casefold() for cell in cells} for cells in rows[:WITHIN])
        if (at := next((at for at, cells in enumerate(folded) if wanted <= cells), None)) is not None:
            return at
    scores = [heading_score(cells) for cells in rows[:WITHIN]]
    best = max(scores, default=0.0)
    return next((at for at, score in enumerate(scores) if score >= 0.6 * best), None) if best >= 1.5 else None


def heading_score(cells: Sequence[str]) -> float:
    """How many cells of a row say a field of a report."""
    score = 0.0
    for text in cells:
        if text and len(text) <= 60 and _LETTERS.search(text) and "@" not in text:
            score += max(covers(field, text) for field in REPORT.fields)
    return score


def map_columns(
    headings: Sequence[str],
    examples: Sequence[Sequence[str]],
    skus: Collection[str] = frozenset(),
    chosen: Mapping[str, str] | None = None,
) -> ReportMapping:
    """Propose a field for each column. ``skus`` are the shop's own, ``chosen`` our field by heading."""
    picks = {heading.strip().casefold(): field for field, heading in (chosen or {}).items()}
    values = [
        [row[at] for row in examples if at < len(row) and row[at].strip()] for at in range(len(headings))
    ]
    taken: dict[int, ReportColumn] = {}
    for at, heading in enumerate(headings):
        field = picks.get(heading.strip().casefold())
        if field is not None:
            field = "" if field == "nothing" else field
            taken[at] = ReportColumn(at, heading, field, 1.0, said_by(heading)[2], chosen=True)
    used = {one.field for one in taken.values()}
    for score, at, field in sorted(_scores(headings, values, skus), key=lambda each: (-each[0], each[1])):
        if at in taken or (field in used and field not in ADDING):
            continue
        taken[at] = ReportColumn(at, headings[at], field, score, said_by(headings[at])[2])
        used.add(field)
    columns = [taken.get(at, ReportColumn(at, heading)) for at, heading in enumerate(headings)]
    return _settled(ReportMapping(tuple(columns)), values)


def _scores(
    headings: Sequence[str], values: Sequence[Sequence[str]], skus: Collection[str]
) -> list[tuple[float, int, str]]:
    found = []
    for at, heading in enumerate(headings):
        ours = [value for value in values[at] if value in skus]
        for field in REPORT.fields:
            score = _with_values(field, covers(field, heading), values[at])
            if field.name == "sku" and ours and len(ours) >= 0.4 * len(values[at]):
                score = max(score, 0.96)
            if score >= LIKELY:
                found.append((score, at, field.name))
    return found


def _with_values(field: Field, score: float, values: Sequence[str]) -> float:
    """The score of a heading, with what the values below it say for or against the field."""
    if not score or not values:
        return score
    test = _FITS.get(field.looks)
    if test is None:
        return score
    share = sum(map(test, values)) / len(values)
    if share >= 0.75:
        return score + (1 - score) * 0.2
    return score * 0.3 if share <= 0.25 else score


def _is_amount(text: str) -> bool:
    return amount_of(text, ".") is not None or amount_of(text, ",") is not None


_FITS = {
    "date": lambda text: day_of(text) is not None or (day_of(text.replace("/", ".")) is not None),
    "money": _is_amount,
    "count": lambda text: bool(_COUNT.fullmatch(text.strip())),
    "currency": lambda text: text.strip().casefold() in CURRENCIES or text.strip() in "£€$",
    "code": lambda text: len(text) <= 60 and text.count(" ") <= 3,
    "title": lambda text: bool(_LETTERS.search(text)) and not _is_amount(text),
    "words": lambda text: bool(_LETTERS.search(text)) and not _is_amount(text),
}


def _settled(mapping: ReportMapping, values: Sequence[Sequence[str]]) -> ReportMapping:
    """The columns once each is seen beside the others: what one word means depends on its neighbours."""
    fields = {one.field: one.index for one in mapping.columns if one.field}
    turn: dict[int, str] = {}
    if "kind" not in fields and "status" in fields and _tells_kinds(values[fields["status"]]):
        turn[fields["status"]] = "kind"
    if "kind" not in fields and "what" in fields and _tells_kinds(values[fields["what"]]):
        turn[fields["what"]] = "kind"
    if "sku" not in fields and "identifier" in fields and "title" not in fields and "order" in fields:
        turn[fields["identifier"]] = "sku"
    columns = [replace(one, field=turn.get(one.index, one.field)) for one in mapping.columns]
    return ReportMapping(tuple(columns))


def _tells_kinds(values: Sequence[str]) -> bool:
    """Whether the words tell rows of money apart, not only sales from cancelled ones."""
    kinds = [kind_of(value) for value in values]
    telling = {RowKind.FEE, RowKind.REFUND, RowKind.PAYMENT, RowKind.ADVERT, RowKind.CANCELLED}
    return bool(telling & set(kinds)) and sum(map(bool, kinds)) >= 0.7 * len(kinds)
