"""`hundredfold sales`: read reports of what was sold, show what it earned, tie SKUs that are not ours."""

from datetime import date
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from hundredfold.cli.answer import ChannelOption
from hundredfold.cli.options import HERE, JsonOption, ShopOption
from hundredfold.cli.printing import (
    complain,
    print_findings,
    print_json,
    print_table,
    say,
    say_folded,
    say_list,
)
from hundredfold.kernel.errors import ExitCode, ShopError

if TYPE_CHECKING:
    from hundredfold.workshop.earning.adding import Added
    from hundredfold.workshop.records.earned import EarnedRecord, SalesView

ColumnOption = Annotated[
    list[str] | None,
    typer.Option(
        "--column",
        metavar="FIELD=HEADER",
        help='Which column is which, if not understood: "paid=Takings", "nothing=Profit". Remembered.',
        show_default=False,
    ),
]
WordOption = Annotated[
    list[str] | None,
    typer.Option(
        "--word",
        metavar="WORD=KIND",
        help='What a type of row means: "sundry=fee", of sale, refund, fee, payment, advert, postage, tax,'
        " discount, other, payout, cancelled. Remembered.",
        show_default=False,
    ),
]


class Order(StrEnum):
    """Which comes first in a date."""

    DAY_FIRST = "day-first"
    MONTH_FIRST = "month-first"


def run_add(
    files: Annotated[list[Path], typer.Argument(metavar="FILE...", help="Reports: CSV, .gz, XLSX, ODS.")],
    channel: ChannelOption = "",
    column: ColumnOption = None,
    word: WordOption = None,
    dates: Annotated[Order | None, typer.Option(help="Which comes first in a date like 03/04/2027.")] = None,
    currency: Annotated[
        str, typer.Option(metavar="CODE", help="Where no column says it, and not the channel's.")
    ] = "",
    day: Annotated[
        str, typer.Option(metavar="DATE", help="The day, where no column says it: 2027-01-31.")
    ] = "",
    bill: Annotated[
        bool, typer.Option("--bill", help="It is a bill of the partner who makes the goods.")
    ] = False,
    shop: ShopOption = HERE,
    as_json: JsonOption = False,
) -> ExitCode:
    """Read reports of orders, settlements, adverts, views or a partner's bill.

    Columns, dates and amounts are understood from the file itself. Nothing is counted twice: reports may
    overlap, and the same file may be added again. No name or address of a buyer is kept.

    Example:  hundredfold sales add reports/quayside-january.csv --channel quayside
    """
    from hundredfold.results.dates import DateOrder
    from hundredfold.workshop.earning.adding import (
        ReportHints,
        add_report,
    )  # lazily: the database loads slowly
    from hundredfold.workshop.shop.channelfiles import columns_from
    from hundredfold.workshop.shop.desk import desk

    order = DateOrder(dates.value.replace("-", " ")) if dates else None
    columns, words = columns_from(column or []), columns_from(word or [])
    asked = ReportHints(columns, words, order, currency.upper(), _day(day), bill)
    added: list[Added] = []
    errors: list[ShopError] = []
    with desk(shop, "sales add") as opened:
        for file in files:
            try:
                added.append(add_report(opened, file, channel, asked, date.today()))  # noqa: DTZ011 - the seller's day
            except ShopError as trouble:
                errors.append(trouble)
    if as_json:
        shown = [error.as_json()["error"] for error in errors]
        print_json({"files": [_document(one) for one in added], "errors": shown})
    else:
        for one in added:
            _tell(one)
        for error in errors:
            complain(error, as_json=False)
    return ExitCode.PROBLEMS if errors or any(_warns(one) for one in added) else ExitCode.DONE


def _day(text: str) -> str:
    try:
        return date.fromisoformat(text).isoformat() if text else ""
    except ValueError:
        raise ShopError("wrong-use", f"{text!r} is no day", "write it like 2027-01-31") from None


def _warns(one: "Added") -> bool:
    return any(finding.severity.word != "note" for finding in one.findings)


def _document(one: "Added") -> dict[str, object]:
    return {
        "file": one.file,
        "channel": one.channel,
        "form": one.form,
        "columns": [
            {"heading": c.heading, "field": c.field, "sure": c.sure, "score": round(c.score, 2)}
            for c in one.columns
        ],
        "new": one.new,
        "changed": one.changed,
        "known": one.known,
        "rows": one.rows,
        "unusable": one.unusable,
        "moved": one.moved,
        "seen_before": one.seen_before,
        "findings": [finding.as_json() for finding in one.findings],
    }


def _tell(one: "Added") -> None:
    if one.seen_before:
        say(f"{one.file}: read before; nothing changed")
        return
    say(
        f"{one.file}: {one.rows} rows ({one.form}): {one.new} new, {one.changed} changed, {one.known} "
        f"known already"
    )
    used = [
        f"{c.heading} = {c.field}{'' if c.sure else ' (?)'}"
        for c in one.columns
        if c.field not in ("", "private")
    ]
    say_list("  read as", used)
    left = [c.heading for c in one.columns if not c.field and c.heading]
    private = [c.heading for c in one.columns if c.field == "private"]
    if left:
        say_list("  not read", left)
    if private:
        say_list("  never kept, as it may tell of buyers", private)
    print_findings(one.findings)


class By(StrEnum):
    """What results are grouped by."""

    LISTING = "listing"
    DESIGN = "design"
    BLANK = "blank"
    COLOUR = "colour"
    NICHE = "niche"
    OCCASION = "occasion"
    CHANNEL = "channel"
    MONTH = "month"
    LAYOUT = "layout"


def run_report(
    by: Annotated[By, typer.Option(help="What a line is.")] = By.LISTING,
    first: Annotated[str, typer.Option("--from", metavar="YYYY-MM", help="The first month.")] = "",
    last: Annotated[str, typer.Option("--until", metavar="YYYY-MM", help="The last month, included.")] = "",
    lines: Annotated[
        int, typer.Option("--last", min=1, help="How many lines of the best and of the worst.")
    ] = 15,
    chart: Annotated[Path | None, typer.Option(metavar="FILE", help="Draw it as well: .svg or .png.")] = None,
    unknown: Annotated[
        bool, typer.Option("--unknown", help="Only the SKUs that belong to no listing.")
    ] = False,
    shop: ShopOption = HERE,
    as_json: JsonOption = False,
) -> ExitCode:
    """Show what was earned, beside what was planned, and why they differ.

    Costs that no report has told yet are those of the plan, marked with a star.

    Example:  hundredfold sales report --by design --from 2027-01
    """
    from hundredfold.workshop.earning.reporting import sales_view
    from hundredfold.workshop.records.shape import as_json as shape

    view = sales_view(shop, by.value, _month(first), _month(last) or "9999-12")
    if chart is not None and view.lines:
        from hundredfold.workshop.earning.charts import write_chart

        write_chart(view, chart)
    if as_json:
        print_json(shape(view))
    elif unknown:
        print_table(
            ("SKU", "pieces"), [(sku or "(none)", str(count)) for sku, count in view.untied], right=" r"
        )
    else:
        _show(view, lines)
        if chart is not None and view.lines:
            say(f"drawn: {chart}")
    return ExitCode.DONE


def _month(text: str) -> str:
    if text and not (len(text) == 7 and _is_day(f"{text}-01")):
        raise ShopError("wrong-use", f"{text!r} is no month", "write it like 2027-01")
    return text


def _is_day(text: str) -> bool:
    try:
        date.fromisoformat(text)
    except ValueError:
        return False
    return True


def _show(view: "SalesView", most: int) -> None:
    if view.total is None:
        say("nothing was sold, as far as reports tell: hundredfold sales add FILE")
        return
    lines = view.lines if len(view.lines) <= 2 * most else (*view.lines[:most], *view.lines[-most:])
    rows = [_row(one) for one in lines]
    if len(lines) < len(view.lines):
        rows.insert(most, (f"... {len(view.lines) - len(lines)} more ...", "", "", "", "", ""))
    rows.append(_row(view.total))
    headers = (view.by, "pieces", "income", "earned", "planned", "mostly by")
    title = f"{view.first} to {view.last}, {view.currency}"
    print_table(headers, rows, title, right=" rrrr ")
    if view.total.estimated:
        say_folded(f"* not told by a report yet, taken from the plan: {', '.join(view.total.estimated)}")
    if view.untied:
        pieces = sum(count for _, count in view.untied)
        say_folded(
            f"{pieces} pieces were of {len(view.untied)} SKUs that belong to no listing: sales report "
            f"--unknown"
        )
    for one in view.findings:
        say_folded(f"{one.severity}: {one.item}: {one.what}", f"  try: {one.fix}")


def _row(one: "EarnedRecord") -> tuple[str, ...]:
    why = f"{one.why[0].part} {_signed(one.why[0].amount)}" if one.why and one.planned != one.profit else ""
    star = "*" if one.estimated else ""
    return one.name, str(one.units), one.income, f"{one.profit}{star}", one.planned, why


def _signed(amount: str) -> str:
    return amount if amount.startswith("-") else f"+{amount}"


def run_tie(
    sku: Annotated[str, typer.Argument(metavar="SKU", help="As the report has it.")],
    ours: Annotated[
        str, typer.Argument(metavar="OURS", help="A SKU of this shop; without it, the tie is undone.")
    ] = "",
    shop: ShopOption = HERE,
    as_json: JsonOption = False,
) -> ExitCode:
    """Tie a SKU that reports know to a listing of this shop, so that its sales count there.

    Example:  hundredfold sales tie OLD-BEE-1 PG-7GQ2K4XA
    """
    from hundredfold.workshop.earning.whose import tie
    from hundredfold.workshop.shop.desk import desk

    with desk(shop, "sales tie") as opened:
        tie(opened.store, opened.ledger(), sku, ours)
    if as_json:
        print_json({"sku": sku, "ours": ours})
    else:
        say(f"{sku} is {ours} from now on, and was before" if ours else f"{sku} is tied to nothing any more")
    return ExitCode.DONE
