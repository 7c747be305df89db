"""`hundredfold plan`: which listing goes where on which day, and why."""

from datetime import UTC, datetime

from hundredfold.cli.month import DaysOption, StartOption
from hundredfold.cli.options import HERE, JsonOption, ShopOption
from hundredfold.cli.printing import print_findings, print_json, print_table, say
from hundredfold.cli.watching import Progress
from hundredfold.kernel.errors import ExitCode


def run(
    shop: ShopOption = HERE, start: StartOption = None, days: DaysOption = None, as_json: JsonOption = False
) -> ExitCode:
    """Plan the month without making any file: what goes to which channel on which day, with the reason.

    What was planned before keeps its day. `month` makes what is planned.

    Example:  hundredfold plan --shop my-shop --days 7
    """
    from hundredfold.workshop.bench import bench  # lazily: image libraries load slowly
    from hundredfold.workshop.month import Telling, default_start, prepare, summary_of

    with bench(shop, "plan") as tools, Progress(quiet=as_json) as watching:
        first = start.date() if start else default_start(tools, datetime.now(UTC).astimezone().date())
        telling = Telling(watching.stage, watching.progress)
        count = days or tools.shop.settings.month_days
        prepared = prepare(tools, tools.runner(), first, count, telling)
        tools.end(prepared.counts)
    paths = {design.id: design.path for design in prepared.gathered.designs}
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
        print_table(("Day", "Channel", "Action", "Blank", "Design", "Colours", "Why"), rows)
        print_findings(prepared.findings)
        say(*summary_of(prepared))
    return ExitCode.DONE
