"""`hundredfold plan`: which listing goes where on which day, and why."""

from collections.abc import Sequence
from datetime import UTC, datetime
from itertools import groupby

from hundredfold.cli.month import DaysOption, StartOption
from hundredfold.cli.options import HERE, JsonOption, ShopOption
from hundredfold.cli.printing import print_findings, print_json, say, say_folded
from hundredfold.cli.watching import ProgressDisplay
from hundredfold.kernel.errors import ExitCode


def run(
    shop: ShopOption = HERE, start: StartOption = None, days: DaysOption = None, as_json: JsonOption = False
) -> ExitCode:
    """Show what a month would send to which channel on which day. No file is made, and no plan changes.

    What was planned before keeps its day. Why a listing has its day:  hundredfold why LISTING

    Example:  hundredfold plan --shop my-shop --days 7
    """
    from hundredfold.workshop.month.run import Telling, default_start, prepare, summary_of
    from hundredfold.workshop.shop.bench import bench  # lazily: image libraries load slowly

    with bench(shop, "plan") as tools, ProgressDisplay(quiet=as_json) as watching:
        first = start.date() if start else default_start(tools, datetime.now(UTC).astimezone().date())
        telling = Telling(watching.stage, watching.progress)
        count = days or tools.shop.settings.month_days
        prepared = prepare(tools, tools.runner(), first, count, telling, look_only=True)
        tools.end(prepared.counts)
    paths = {offer.design.id: offer.design.path for offer in prepared.offers.values()}
    rows = [
        (
            listing.day.isoformat(),
            listing.key.channel,
            listing.action.value,
            listing.key.blank,
            paths.get(listing.key.design, listing.key.design),
            ", ".join(listing.colours),
            listing.reason,
        )
        for listing in prepared.plan.listings
    ]
    if as_json:
        names = ("day", "channel", "action", "blank", "design", "colours", "reason")
        left = {str(key): why for key, why in prepared.plan.why_left.items()}
        print_json({"plan": [dict(zip(names, row, strict=True)) for row in rows], "left over": left})
    else:
        _tell(rows)
        print_findings(prepared.findings)
        say_folded(*summary_of(prepared))
    return ExitCode.DONE


def _tell(rows: Sequence[tuple[str, ...]]) -> None:
    """A block for each pack: a line a listing, its colours folded below it."""
    for (day, channel), listings in groupby(rows, key=lambda row: (row[0], row[1])):
        say("", f"{day}, {channel}")
        for _, _, action, blank, design, colours, _ in listings:
            name = design.removeprefix("designs/")
            say_folded(f"  {action:<6} {blank:<14} {name}" + (f" ({colours})" if colours else ""))
    if rows:
        say("")
