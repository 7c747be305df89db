"""`hundredfold answer`: read a channel's acceptance file."""

from pathlib import Path
from typing import Annotated

import typer

from hundredfold.cli.options import HERE, JsonOption, ShopOption
from hundredfold.cli.printing import print_findings, print_json, say
from hundredfold.kernel.errors import ExitCode

ChannelOption = Annotated[
    str,
    typer.Option(
        "--channel", metavar="CODE", help="The channel it is from; not needed with one.", show_default=False
    ),
]
ColumnOption = Annotated[
    list[str] | None,
    typer.Option(
        "--column",
        metavar="FIELD=HEADER",
        help='Which column is which, where the header differs: sku="Your ref". It is remembered.',
        show_default=False,
    ),
]


def run(
    file: Annotated[Path, typer.Argument(metavar="FILE", help="The channel's CSV or workbook.")],
    channel: ChannelOption = "",
    column: ColumnOption = None,
    word: Annotated[
        list[str] | None,
        typer.Option(
            "--word",
            metavar="WORD=OUTCOME",
            help='What a word of the channel means: "on the stall=accepted". It is remembered.',
            show_default=False,
        ),
    ] = None,
    shop: ShopOption = HERE,
    as_json: JsonOption = False,
) -> ExitCode:
    """Read what a channel accepted and refused, with its reasons and its own numbers.

    The columns are found by their headers (SKU, status, reason, identifier), or by what stands below them.
    The same file may be read again.

    Example:  hundredfold answer reports/accepted.csv --channel north
    """
    from hundredfold.workshop.handover.answering import answer  # lazily: the database loads slowly
    from hundredfold.workshop.shop.channelfiles import columns_from
    from hundredfold.workshop.shop.desk import beside

    with beside(shop, "answer") as opened:
        found = answer(opened, file, channel, columns_from(column or []), columns_from(word or []))
    if as_json:
        print_json(
            {
                "accepted": found.accepted,
                "refused": found.refused,
                "known": found.known,
                "reasons": [
                    {"reason": one.reason, "skus": list(one.skus), "shared": list(one.shared)}
                    for one in found.reasons
                ],
                "findings": [finding.as_json() for finding in found.findings],
            }
        )
    else:
        print_findings(found.findings)
        for one in found.reasons:
            say(f"  {len(one.skus)} refused: {one.reason or 'no reason given'}")
        say(f"accepted {found.accepted}, refused {found.refused}, known already {found.known}")
    return ExitCode.PROBLEMS if found.findings else ExitCode.DONE
