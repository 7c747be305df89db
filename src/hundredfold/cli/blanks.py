"""`hundredfold blanks add`: fill blanks from a partner's price list."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from hundredfold.cli.options import HERE, JsonOption, ShopOption
from hundredfold.cli.printing import print_findings, print_json, print_table, say, say_list
from hundredfold.kernel.errors import ExitCode
from hundredfold.kernel.findings import Severity, worst

if TYPE_CHECKING:
    from hundredfold.workshop.shop.blanksfile import Import


def run_add(
    file: Annotated[Path, typer.Argument(metavar="FILE", help="The partner's list: CSV, XLSX, XLS or ODS.")],
    shop: ShopOption = HERE,
    sheet: Annotated[str, typer.Option("--sheet", metavar="NAME", help="The worksheet to read.")] = "",
    like: Annotated[
        str,
        typer.Option(
            "--like",
            metavar="CODE",
            help="A blank you have; new ones take from it what the list leaves out.",
        ),
    ] = "",
    column: Annotated[
        list[str] | None,
        typer.Option(
            "--column",
            metavar="FIELD=HEADER",
            help='Your own word: "base cost=Your net".',
            show_default=False,
        ),
    ] = None,
    pieces: Annotated[
        int,
        typer.Option(
            "--pieces", metavar="N", min=1, help="How many you order at once, for prices by number."
        ),
    ] = 1,
    dry_run: Annotated[bool, typer.Option("--dry-run", help="Only show what would change.")] = False,
    as_json: JsonOption = False,
) -> ExitCode:
    """Add or update blanks from a partner's price list.

    Any layout does: a row a colour and size, a column a size, prices by number, several worksheets, headings
    in English, German, French, Spanish or Italian. What is new, dearer, out of stock or missing is shown; a
    variant that is missing from its blank's rows is marked as discontinued, never deleted. Your own notes in
    the files stay.

    Example, look first:  hundredfold blanks add prices.xlsx --dry-run

    Example, a new mug like one you have:  hundredfold blanks add mugs.csv --like MUG-325
    """
    from hundredfold.workshop.shop.blanksfile import read_blanks_file, write_blanks  # lazily: loads numpy
    from hundredfold.workshop.shop.channelfiles import columns_from
    from hundredfold.workshop.shop.folder import open_shop

    opened = open_shop(shop)
    done = read_blanks_file(opened, file, sheet, like, columns_from(column or []), pieces)
    if not dry_run:
        write_blanks(opened, done)
    if as_json:
        print_json(_document(done, dry_run))
    else:
        _show(done, dry_run)
    return ExitCode.PROBLEMS if worst(done.findings) is Severity.STOP else ExitCode.DONE


def _document(done: "Import", dry_run: bool) -> dict[str, object]:
    return {
        "written": [] if dry_run else list(done.texts),
        "changes": [
            {
                "kind": change.kind.value,
                "blank": change.blank,
                "item": change.item,
                "what": change.what,
                "was": change.was,
                "now": change.now,
            }
            for change in done.changes
        ],
        "unchanged": done.unchanged,
        "not_listed": list(done.not_listed),
        "unused_columns": list(done.unused),
        "notes": list(done.notes),
        "findings": [finding.as_json() for finding in done.findings],
    }


def _show(done: "Import", dry_run: bool) -> None:
    if done.changes:
        rows = [
            (
                change.kind.value,
                change.blank,
                change.item or "the blank",
                _from_to(change.what, change.was, change.now),
            )
            for change in done.changes
        ]
        print_table(("What", "Blank", "Item", "Details"), rows)
    counts: dict[str, int] = {}
    for change in done.changes:
        counts[change.kind.value] = counts.get(change.kind.value, 0) + 1
    say(", ".join([*(f"{count} {kind}" for kind, count in counts.items()), f"{done.unchanged} unchanged"]))
    if done.not_listed:
        say_list("not in this list, so left as they are", done.not_listed)
    if done.unused:
        say_list("columns not used", done.unused)
    say(*done.notes)
    print_findings(done.findings)
    if dry_run:
        say("nothing was written (--dry-run)")
    else:
        say(*(f"wrote {name}" for name in done.texts))


def _from_to(what: str, was: str, now: str) -> str:
    if not what:
        return now
    return f"{what}: {was or 'none'} -> {now}"
