"""`hundredfold demo`: the whole job on the invented sample shop."""

from datetime import datetime
from pathlib import Path
from typing import Annotated

import typer

from hundredfold.cli import month
from hundredfold.cli.options import JsonOption
from hundredfold.cli.printing import say
from hundredfold.kernel.errors import ExitCode

DEMO_DAYS = 7  # enough to see everything, in a few minutes


def run(
    folder: Annotated[
        Path,
        typer.Argument(metavar="DIR", help="Where to make it; gone on with if it is there."),
    ] = Path("demo-shop"),
    start: month.StartOption = None,
    days: Annotated[int, typer.Option(min=1, max=366, help="How many days to prepare.")] = DEMO_DAYS,
    as_json: JsonOption = False,
) -> ExitCode:
    """Make the sample shop and prepare its first week, so that you see what comes out.

    For the whole month:  hundredfold month --shop demo-shop --start 2027-01-01

    Example:  hundredfold demo
    """
    from hundredfold.workshop.shop.newshop import new_shop  # lazily: image libraries load slowly

    if not (folder / "shop.toml").is_file():
        new_shop(folder, sample=True)
    first = start or datetime(2027, 1, 1)  # noqa: DTZ001 - a date; fixed, so that demos are alike
    answer = month.run(folder, first, days, False, as_json)
    report = _imagined(folder, first)
    if not as_json:
        if report is not None:
            say(
                f"sales to look at, all imagined: hundredfold sales add {report} --channel quayside "
                f"--shop {folder}"
            )
        say("look inside: a table, the art, the pictures and a manifest for each channel and day")
        say(f"or by looking, in the browser: hundredfold open --shop {folder}")
    return answer


def _imagined(folder: Path, first: datetime) -> Path | None:
    from hundredfold.workshop.earning.imagined import imagine_report
    from hundredfold.workshop.shop.desk import desk

    with desk(folder, "demo") as opened:
        return imagine_report(opened, "quayside", first.date())
