"""`hundredfold month`: prepare the month, from designs to packs."""

from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from hundredfold.cli.options import HERE, JsonOption, ShopOption
from hundredfold.cli.printing import print_findings, print_json, say, say_folded
from hundredfold.cli.watching import ProgressDisplay
from hundredfold.kernel.errors import ExitCode

if TYPE_CHECKING:
    from hundredfold.workshop.month.closing import MonthReport

StartOption = Annotated[
    datetime | None,
    typer.Option(
        formats=["%Y-%m-%d"],
        metavar="YYYY-MM-DD",
        help="First day; without it, what shop.toml says, else tomorrow.",
        show_default=False,
    ),
]
DaysOption = Annotated[
    int | None, typer.Option(min=1, max=366, help="How many days.", show_default="from shop.toml, else 30")
]
RehashOption = Annotated[
    bool, typer.Option("--rehash", help="Read every file again instead of trusting its date and size.")
]


def run(
    shop: ShopOption = HERE,
    start: StartOption = None,
    days: DaysOption = None,
    rehash: RehashOption = False,
    as_json: JsonOption = False,
) -> ExitCode:
    """Prepare the month: judge, picture, price and word every design, and write each day's packs.

    Run it as often as you like: only what changed is made again. Stopped half-way, it goes on from there.

    Example:  hundredfold month --shop my-shop --start 2027-01-01
    """
    from hundredfold.workshop.month.preparing import Telling
    from hundredfold.workshop.month.run import default_start, month
    from hundredfold.workshop.shop.bench import bench  # lazily: image libraries load slowly
    from hundredfold.workshop.shop.desk import Turn

    with (
        bench(shop, "month", rehash, turn=Turn.RUN) as tools,
        ProgressDisplay(quiet=as_json) as watching,
    ):
        first = start.date() if start else default_start(tools, datetime.now(UTC).astimezone().date())
        telling = Telling(watching.stage, watching.progress, watching.pack_done)
        report = month(tools, first, days or tools.shop.settings.month_days, telling)
    if as_json:
        print_json(report_as_json(report, shop))
    else:
        tell(report, shop)
    return ExitCode.PROBLEMS if report.problems else ExitCode.DONE


def tell(report: "MonthReport", shop: Path) -> None:
    """The month in a few lines, problems last so that they are seen."""
    say_folded(*report.summary)
    print_findings(report.to_do)
    if report.packs:
        say(f"packs are in {shop / 'packs'}")
    say(report.counts.line())


def report_as_json(report: "MonthReport", shop: Path) -> dict[str, object]:
    """The same for programs."""
    counts = report.counts
    return {
        "shop": str(shop),
        "packs": [str(key) for key in report.packs],
        "counts": {"made": counts.made, "reused": counts.reused, "failed": counts.failed},
        "summary": list(report.summary),
        "findings": [finding.as_json() for finding in report.to_do],
        "problems": report.problems,
    }
