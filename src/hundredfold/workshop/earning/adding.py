"""Takes a report of sales, money, adverts, views or a partner's bill into the shop's record.

Start: ``add_report``.
"""

import hashlib
import json
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from pathlib import Path

from hundredfold.catalogue.channels import Channel
from hundredfold.kernel.errors import ShopError, Where
from hundredfold.kernel.findings import Finding
from hundredfold.kernel.nearest import did_you_mean
from hundredfold.ledger.state import LedgerState
from hundredfold.results.cellreading import ReadAs, ReportCells
from hundredfold.results.checks import AMOUNTS, DATES, FORM, UNKNOWN
from hundredfold.results.dates import DateOrder
from hundredfold.results.entries import OrderItem
from hundredfold.results.fieldwords import REPORT
from hundredfold.results.forms import ReportForm, form_of
from hundredfold.results.mapping import ReportColumn, ReportMapping, map_columns
from hundredfold.results.reading import Kept, RowsTold, read_rows
from hundredfold.results.survey import Section, Survey, look_through, words_of
from hundredfold.results.typewords import RowKind
from hundredfold.workshop.earning.reportfile import ReportFile, open_report
from hundredfold.workshop.shop.channelfiles import channel_of
from hundredfold.workshop.shop.desk import Desk

_COMMA = (
    "de",
    "fr",
    "es",
    "it",
    "nl",
    "pt",
    "pl",
    "sv",
    "da",
    "nb",
    "fi",
    "cs",
)  # languages that write 1,5 (CLDR)
_TOLD_SKUS = 20


@dataclass(frozen=True)
class ReportHints:
    """What the seller says of a report; it is remembered for the channel's next one of the same headings."""

    columns: Mapping[str, str] = field(default_factory=dict)  # our field -> heading
    words: Mapping[str, str] = field(default_factory=dict)  # a type's word -> kind
    order: DateOrder | None = None
    currency: str = ""
    day: str = ""
    bill: bool = False


AS_IT_IS = ReportHints()


@dataclass(frozen=True)
class Added:
    """What a report brought, and how it was read."""

    file: str
    channel: str
    form: str
    columns: tuple[ReportColumn, ...]
    new: int
    changed: int
    known: int
    rows: int
    unusable: int
    moved: int
    findings: tuple[Finding, ...]
    seen_before: bool = False


def add_report(
    desk: Desk, file: Path, channel: str = "", asked: ReportHints = AS_IT_IS, today: date | None = None
) -> Added:
    """Read a report in. ReadAs it again changes nothing; rows that cannot be used are told.

    Raises ShopError ``unknown-channel``, ``which-channel``, ``no-such-column``, ``bad-column``, and what
    opening the file raises. Nothing is kept where it raises.
    """
    code = channel_of(desk.shop, channel)
    report = open_report(file, tuple(asked.columns.values()))
    state = desk.ledger()
    known = frozenset(state.owners)
    remembered = _Memory(desk, code, report.head[report.top])
    asked = remembered.with_earlier(asked, file.name)
    headings = report.head[report.top]

    def mapped(cells: Sequence[str], examples: Sequence[Sequence[str]] = ()) -> ReportMapping:
        return map_columns([cell.strip() for cell in cells], examples, known, asked.columns)

    first = mapped(headings, report.head[report.top + 1 : report.top + 200])
    form = _form(first, asked, file.name)
    survey = look_through(report.rows(), Section(report.top + 1, first), mapped)
    how, findings = _how(survey, desk.shop.channel(code), asked, today, file.name, state)
    told = RowsTold(file.name)
    kept = _Kept(_read(report, survey, form, how, told), known)
    digest = hashlib.sha256(f"{report.digest} {remembered.text(asked)} {code}".encode()).hexdigest()
    if desk.store.sales.has_file(digest):
        return Added(
            file.name, code, form.value, first.columns, 0, 0, survey.rows, survey.rows, 0, 0, (), True
        )
    taken = desk.store.sales.take(code, file.name, digest, kept, form is not ReportForm.MONEY)
    remembered.keep(asked)
    findings += [*told.findings(), *_about_form(survey, kept.again, file.name), *kept.findings(file.name)]
    return Added(
        file.name, code, form.value, first.columns, taken.new, taken.changed, taken.known, survey.rows,
        told.trouble_rows, told.moved, tuple(findings),
    )  # fmt: skip


def _form(mapping: ReportMapping, asked: ReportHints, name: str) -> ReportForm:
    form = form_of(mapping, asked.bill)
    dated = mapping.has("date") or bool(asked.day)
    if form is not None and dated:
        return form
    missing = "a column of days" if form is not None else "columns of amounts"
    unused = ", ".join(one.heading for one in mapping.columns if not one.field and one.heading)
    fix = 'say which it is, like --column "date=Booked on"' + (
        "" if form is None else ", or the day: --day 2027-01-31"
    )
    raise ShopError(
        "no-such-column", f"{missing} cannot be told; not understood: {unused or 'none'}", fix, Where(name)
    )


def _read(
    report: ReportFile, survey: Survey, form: ReportForm, how: ReadAs, told: RowsTold
) -> Iterator[Kept]:
    """All sections, one after another; totals and repeated headings are left out."""
    left_out = {*survey.totals, *survey.again}
    rows = report.rows()
    for place, section in enumerate(survey.sections):
        last = survey.sections[place + 1].headings_row if place + 1 < len(survey.sections) else None
        here = form if not place else form_of(section.mapping, form is ReportForm.BILL) or form
        how = replace(how, currency=section.mapping.currency or how.currency)
        yield from read_rows(here, ReportCells(section.mapping, how), _until(rows, last, left_out), told)


def _until(
    rows: Iterator[tuple[int, Sequence[str]]], last: int | None, left_out: set[int]
) -> Iterator[tuple[int, Sequence[str]]]:
    for number, cells in rows:
        if number == last:
            return
        if number not in left_out and any(cells):
            yield number, cells


def _how(
    survey: Survey, channel: Channel, asked: ReportHints, today: date | None, name: str, state: LedgerState
) -> tuple[ReadAs, list[Finding]]:
    """How the cells are read, and what was not certain about it."""
    findings = []
    month_first = channel.language in ("en-US", "en-PH")
    usual = DateOrder.MONTH_FIRST if month_first else DateOrder.DAY_FIRST
    order = asked.order or survey.dates.order(usual, today)
    if asked.order is None and survey.dates.both:
        votes = survey.dates
        what = (
            f"{votes.day_first} dates can only be read day first and {votes.month_first} only month first; "
            f"they were read {order.value}, and the others are left out"
        )
        fix = "ask the channel for the report in one form, or put the two kinds into files of their own"
        findings.append(DATES.finds("contradiction", name, what, fix))
    elif asked.order is None and survey.dates.unsure:
        fix = "if that is wrong, add it with --dates day-first or --dates month-first"
        findings.append(
            DATES.finds("guessed", name, f"no date tells its order; they were read {order.value}", fix)
        )
    mark = survey.marks.mark("," if channel.language[:2] in _COMMA else ".")
    if survey.marks.both:
        marks = survey.marks
        what = (
            f"{marks.point} amounts have a decimal point and {marks.comma} a decimal comma; read "
            f"with {mark!r}"
        )
        fix = "check the amounts, and save the report from one place only"
        findings.append(AMOUNTS.finds("marks", name, what, fix))
    whole = survey.price_is_total(mark)
    if whole is None and any(units.strip() not in ("", "0", "1") for _, units, _ in survey.prices):
        what = (
            "no SKU shows whether a price is for one piece or for all of its row; it was taken for one piece"
        )
        fix = 'if it is for all: add it with --column "paid=" and the heading of the price'
        findings.append(AMOUNTS.finds("price-guessed", name, what, fix))
    kinds = ("fee", "payment", "advert", "refund", "postage", "discount", "base cost")
    negative = frozenset(kind for kind in kinds if survey.negative(kind))
    numbers = {number: sku for sku, number in state.identifiers.items() if number}
    words = _words(asked)
    currency = asked.currency or survey.sections[0].mapping.currency or channel.currency
    how = ReadAs(
        mark, order, currency, asked.day, bool(whole), survey.types_in_what, negative, words, numbers
    )
    return how, findings


def _words(asked: ReportHints) -> dict[str, RowKind]:
    try:
        return words_of(asked.words)
    except ValueError as error:
        kinds = [kind.value for kind in RowKind if kind]
        bad = next((each for each in asked.words.values() if each not in kinds), str(error))
        raise ShopError("bad-column", f"there is no kind of row {bad!r}", did_you_mean(bad, kinds)) from None


def _about_form(survey: Survey, again: int, name: str) -> Iterator[Finding]:
    if survey.totals:
        what = f"{len(survey.totals)} rows of totals were left out (row {survey.totals[0]})"
        yield FORM.finds("totals-left-out", name, what, "nothing, if they are totals")
    if survey.again:
        moved = f", {len(survey.sections) - 1} of them other ones" if len(survey.sections) > 1 else ""
        what = f"{len(survey.again)} further rows of headings were found{moved} (row {survey.again[0]})"
        yield FORM.finds("headings-again", name, what, "nothing: the rows below were read by them")
    if again:
        what = f"{again} rows tell of an order's item that an earlier row told of; the later counts"
        fix = (
            'nothing, if they are corrections; a number of the item tells them apart: --column "item=HEADING"'
        )
        yield FORM.finds("item-again", name, what, fix)


class _Kept:
    """What goes to the store, watched on its way: items told twice, SKUs nobody knows."""

    def __init__(self, kept: Iterator[Kept], known: frozenset[str]) -> None:
        self._kept, self._known = kept, known
        self._keys: set[str] = set()
        self._unknown: dict[str, int] = {}
        self.again = 0

    def __iter__(self) -> Iterator[Kept]:
        keys, known, unknown = self._keys, self._known, self._unknown
        for one in self._kept:
            if isinstance(one, OrderItem):
                before = len(keys)
                keys.add(one.key)
                self.again += len(keys) == before
                if one.sku not in known:
                    unknown[one.sku] = unknown.get(one.sku, 0) + 1
            yield one

    def findings(self, name: str) -> Iterator[Finding]:
        """The SKUs nobody knows, those that sold most first."""
        if not self._known:
            return
        ranked = sorted(self._unknown.items(), key=lambda each: (-each[1], each[0]))
        for sku, count in ranked[:_TOLD_SKUS]:
            what = (
                f"{count} sales are of {sku or 'no SKU'}, which is none of this shop's; they are kept aside"
            )
            fix = f"tie it to one of yours: hundredfold sales tie {sku or 'SKU'} YOUR-SKU"
            yield UNKNOWN.finds("sku", sku or name, what, fix, {"sales": count})
        if len(ranked) > _TOLD_SKUS:
            rest = sum(count for _, count in ranked[_TOLD_SKUS:])
            what = f"{rest} sales are of {len(ranked) - _TOLD_SKUS} further SKUs that are none of this shop's"
            yield UNKNOWN.finds("sku", name, what, "sales report --unknown lists them all")


class _Memory:
    """What was said of reports with these headings, in the record's settings."""

    def __init__(self, desk: Desk, channel: str, headings: Sequence[str]) -> None:
        form = hashlib.sha256("\n".join(headings).encode()).hexdigest()[:12]
        self._desk, self._name = desk, f"columns sales {channel} {form}"

    def with_earlier(self, asked: ReportHints, file: str) -> ReportHints:
        fields = {one.name for one in REPORT.fields} | {"nothing"}
        for name in asked.columns:
            if name not in fields:
                fix = did_you_mean(name, sorted(fields))
                raise ShopError("bad-column", f"there is no field {name}", fix, Where(file))
        held = self._desk.store.setting(self._name)
        old = held if isinstance(held, dict) else {}
        order = asked.order or (DateOrder(old["order"]) if old.get("order") else None)
        return ReportHints(
            {**old.get("columns", {}), **asked.columns},
            {**old.get("words", {}), **asked.words},
            order,
            asked.currency or old.get("currency", ""),
            asked.day,
            asked.bill or bool(old.get("bill")),
        )

    def text(self, asked: ReportHints) -> str:
        return json.dumps(self._shape(asked) | {"day": asked.day}, sort_keys=True)

    def keep(self, asked: ReportHints) -> None:
        shape = {name: value for name, value in self._shape(asked).items() if value}
        if shape and shape != self._desk.store.setting(self._name):
            self._desk.store.set_setting(self._name, shape)

    def _shape(self, asked: ReportHints) -> dict[str, object]:
        return {
            "columns": dict(asked.columns),
            "words": dict(asked.words),
            "order": asked.order.value if asked.order else "",
            "currency": asked.currency,
            "bill": asked.bill,
        }
