"""`hundredfold why`: what a file was made from, and why it would be made again."""

from typing import Annotated

import typer

from hundredfold.cli.options import HERE, JsonOption, ShopOption
from hundredfold.cli.printing import print_json, say_folded
from hundredfold.kernel.errors import ExitCode


def run(
    item: Annotated[
        str,
        typer.Argument(
            metavar="ITEM",
            help="A design, SKU, listing, pack (channel/day), a pack's file, or part of a name.",
        ),
    ],
    shop: ShopOption = HERE,
    as_json: JsonOption = False,
) -> ExitCode:
    """Say how something came about: its history, what its files were made from, what is made again.

    Example:  hundredfold why proud-beekeeper --shop my-shop
    """
    from hundredfold.workshop.month.explaining import why  # lazily: the database loads slowly

    told = why(shop, item)
    if as_json:
        parts = {"history": told.history, "made from": told.made_from, "made again": told.again}
        print_json({"item": item, **{name: list(lines) for name, lines in parts.items()}})
        return ExitCode.DONE
    say_folded(*told.history, *told.made_from, *told.again)
    return ExitCode.DONE
