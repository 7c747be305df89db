"""`hundredfold backup` and `hundredfold restore`: the whole shop in one file, and back."""

from datetime import UTC, datetime
from pathlib import Path
from typing import Annotated

import typer

from hundredfold.cli.options import HERE, JsonOption, ShopOption
from hundredfold.cli.printing import print_json, say
from hundredfold.kernel.counting import counted
from hundredfold.kernel.errors import ExitCode


def run(
    file: Annotated[
        Path | None,
        typer.Argument(
            metavar="FILE",
            help="The ZIP to write; without it, a dated one beside the shop.",
            show_default=False,
        ),
    ] = None,
    shop: ShopOption = HERE,
    as_json: JsonOption = False,
) -> ExitCode:
    """Save the whole shop in one ZIP: settings, lists, art, and the record of what was handed over.

    Packs stay out: they are large, and you have handed them over. Keep the ZIP on another disk.

    Example:  hundredfold backup --shop my-shop
    """
    from hundredfold.workshop.shop.backup import back_up, default_backup  # lazily: loads the database

    target = file or default_backup(shop, datetime.now(UTC).astimezone())
    count = back_up(shop, target)
    if as_json:
        print_json({"backup": str(target), "files": count})
    else:
        say(f"saved {counted(count, 'file')} in {target}", "next: copy it to another disk")
    return ExitCode.DONE


def run_restore(
    file: Annotated[Path, typer.Argument(metavar="FILE", help="A ZIP that backup wrote.")],
    shop: ShopOption = HERE,
    as_json: JsonOption = False,
) -> ExitCode:
    """Bring a backup back.

    Into a new folder: the whole shop. Into a shop that is there: only its record of what was handed over;
    your files stay as they are, and the record before is kept.

    Example, on a new computer:  hundredfold restore my-shop-backup.zip --shop my-shop
    """
    from hundredfold.workshop.shop.backup import restore  # lazily: loads the database

    kept = restore(file, shop)
    if as_json:
        print_json({"shop": str(shop), "record_before": str(kept) if kept else None})
    else:
        say(f"restored {shop} from {file}")
        if kept:
            say(f"the record before is kept as {kept}")
    return ExitCode.DONE
