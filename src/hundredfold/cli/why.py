"""`hundredfold why`: what a file was made from, and why it would be made again."""

from typing import Annotated

import typer

from hundredfold.cli.options import HERE, JsonOption, ShopOption
from hundredfold.cli.printing import print_json, say
from hundredfold.kernel.errors import ExitCode


def run(
    item: Annotated[
        str,
        typer.Argument(
            metavar="ITEM",
            help="A design, SKU, listing, pack (channel/day), or part of a name.",
        ),
    ],
    shop: ShopOption = HERE,
    as_json: JsonOption = False,
) -> ExitCode:
    """Say how something came about: what happened to it, and what its files were made from.

    Example:  hundredfold why proud-beekeeper --shop my-shop
    """
    from hundredfold.workshop.explaining import why  # lazily: the database loads slowly

    told = why(shop, item)
    if as_json:
        print_json({"item": item, "history": list(told.history), "made from": list(told.made_from)})
        return ExitCode.DONE
    say(*told.history, *told.made_from)
    return ExitCode.DONE
