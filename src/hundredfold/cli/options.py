"""The options every verb takes."""

from pathlib import Path
from typing import Annotated

import typer

SHOP_VARIABLE = "HUNDREDFOLD_SHOP"

ShopOption = Annotated[
    Path,
    typer.Option(
        "--shop",
        metavar="DIR",
        envvar=SHOP_VARIABLE,
        show_default=False,
        help="The shop folder; without it, the folder you are in.",
    ),
]
JsonOption = Annotated[
    bool,
    typer.Option("--json", help="Answer with one JSON document, for other programs.", show_default=False),
]
HERE = Path()
