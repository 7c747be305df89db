"""`hundredfold typeset`: layouts times words gives designs."""

from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from hundredfold.cli.options import HERE, JsonOption, ShopOption
from hundredfold.cli.printing import print_findings, print_json, say
from hundredfold.cli.watching import ProgressDisplay
from hundredfold.kernel.counting import counted
from hundredfold.kernel.errors import ExitCode
from hundredfold.kernel.findings import Severity, worst

if TYPE_CHECKING:
    from hundredfold.workshop.shop.paths import ShopPaths
    from hundredfold.workshop.typeset.previewing import Previewed
    from hundredfold.workshop.typeset.typesetting import Typeset, TypesetOrder


class Goods(StrEnum):
    """The goods a version of a layout is for."""

    LIGHT = "light"
    DARK = "dark"
    BOTH = "both"


def run(
    shop: ShopOption = HERE,
    layout: Annotated[
        list[str] | None, typer.Option("--layout", metavar="NAME", help="Only this layout; may be repeated.")
    ] = None,
    words: Annotated[
        list[str] | None,
        typer.Option("--words", metavar="NAME", help="Only this word list; may be repeated."),
    ] = None,
    goods: Annotated[Goods, typer.Option("--for", help="The goods the designs are for.")] = Goods.LIGHT,
    png_width: Annotated[
        int, typer.Option("--png", metavar="PIXELS", min=0, max=12000, help="Width of the PNG; 0 makes none.")
    ] = 3600,
    preview: Annotated[
        bool, typer.Option("--preview", help="Only a contact sheet of the 24 rows most likely to look wrong.")
    ] = False,
    starters: Annotated[
        bool, typer.Option("--starters", help="Copy the starter layouts into the shop and stop.")
    ] = False,
    as_json: JsonOption = False,
) -> ExitCode:
    """Make designs from layouts and word lists: each row fills the slots of a layout.

    The SVG of each design goes to designs/, its PNG to pictures/. Only what changed is made again.

    Example, the layouts to begin with:  hundredfold typeset --starters

    Example, look before you make:  hundredfold typeset --layout badge --words trades --preview
    """
    from hundredfold.workshop.shop.folder import open_shop
    from hundredfold.workshop.typeset.typesetting import TypesetOrder

    paths = open_shop(shop).paths
    if starters:
        return _take_starters(paths.layouts, as_json)
    versions = ("light", "dark") if goods is Goods.BOTH else (goods.value,)
    asked = TypesetOrder(tuple(layout or ()), tuple(words or ()), versions, png_width)
    if preview:
        return _tell_preview(_preview(paths, asked), as_json)
    return _tell(_make(shop, asked, as_json), as_json)


def _preview(paths: "ShopPaths", asked: "TypesetOrder") -> "Previewed":
    from hundredfold.workshop.typeset.previewing import preview

    return preview(paths, asked)


def _make(shop: Path, asked: "TypesetOrder", quiet: bool) -> "Typeset":
    from hundredfold.runner.workers import LOCAL
    from hundredfold.workshop.shop.desk import Turn, desk
    from hundredfold.workshop.typeset.typesetting import typeset

    # The shop's lock: a month that reads designs/ must not meet one half made.
    with (
        desk(shop, "typeset", turn=Turn.RUN) as opened,
        ProgressDisplay(quiet=quiet) as watching,
        LOCAL.start() as pool,
    ):
        watching.stage("setting designs")
        return typeset(opened.shop.paths, asked, pool, watching.progress)


def _take_starters(folder: Path, as_json: bool) -> ExitCode:
    from hundredfold.workshop.shop.starterlayouts import take_starters

    written, kept = take_starters(folder)
    if as_json:
        print_json({"written": list(written), "kept": list(kept)})
        return ExitCode.DONE
    for name in written:
        say(f"layouts/{name}")
    say(f"copied {counted(len(written), 'layout')}, left alone {len(kept)} that were there already")
    return ExitCode.DONE


def _tell_preview(done: "Previewed", as_json: bool) -> ExitCode:
    if as_json:
        sheets = [str(sheet) for sheet in done.sheets]
        print_json({"sheets": sheets, "rows": done.rows, "findings": [f.as_json() for f in done.findings]})
    else:
        print_findings(done.findings)
        for sheet in done.sheets:
            say(f"look at {sheet} (and the .pdf beside it)")
        say(f"previewed {counted(done.rows, 'row')}; nothing was written to designs/")
    return ExitCode.PROBLEMS if worst(done.findings) is Severity.STOP else ExitCode.DONE


def _tell(done: "Typeset", as_json: bool) -> ExitCode:
    if as_json:
        counts = {"made": done.made, "reused": done.reused, "failed": done.failed}
        designs = [one.file for one in done.designs]
        print_json({"counts": counts, "designs": designs, "findings": [f.as_json() for f in done.findings]})
    else:
        print_findings(done.findings)
        say(f"made {done.made}, reused {done.reused}, failed {done.failed}")
    return ExitCode.PROBLEMS if done.failed else ExitCode.DONE
