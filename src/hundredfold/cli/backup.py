"""`hundredfold backup` and `hundredfold restore`: the whole shop in one file, and back."""

from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from hundredfold.cli.options import HERE, JsonOption, ShopOption
from hundredfold.cli.printing import print_json, say
from hundredfold.kernel.counting import counted
from hundredfold.kernel.errors import ExitCode

if TYPE_CHECKING:
    from hundredfold.ledger.keys import PackKey


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
    file: Annotated[
        Path | None,
        typer.Argument(metavar="[FILE]", help="A ZIP that backup wrote.", show_default=False),
    ] = None,
    marks: Annotated[
        bool, typer.Option("--marks", help="Take in hand-overs that only the folder handed-over knows.")
    ] = False,
    here: Annotated[
        bool, typer.Option("--here", help="Of this shop and its copy, this one goes on.")
    ] = False,
    shop: ShopOption = HERE,
    as_json: JsonOption = False,
) -> ExitCode:
    """Bring a backup back, or put right what a shop knows of itself.

    Into a new folder: the whole shop. Into a shop that is there: only its record of what was handed over;
    your files stay as they are, and the record before is kept. Hand-overs that the backup does not know
    are carried over from the marks in the folder handed-over.

    Example, on a new computer:  hundredfold restore my-shop-backup.zip --shop my-shop

    Example, the record was lost and there is no backup:  hundredfold restore --marks
    """
    if (file is not None) + marks + here != 1:
        raise typer.BadParameter("give a FILE, or --marks, or --here")
    if file is None:
        return _marks(shop, as_json) if marks else _here(shop, as_json)
    return _from_backup(file, shop, as_json)


def _from_backup(file: Path, shop: Path, as_json: bool) -> ExitCode:
    from hundredfold.workshop.shop.backup import restore  # lazily: loads the database

    done = restore(file, shop)
    if as_json:
        document = {
            "shop": str(shop),
            "record_before": str(done.record_before) if done.record_before else None,
            "carried_over": [str(key) for key in done.carried_over],
            "forgotten": dict(done.forgotten),
        }
        print_json(document)
        return ExitCode.DONE
    say(f"restored {shop} from {file}")
    if done.record_before:
        say(f"the record before is kept as {done.record_before}")
    if done.forgotten:
        told = ", ".join(f"{count} x {kind}" for kind, count in done.forgotten.items())
        say(f"this backup does not know what was noted since: {told}")
    _carried(done.carried_over)
    return ExitCode.DONE


def _marks(shop: Path, as_json: bool) -> ExitCode:
    from hundredfold.workshop.shop.backup import carry_over_marks

    carried = carry_over_marks(shop)
    if as_json:
        print_json({"carried_over": [str(key) for key in carried]})
    elif not carried:
        say("the record knows every hand-over that is marked")
    _carried(carried if not as_json else ())
    return ExitCode.DONE


def _carried(packs: "tuple[PackKey, ...]") -> None:
    if packs:
        names = ", ".join(map(str, packs))
        say(f"carried over from the marks, as handed over or unsure: {names}")


def _here(shop: Path, as_json: bool) -> ExitCode:
    from hundredfold.workshop.shop.folder import require_shop
    from hundredfold.workshop.shop.identity import go_on_here

    others = go_on_here(require_shop(shop))
    if as_json:
        print_json({"goes_on": str(shop), "set_aside": list(others)})
        return ExitCode.DONE
    say(f"this shop goes on in {shop}")
    told = f"set aside, and told so: {', '.join(others)}" if others else "do not work in any other copy of it"
    say(told)
    return ExitCode.DONE
