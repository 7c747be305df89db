"""`hundredfold explain`: what a check looks at, why it matters, and how to fix what it finds."""

from typing import Annotated

import typer

from hundredfold.cli.options import HERE, JsonOption, ShopOption
from hundredfold.cli.printing import print_json, print_table, say
from hundredfold.kernel.errors import ExitCode


def run(
    check: Annotated[
        str,
        typer.Argument(
            metavar="[CHECK]",
            help="A check like blank/outline-contrast; without it, all are listed.",
            show_default=False,
        ),
    ] = "",
    shop: ShopOption = HERE,
    as_json: JsonOption = False,
) -> ExitCode:
    """Explain a check: what it looks at, why it matters, how to fix what it finds, its limits and source.

    In a shop folder, the limits shown are the shop's own.

    Example:  hundredfold explain blank/outline-contrast
    """
    from hundredfold.workshop.proof.checkpages import explained, known_checks  # lazily: loads numpy

    if not check:
        rows = known_checks()
        if as_json:
            print_json([{"check": name, "asks": asks, "codes": codes} for name, asks, codes in rows])
        else:
            print_table(("check", "asks whether"), [(name, asks) for name, asks, _ in rows])
        return ExitCode.DONE
    text = explained(check, shop)
    if as_json:
        print_json({"check": check, "page": text})
    else:
        say(text.rstrip("\n"))
    return ExitCode.DONE
