"""`hundredfold verify`: check finished packs."""

from typing import Annotated

import typer

from hundredfold.cli.options import HERE, JsonOption, ShopOption
from hundredfold.cli.printing import print_findings, print_json, say
from hundredfold.kernel.counting import counted
from hundredfold.kernel.errors import ExitCode


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
    from hundredfold.workshop.desk import desk  # lazily: the database loads slowly
    from hundredfold.workshop.verifying import in_pack, verify_packs

    with desk(shop, "") as opened:
        verified = verify_packs(opened.shop, opened.ledger(), packs or ())
    findings = [in_pack(pack, each) for pack, found in verified.packs.items() for each in found]
    if as_json:
        print_json(
            {
                "sound": verified.sound,
                "packs": {pack: [each.as_json() for each in found] for pack, found in verified.packs.items()},
            }
        )
    else:
        print_findings(findings)
        count = len(verified.packs)
        sound = sum(not found for found in verified.packs.values())
        say(
            f"verified {counted(count, 'pack')}: {sound} without any remark"
            if count
            else "there are no packs yet"
        )
    return ExitCode.DONE if verified.sound else ExitCode.PROBLEMS
