"""`hundredfold deliver`: hand packs over, each at most once."""

from datetime import UTC, datetime
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from hundredfold.cli.options import HERE, JsonOption, ShopOption
from hundredfold.cli.printing import complain, print_findings, print_json, say
from hundredfold.kernel.errors import ExitCode

if TYPE_CHECKING:
    from hundredfold.workshop.handover.manypacks import Deliveries
    from hundredfold.workshop.shop.desk import Desk

PACKS = typer.Argument(
    metavar="PACK", help="Packs like north/2026-12-01; without any, today's.", show_default=False
)
TO = typer.Option(
    "--to",
    metavar="DIR",
    help="The folder to copy to; without it, delivery_folder in shop.toml.",
    show_default=False,
)
ALL = typer.Option("--all", help="Every pack that is made and not handed over, later days too.")
SETTLE = typer.Option(
    "--settle", metavar="PACK", help="Say what became of an unsure pack.", show_default=False
)
HAPPENED = typer.Option("--happened", help="With --settle: did the pack arrive?", show_default=False)


class YesNo(StrEnum):
    """What became of an unsure hand-over."""

    YES = "yes"
    NO = "no"


def run(
    packs: Annotated[list[str] | None, PACKS] = None,
    to: Annotated[Path | None, TO] = None,
    everything: Annotated[bool, ALL] = False,
    settled: Annotated[str, SETTLE] = "",
    happened: Annotated[YesNo | None, HAPPENED] = None,
    shop: ShopOption = HERE,
    as_json: JsonOption = False,
) -> ExitCode:
    """Hand packs over by copying them to a folder, each at most once, and remember it.

    A pack is checked first; one that is not sound stays. A pack whose handing over was cut off is never sent
    again by itself: it waits until you say what became of it.

    Example, today's packs:  hundredfold deliver

    Example, after a cut:  hundredfold deliver --settle north/2026-12-01 --happened no
    """
    from hundredfold.workshop.handover.manypacks import deliver_many  # lazily: the database loads slowly
    from hundredfold.workshop.shop.desk import beside, desk

    if bool(settled) != (happened is not None):
        raise typer.BadParameter("--settle and --happened go together")
    if happened is not None:
        with beside(shop, "settle") as opened:
            return _settle(opened, settled, happened is YesNo.YES, as_json)
    with desk(shop, "deliver") as opened:
        today = datetime.now(UTC).astimezone().date()
        done = deliver_many(opened, packs or (), today, to, everything)
    if as_json:
        print_json(done.as_json())
    else:
        tell(done)
    return ExitCode.PROBLEMS if done.problems else ExitCode.DONE


def _settle(opened: "Desk", pack: str, happened: bool, as_json: bool) -> ExitCode:
    from hundredfold.workshop.handover.manypacks import settle_pack

    settle_pack(opened, pack, happened)
    if as_json:
        print_json({"settled": pack, "happened": happened})
    else:
        say(f"{pack} is settled: it {'was' if happened else 'was not'} handed over")
    return ExitCode.DONE


def tell(done: "Deliveries") -> None:
    """What was handed over, what stayed and why."""
    say(*done.lines())
    print_findings(done.findings())
    for error in done.errors:
        complain(error, as_json=False)
