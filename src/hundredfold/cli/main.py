"""The command line: every verb in its own file, one tuple that lists them, one place where errors end.

Verbs import their workshop inside `run`: `--help` must answer at once, and image libraries load slowly.
"""

import os
import sys
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from io import TextIOWrapper
from itertools import zip_longest
from pathlib import Path
from typing import Annotated, Any

import typer
from typer.core import TyperGroup

from hundredfold import __version__
from hundredfold.cli import (
    adopt,
    answer,
    backup,
    blanks,
    channels,
    choose,
    deliver,
    demo,
    explain,
    history,
    month,
    new,
    open_page,
    plan,
    price,
    proof,
    retire,
    sales,
    statement,
    typeset,
    verify,
    why,
    words,
)
from hundredfold.cli.options import SHOP_VARIABLE
from hundredfold.cli.printing import complain
from hundredfold.kernel.errors import ExitCode, ShopError
from hundredfold.workshop.shop.buglog import write_bug_log

INTERRUPTED = 130  # what shells expect after Ctrl-C


@dataclass(frozen=True)
class Verb:
    """A verb of one word, or of two where the first names a group (``blanks add``).

    ``part`` and ``short`` are its heading and its line in the list that --help shows.
    """

    words: str
    run: Callable[..., ExitCode]
    part: str = "More"
    short: str = ""


BEGIN, MONTH, HAND_OVER, KEEP = "Begin", "Prepare the month", "Hand over", "Look back and keep safe"

# In the order of a shop's life: --help shows them so.
VERBS: tuple[Verb, ...] = (
    Verb("demo", demo.run, BEGIN, "Make the invented sample shop and prepare its first week."),
    Verb("new", new.run, BEGIN, "Make a new shop folder."),
    Verb("open", open_page.run, BEGIN, "Open the page: the whole month in the browser."),
    Verb("blanks add", blanks.run_add, BEGIN, "Add or update blanks from a partner's price list."),
    Verb("channels learn", channels.run_learn, BEGIN, "Learn a channel's table from its own file."),
    Verb("adopt", adopt.run, BEGIN, "Take in what is live already, never to be sent again."),
    Verb("words", words.run, MONTH, "Show what listings say; put words of your own there."),
    Verb("typeset", typeset.run, MONTH, "Make designs from layouts and word lists."),
    Verb("price", price.run, MONTH, "Show what each blank must cost, and the sums behind it."),
    Verb("proof", proof.run, MONTH, "Judge every design on every blank and colour."),
    Verb("explain", explain.run, MONTH, "Explain a check: why it matters, how to fix what it finds."),
    Verb("plan", plan.run, MONTH, "Show what would go out on which day; make no file."),
    Verb("month", month.run, MONTH, "Prepare everything, from designs to checked packs."),
    Verb("choose", choose.run, MONTH, "Allow or refuse a design on goods; show what waits for your word."),
    Verb("retire", retire.run, MONTH, "Sell a design no more: end what is live of it."),
    Verb("why", why.run, MONTH, "Say how something came about."),
    Verb("verify", verify.run, HAND_OVER, "Open finished packs again and check everything."),
    Verb("deliver", deliver.run, HAND_OVER, "Hand packs over, each at most once."),
    Verb("answer", answer.run, HAND_OVER, "Read what a channel accepted and refused."),
    Verb("sales add", sales.run_add, KEEP, "Read reports of sales, fees, adverts, views, and bills."),
    Verb("sales report", sales.run_report, KEEP, "Show what was earned, beside what was planned."),
    Verb("sales tie", sales.run_tie, KEEP, "Say whose sales a foreign SKU's are."),
    Verb("statement", statement.run, KEEP, "Write a month's or a year's profit and loss."),
    Verb("history", history.run, KEEP, "Show what happened in this shop."),
    Verb("undo", history.run_undo, KEEP, "Take back decisions of the history."),
    Verb("backup", backup.run, KEEP, "Save the whole shop in one ZIP."),
    Verb("restore", backup.run_restore, KEEP, "Bring a backup back."),
    Verb("unlock", history.run_unlock, KEEP, "Clear the lock that another computer left behind."),
)
GROUPS = {
    "blanks": "The goods you decorate.",
    "channels": "Where listings go.",
    "sales": "What was sold.",
}


class _VerbList(TyperGroup):
    """The top of the command line: lists every verb under its part, in our order, groups spelt out."""

    verbs: tuple[Verb, ...] = ()

    def format_commands(self, ctx: Any, formatter: Any) -> None:
        """Write the list that --help ends in."""
        for part in dict.fromkeys(verb.part for verb in self.verbs):
            with formatter.section(part):
                formatter.write_dl([(verb.words, verb.short) for verb in self.verbs if verb.part == part])


def build_app(verbs: Sequence[Verb] = VERBS) -> typer.Typer:
    """The Typer application of these verbs, in their order."""
    app = typer.Typer(
        name="hundredfold",
        cls=type("VerbList", (_VerbList,), {"verbs": tuple(verbs)}),
        subcommand_metavar="VERB ...",
        add_completion=False,
        rich_markup_mode=None,
        pretty_exceptions_enable=False,
        context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 80},
    )
    app.callback(invoke_without_command=True)(_top)
    groups: dict[str, typer.Typer] = {}
    for verb in verbs:
        group, _, name = verb.words.rpartition(" ")
        if group and group not in groups:
            groups[group] = typer.Typer(help=GROUPS.get(group), rich_markup_mode=None)
            app.add_typer(groups[group], name=group)
        (groups[group] if group else app).command(name)(verb.run)
    return app


def _top(
    context: typer.Context,
    version: Annotated[
        bool, typer.Option("--version", help="Show the version and stop.", is_eager=True)
    ] = False,
) -> None:
    """Prepare a month of listings from your designs, your blanks and your channels.

    Begin with the invented sample:  hundredfold demo

    Begin a shop of your own:  hundredfold new my-shop

    Every verb explains itself:  hundredfold month --help
    """
    if version:
        typer.echo(f"hundredfold {__version__}")
        raise typer.Exit
    if context.invoked_subcommand is None:
        typer.echo(context.get_help())


def run() -> None:
    """The entry point of the installed command."""
    sys.exit(main(sys.argv[1:]))


def main(arguments: Sequence[str], verbs: Sequence[Verb] = VERBS) -> int:
    """Run one command and return its exit code."""
    as_json = "--json" in arguments
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, TextIOWrapper):  # a console without our characters shows "?" and goes on
            stream.reconfigure(errors="replace")
    try:
        return _invoke(build_app(verbs), list(arguments))
    except ShopError as error:
        complain(error, as_json)
        return int(error.exit_code)
    except (KeyboardInterrupt, typer.Abort):
        return _interrupted()
    except Exception as error:
        return _our_bug(error, arguments, as_json)


def _invoke(app: typer.Typer, arguments: list[str]) -> int:
    try:
        answer = typer.main.get_command(app).main(arguments, "hundredfold", standalone_mode=False)
    except typer.TyperException as error:
        context = getattr(error, "ctx", None)
        path = context.command_path if context else "hundredfold"
        what = error.format_message().rstrip(".")
        raise ShopError("wrong-use", what, f"{path} --help shows what it takes") from None
    # Typer answers Ctrl-C with the shells' number for it, and --help with nothing.
    return _interrupted() if answer == INTERRUPTED else int(answer or 0)


def _interrupted() -> int:
    print("stopped; everything finished so far is kept, so run it again to go on", file=sys.stderr)
    return INTERRUPTED


def _our_bug(error: Exception, arguments: Sequence[str], as_json: bool) -> int:
    log = write_bug_log(error, arguments, _shop_of(arguments))
    place = f"the details are in {log}" if log else "no log could be written"
    what = f"a mistake in Hundredfold itself: {type(error).__name__}; {place}"
    fix = "nothing of yours is lost; run it again, and if it comes back send us that file"
    complain(ShopError("our-bug", what, fix, exit_code=ExitCode.OUR_BUG), as_json)
    return int(ExitCode.OUR_BUG)


def _shop_of(arguments: Sequence[str]) -> Path:
    """The shop a command was about, as far as its words tell; it is not parsed again."""
    for word, following in zip_longest(arguments, arguments[1:], fillvalue=""):
        if word == "--shop":
            return Path(following)
        if word.startswith("--shop="):
            return Path(word.removeprefix("--shop="))
    return Path(os.environ.get(SHOP_VARIABLE, "."))
