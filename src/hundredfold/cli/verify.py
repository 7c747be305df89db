"""`hundredfold verify`: check finished packs."""

from typing import TYPE_CHECKING, Annotated

import typer

from hundredfold.cli.options import HERE, JsonOption, ShopOption
from hundredfold.cli.printing import print_findings, print_json, say
from hundredfold.kernel.counting import counted
from hundredfold.kernel.errors import ExitCode

if TYPE_CHECKING:
    from hundredfold.workshop.handover.verifying import Verified


def run(
    packs: Annotated[
        list[str] | None,
        typer.Argument(
            metavar="PACK",
            help="Packs like north/2026-12-01, or their folders; without any, all of them.",
            show_default=False,
        ),
    ] = None,
    shop: ShopOption = HERE,
    as_json: JsonOption = False,
) -> ExitCode:
    """Open finished packs again and check every row, file, price and text in them.

    Example, all packs of the shop:  hundredfold verify

    Example, one of them:  hundredfold verify north/2026-12-01
    """
    from hundredfold.workshop.handover.verifying import verify_desk
    from hundredfold.workshop.shop.desk import desk  # lazily: the database loads slowly

    with desk(shop, "") as opened:
        verified = verify_desk(opened, packs or ())
    if as_json:
        by_pack = {pack: [each.as_json() for each in found] for pack, found in verified.packs.items()}
        print_json({"sound": verified.sound, "packs": by_pack})
    else:
        _tell(verified)
    return ExitCode.DONE if verified.sound else ExitCode.PROBLEMS


def _tell(verified: "Verified") -> None:
    from hundredfold.workshop.handover.verifying import in_pack

    print_findings([in_pack(pack, each) for pack, found in verified.packs.items() for each in found])
    count, sound = len(verified.packs), sum(not found for found in verified.packs.values())
    told = f"verified {counted(count, 'pack')}: {sound} without any remark"
    say(told if count else "there are no packs yet")
