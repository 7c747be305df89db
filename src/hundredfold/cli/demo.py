"""`hundredfold demo`: the whole job on the invented sample shop."""

from datetime import datetime
from pathlib import Path
from typing import Annotated

import typer

from hundredfold.cli import month
from hundredfold.cli.options import JsonOption
from hundredfold.cli.printing import say
from hundredfold.kernel.errors import ExitCode


def run(
    folder: Annotated[
        Path,
        typer.Argument(metavar="DIR", help="Where to make it; gone on with if it is there."),
    ] = Path("demo-shop"),
    start: month.StartOption = None,
    as_json: JsonOption = False,
) -> ExitCode:
    """Make the sample shop and prepare its month, so that you see what comes out.

    Example:  hundredfold demo
    """
    from hundredfold.workshop.newshop import new_shop  # lazily: image libraries load slowly

    if not (folder / "shop.toml").is_file():
        new_shop(folder, sample=True)
    first = start or datetime(2027, 1, 1)  # noqa: DTZ001 - a date; fixed, so that demos are alike
    answer = month.run(folder, first, None, False, as_json)
    if not as_json:
        say("look inside: a table, the art, the pictures and a manifest for each channel and day")
    return answer
