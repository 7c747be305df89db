"""`hundredfold new`: make a shop folder."""

from pathlib import Path
from typing import Annotated

import typer

from hundredfold.cli.options import JsonOption
from hundredfold.cli.printing import print_json, say
from hundredfold.kernel.errors import ExitCode


def run(
    folder: Annotated[
        Path, typer.Argument(metavar="DIR", help="The folder to make; it must be new or empty.")
    ],
    sample: Annotated[bool, typer.Option("--sample", help="Fill it with the invented sample shop.")] = False,
    as_json: JsonOption = False,
) -> ExitCode:
    """Make a new shop folder.

    Example, a shop of your own:  hundredfold new my-shop

    Example, the invented sample to try things on:  hundredfold new try-it --sample
    """
    from hundredfold.workshop.shop.newshop import new_shop  # lazily: the sample's drawings load fonts

    shop = new_shop(folder, sample=sample)
    if as_json:
        print_json(
            {
                "shop": str(folder),
                "name": shop.settings.name,
                "blanks": [blank.code for blank in shop.blanks],
                "channels": [channel.code for channel in shop.channels],
            }
        )
        return ExitCode.DONE
    say(f"made the shop {shop.settings.name} in {folder}")
    if sample:
        say(f"next: hundredfold month --shop {folder}")
    else:
        say(f'next: read "{folder / "READ ME FIRST.txt"}"')
    return ExitCode.DONE
