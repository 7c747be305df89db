"""`hundredfold plan`: which listing goes where on which day, and why."""

from collections.abc import Sequence
from datetime import UTC, datetime
from itertools import groupby
from pathlib import Path
from typing import TYPE_CHECKING

from hundredfold.cli.month import DaysOption, StartOption
from hundredfold.cli.options import HERE, JsonOption, ShopOption
from hundredfold.cli.printing import print_findings, print_json, say, say_folded
from hundredfold.cli.watching import ProgressDisplay
from hundredfold.kernel.errors import ExitCode, ShopError

if TYPE_CHECKING:
    from hundredfold.workshop.records.month import PlannedLine, PlanRecord


def run(
    shop: ShopOption = HERE, start: StartOption = None, days: DaysOption = None, as_json: JsonOption = False
) -> ExitCode:
    """Show what a month would send to which channel on which day. No file is made, and no plan changes.

    What was planned before keeps its day. Why a listing has its day:  hundredfold why LISTING

    While another run works on the shop, it is the plan that was kept last.

    Example:  hundredfold plan --shop my-shop --days 7
    """
    from hundredfold.workshop.records.shape import as_json as document
    from hundredfold.workshop.steps.packfiles import finding_from_json

    plan = _plan(shop, start, days, as_json)
    if as_json:
        print_json(document(plan))
        return ExitCode.DONE
    _tell(plan.plan)
    print_findings(finding_from_json(document(one)) for one in plan.findings)
    say_folded(*plan.summary)
    if plan.as_of:
        say_folded(plan.as_of.note)
    return ExitCode.DONE


def _plan(shop: Path, start: datetime | None, days: int | None, quiet: bool) -> "PlanRecord":
    """The plan made now; while another run works on the shop, the one that was kept last."""
    from hundredfold.workshop.month.preparing import Telling
    from hundredfold.workshop.month.run import default_start, look_ahead
    from hundredfold.workshop.shop.bench import bench  # lazily: image libraries load slowly
    from hundredfold.workshop.shop.desk import Turn
    from hundredfold.workshop.views.months import plan_view

    try:
        with bench(shop, "plan", turn=Turn.RUN) as tools, ProgressDisplay(quiet=quiet) as watching:
            first = start.date() if start else default_start(tools, datetime.now(UTC).astimezone().date())
            telling = Telling(watching.stage, watching.progress)
            return look_ahead(tools, first, days or tools.shop.settings.month_days, telling)
    except ShopError as error:
        kept = plan_view(shop) if error.slug == "shop-in-use" else None
        if kept is None:
            raise
        return kept


def _tell(lines: Sequence["PlannedLine"]) -> None:
    """A block for each pack: a line a listing, its colours folded below it."""
    for (day, channel), listings in groupby(lines, key=lambda one: (one.day, one.channel)):
        say("", f"{day}, {channel}")
        for one in listings:
            colours = f" ({', '.join(one.colours)})" if one.colours else ""
            say_folded(f"  {one.action:<6} {one.blank:<14} {one.design.removeprefix('designs/')}{colours}")
    if lines:
        say("")
