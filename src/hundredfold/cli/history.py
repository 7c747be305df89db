"""`hundredfold history`, `undo` and `unlock`: what was decided, taking it back, and who holds the shop."""

from dataclasses import asdict
from typing import TYPE_CHECKING, Annotated

import typer

from hundredfold.cli.options import HERE, JsonOption, ShopOption
from hundredfold.cli.printing import print_json, print_table, say
from hundredfold.kernel.errors import ExitCode

if TYPE_CHECKING:
    from hundredfold.ledger.events import Event
    from hundredfold.workshop.shop.history import Entry


def run(
    subject: Annotated[
        str, typer.Argument(metavar="[TEXT]", help="Only entries about what holds this text: a SKU, a day.")
    ] = "",
    last: Annotated[int, typer.Option("--last", min=1, help="How many, the newest.")] = 20,
    shop: ShopOption = HERE,
    as_json: JsonOption = False,
) -> ExitCode:
    """Show what happened in this shop, the newest last.

    Nothing is ever deleted from it. An entry can be taken back with: hundredfold undo NUMBER

    Example:  hundredfold history 2026-12-01 --last 50
    """
    from hundredfold.workshop.shop.history import history  # lazily: the database layer loads slowly

    entries = history(shop, subject, last)
    if as_json:
        print_json({"entries": [{**_document(each.event), "stands": each.stands} for each in entries]})
    elif entries:
        print_table(("no.", "when (UTC)", "what", "about"), map(_row, entries), right="r")
    else:
        say("nothing yet" if not subject else f'nothing about "{subject}"')
    return ExitCode.DONE


def run_undo(
    numbers: Annotated[
        list[int], typer.Argument(metavar="NUMBER...", min=1, help="Entries, as history shows them.")
    ],
    shop: ShopOption = HERE,
    as_json: JsonOption = False,
) -> ExitCode:
    """Take back entries of the history. Undo the entry that took one back to bring it back.

    What was handed over cannot be taken back: plan a change or an end for it.

    Example:  hundredfold undo 41
    """
    from hundredfold.workshop.shop.history import undo  # lazily: the database layer loads slowly

    done = undo(shop, numbers)
    if as_json:
        print_json({"entries": [_document(one) for one in done]})
        return ExitCode.DONE
    for one in done:
        say(f"took back entry {one.undoes} ({one.data['undone']}, {one.subject})")
    back = " ".join(str(one.number) for one in done)
    say(f"to bring {'it' if len(done) == 1 else 'them'} back: hundredfold undo {back}")
    return ExitCode.DONE


def run_unlock(shop: ShopOption = HERE, as_json: JsonOption = False) -> ExitCode:
    """Clear the lock that a run on another computer left behind.

    Only do this when you know that the run there is over. A run that died on this computer needs no
    unlocking, and one that is alive on it is left alone.

    Example:  hundredfold unlock
    """
    from hundredfold.workshop.shop.history import unlock  # lazily: the database layer loads slowly

    was = unlock(shop)
    if as_json:
        print_json({"cleared": asdict(was) if was else None})
    elif was:
        say(f"cleared: '{was.command}' had held the shop since {was.taken} on {was.host}")
    else:
        say("nothing held the shop")
    return ExitCode.DONE


def _row(entry: "Entry") -> tuple[str, ...]:
    event = entry.event
    what = event.happened.value if event.undoes is None else f"took back {event.undoes}"
    when = event.at.strftime("%Y-%m-%d %H:%M") if event.at else ""
    return str(event.number), when, what if entry.stands else f"({what}, taken back)", event.subject


def _document(event: "Event") -> dict[str, object]:
    return {
        "number": event.number,
        "at": event.at.isoformat() if event.at else None,
        "happened": event.happened.value,
        "subject": event.subject,
        "undoes": event.undoes,
        "data": dict(event.data),
    }
