"""`hundredfold retire`: sell a design no more."""

from dataclasses import asdict
from typing import Annotated

import typer

from hundredfold.cli.options import HERE, JsonOption, ShopOption
from hundredfold.cli.printing import print_json, say, say_folded
from hundredfold.kernel.counting import counted
from hundredfold.kernel.errors import ExitCode, ShopError


def run(
    designs: Annotated[
        list[str] | None,
        typer.Argument(metavar="[DESIGN]...", help="Designs by file name.", show_default=False),
    ] = None,
    gone: Annotated[
        bool, typer.Option("--gone", help="Every design that is live and whose file is missing.")
    ] = False,
    shop: ShopOption = HERE,
    as_json: JsonOption = False,
) -> ExitCode:
    """Sell a design no more: the next month ends what is live of it, and lists nothing new.

    Deleting a file ends nothing by itself: a folder that was moved must not empty your shop.

    Example:  hundredfold retire old-joke.png
    """
    from hundredfold.workshop.handover.retiring import retire  # lazily: image libraries load slowly

    if not designs and not gone:
        raise ShopError(
            "wrong-use", "no design is named", "name one, or give --gone for all that are missing"
        )
    done = retire(shop, designs or (), gone)
    if as_json:
        print_json({"retired": [asdict(one) for one in done]})
        return ExitCode.DONE
    for one in done:
        live = counted(one.live, "live listing")
        say_folded(
            f"retired {one.path}: " + (f"the next month ends {live}" if one.live else "nothing is live")
        )
    if done:
        say_folded(f"to take it back: hundredfold undo {done[0].decision}")
    else:
        say("nothing to retire")
    return ExitCode.DONE
