"""`hundredfold statement`: a month's or a year's profit and loss, for whoever does the books."""

from pathlib import Path
from typing import Annotated

import typer

from hundredfold.cli.options import HERE, JsonOption, ShopOption
from hundredfold.cli.printing import print_json, print_table, say, say_folded
from hundredfold.kernel.errors import ExitCode


def run(
    month: Annotated[str, typer.Option(metavar="YYYY-MM", help="The month it is of.")] = "",
    year: Annotated[str, typer.Option(metavar="YYYY", help="Or the year.")] = "",
    to: Annotated[
        Path | None,
        typer.Option(metavar="DIR", help="Where the files go; else reports/.", show_default=False),
    ] = None,
    shop: ShopOption = HERE,
    as_json: JsonOption = False,
) -> ExitCode:
    """Write the profit and loss of a month or a year by channel, as a workbook and a PDF.

    Every sum can be followed to each order line, and from there to the report and row it came from. Only what
    reports and bills told is in it. It is no tax return.

    Example:  hundredfold statement --month 2027-01
    """
    from hundredfold.workshop.earning.stating import statement_of, statement_view, write_statement
    from hundredfold.workshop.records.shape import as_json as shape

    statement = statement_of(shop, month, year)
    files = write_statement(statement, to or shop / "reports")
    view = statement_view(statement)
    if as_json:
        print_json({**shape(view), "files": [str(file) for file in files]})
        return ExitCode.DONE
    rows = [
        (one.channel, one.currency, str(one.pieces), str(one.lines), one.sold, one.profit)
        for one in view.parts
    ]
    print_table(
        ("channel", "in", "pieces", "lines", "sold", "profit"), rows, f"{view.shop}, {view.title}", "  rrrr"
    )
    say_folded(*view.caution)
    say(*(f"written: {file}" for file in files))
    return ExitCode.DONE
