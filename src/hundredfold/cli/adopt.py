"""`hundredfold adopt`: take in what is already live."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from hundredfold.cli.answer import ChannelOption, ColumnOption
from hundredfold.cli.options import HERE, JsonOption, ShopOption
from hundredfold.cli.printing import print_findings, print_json, say
from hundredfold.kernel.counting import counted
from hundredfold.kernel.errors import ExitCode

if TYPE_CHECKING:
    from hundredfold.planning.adoption import Adoption


def run(
    file: Annotated[Path, typer.Argument(metavar="FILE", help="A CSV or workbook of what is live now.")],
    channel: ChannelOption = "",
    column: ColumnOption = None,
    sku_pattern: Annotated[
        str,
        typer.Option(
            "--sku-pattern",
            metavar="PATTERN",
            help="How your SKUs are made, like {blank}-{design}-{colour}; {any} is a word of no meaning.",
            show_default=False,
        ),
    ] = "",
    shop: ShopOption = HERE,
    as_json: JsonOption = False,
) -> ExitCode:
    """Take in listings that are live already, so that they are never planned again as new.

    The columns are found by their headers: SKU, title, blank, colour, size, design, identifier; only SKU must
    be there. A row's blank and design are told by its columns, its SKU or its title; rows that cannot be told
    are listed and left out. The same file may be adopted again.

    Example:  hundredfold adopt reports/live.csv --channel north
    """
    from hundredfold.workshop.handover.adopting import adopt_file  # lazily: image libraries load slowly
    from hundredfold.workshop.shop.bench import bench
    from hundredfold.workshop.shop.channelfiles import columns_from

    with bench(shop, "adopt") as tools:
        found, decision = adopt_file(tools, file, channel, columns_from(column or []), sku_pattern)
    _tell(found, decision, as_json)
    return ExitCode.PROBLEMS if found.findings else ExitCode.DONE


def _tell(found: "Adoption", decision: int, as_json: bool) -> None:
    if as_json:
        print_json(
            {
                "adopted": len(found.events),
                "decision": decision or None,
                "listings": found.listings,
                "known": found.known,
                "not_live": found.not_live,
                "findings": [finding.as_json() for finding in found.findings],
            }
        )
        return
    print_findings(found.findings)
    rows = f"adopted {counted(len(found.events), 'row')} as {counted(found.listings, 'listing')}"
    say(f"{rows}; known already {found.known}, not live {found.not_live}, not told {len(found.findings)}")
    if decision:
        say(f"to take it back: hundredfold undo {decision}")
