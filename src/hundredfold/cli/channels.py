"""`hundredfold channels learn`: a channel's table from the partner's own file."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from hundredfold.cli.options import HERE, JsonOption, ShopOption
from hundredfold.cli.printing import print_json, print_table, say
from hundredfold.kernel.errors import ExitCode

if TYPE_CHECKING:
    from hundredfold.workshop.shop.learnsheet import LearnedSheet


def run_learn(
    file: Annotated[Path, typer.Argument(metavar="FILE", help="Their empty sheet, sample or last upload.")],
    channel: Annotated[str, typer.Option("--channel", metavar="CODE", help="The channel; it may be new.")],
    shop: ShopOption = HERE,
    sheet: Annotated[str, typer.Option("--sheet", metavar="NAME", help="The worksheet to fill.")] = "",
    encoding: Annotated[
        str, typer.Option("--encoding", metavar="NAME", help="Of a CSV that does not tell, like cp1252.")
    ] = "",
    column: Annotated[
        list[str] | None,
        typer.Option(
            "--column", metavar="FIELD=HEADER", help='Your own word: sku="Stall item".', show_default=False
        ),
    ] = None,
    dry_run: Annotated[bool, typer.Option("--dry-run", help="Only show what was learned.")] = False,
    as_json: JsonOption = False,
) -> ExitCode:
    """Learn a channel's table from the partner's own file.

    CSV of any kind, XLSX, XLSM and ODS. Each column is shown with what fills it, how sure that is and why;
    what nobody could tell is a gap. A newer file keeps your choices and shows what moved.

    Example, look first:  hundredfold channels learn form.xlsx --channel north --dry-run
    """
    from hundredfold.workshop.shop.channelfiles import columns_from  # lazily: the database loads slowly
    from hundredfold.workshop.shop.desk import desk
    from hundredfold.workshop.shop.learnsheet import learn_sheet, write_learned

    with desk(shop, "") as open_desk:
        skus = frozenset(open_desk.ledger().owners)
        opened = open_desk.shop
    learned = learn_sheet(opened, file, channel, sheet, encoding, columns_from(column or []), skus)
    if not dry_run:
        write_learned(opened, learned)
    if as_json:
        print_json(_document(learned, dry_run))
    else:
        _show(learned, dry_run)
    return ExitCode.PROBLEMS if learned.gaps else ExitCode.DONE


def _document(learned: "LearnedSheet", dry_run: bool) -> dict[str, object]:
    return {
        "channel": learned.channel,
        "worksheet": learned.worksheet,
        "first_row": learned.sheet.first_row,
        "columns": [
            {
                "column": one.proposal.column.letter,
                "header": one.column.header,
                "fill": one.column.fill,
                "surety": "yours" if one.kept else one.proposal.surety.value,
                "why": list(one.proposal.why),
                "without_a_choice": list(one.wordless),
            }
            for one in learned.columns
        ],
        "moved": [{"header": each.header, "was": each.was, "now": each.now} for each in learned.moved],
        "notes": list(learned.notes),
        "written": [] if dry_run else list(learned.files),
    }


def _show(learned: "LearnedSheet", dry_run: bool) -> None:
    rows = [
        (
            one.proposal.column.letter,
            one.column.header,
            one.column.fill or "-",
            "yours" if one.kept else one.proposal.surety.value,
            "kept" if one.kept else "; ".join(one.proposal.why),
        )
        for one in learned.columns
    ]
    print_table(("Column", "Their heading", "Filled with", "Sure?", "Why"), rows)
    for each in learned.moved:
        said = f"{each.was} -> {each.now}" if each.was and each.now else "new" if each.now else "gone"
        say(f"{each.header}: {said}")
    say(*learned.notes)
    for one in learned.columns:
        if one.wordless and not one.kept:
            some = ", ".join(one.wordless[:6])
            say(f"{one.column.header}: none of their choices says {some}; write it under [their_words]")
    sure = sum(one.proposal.surety == "sure" or one.kept for one in learned.columns)
    say(f"{len(learned.columns)} columns: {sure} sure, {len(learned.gaps)} gaps")
    say("nothing was written (--dry-run)" if dry_run else f"wrote {', '.join(learned.files)}")
