"""`hundredfold open`: the whole month in the browser."""

from typing import Annotated

import typer

from hundredfold.cli.options import HERE, JsonOption, ShopOption
from hundredfold.cli.printing import print_json, say
from hundredfold.kernel.errors import ExitCode


def run(
    shop: ShopOption = HERE,
    port: Annotated[int, typer.Option("--port", min=0, max=65535, help="The port; 0 takes a free one.")] = 0,
    address: Annotated[
        str, typer.Option("--address", help="This computer's own address; no other is taken.")
    ] = "127.0.0.1",
    browser: Annotated[bool, typer.Option(help="Open the browser there.")] = True,
    as_json: JsonOption = False,
) -> ExitCode:
    """Open the page: the whole month by looking. Ctrl-C ends it; nothing is lost.

    Example, the shop in the folder you are in:  hundredfold open
    """
    from hundredfold.web.serving import Opened, serve  # lazily: the page loads much that no other verb needs

    def told(opened: Opened) -> None:
        if as_json:
            print_json({"address": opened.address, "found": opened.found})
            return
        say(f"the page {'is open already' if opened.found else 'is open'} at {opened.address}")
        if not opened.found:
            say("it is for this computer alone; Ctrl-C here ends it")

    serve(shop, address, port, browser, told)
    return ExitCode.DONE
