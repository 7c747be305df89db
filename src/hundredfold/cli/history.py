"""`hundredfold history`, `undo` and `unlock`: what was decided, taking it back, and who holds the shop."""

from dataclasses import asdict
from typing import TYPE_CHECKING, Annotated

import typer

from hundredfold.cli.options import HERE, JsonOption, ShopOption
from hundredfold.cli.printing import print_json, print_table, say
from hundredfold.kernel.errors import ExitCode, ShopError

if TYPE_CHECKING:
    from hundredfold.ledger.events import Event
    from hundredfold.workshop.records.state import DecisionRecord
    from hundredfold.workshop.shop.history import Entry


def run(
    subject: Annotated[
        str, typer.Argument(metavar="[TEXT]", help="Only decisions about what holds this text: a SKU, a day.")
    ] = "",
    last: Annotated[int, typer.Option("--last", min=1, help="How many, the newest.")] = 20,
    rows: Annotated[bool, typer.Option("--rows", help="Every single entry, not whole decisions.")] = False,
    shop: ShopOption = HERE,
    as_json: JsonOption = False,
) -> ExitCode:
    """Show what was decided and what happened in this shop, the newest last.

    Nothing is ever deleted from it. A decision can be taken back with: hundredfold undo NUMBER

    Example:  hundredfold history 2026-12-01 --last 50
    """
    from hundredfold.workshop.records.shape import as_json as shape
    from hundredfold.workshop.shop.history import history  # lazily: the database layer loads slowly
    from hundredfold.workshop.views.history import history_view

    if rows:
        entries = history(shop, subject, last)
        document = {"entries": [{**_document(each.event), "stands": each.stands} for each in entries]}
        table = [_row(each) for each in entries]
    else:
        view = history_view(shop, subject, last)
        document = shape(view)
        table = [_decision_row(each) for each in view.decisions]
    if as_json:
        print_json(document)
    elif table:
        print_table(("no.", "when (UTC)", "what", "about"), table, right="r")
    else:
        say("nothing yet" if not subject else f'nothing about "{subject}"')
    return ExitCode.DONE


def run_undo(
    numbers: Annotated[
        list[int], typer.Argument(metavar="NUMBER...", min=1, help="Decisions, as history shows them.")
    ],
    row: Annotated[
        bool, typer.Option("--row", help="The number is a single entry, as history --rows shows it.")
    ] = False,
    shop: ShopOption = HERE,
    as_json: JsonOption = False,
) -> ExitCode:
    """Take back decisions: all rows of each, or none. Undo the undo to bring them back.

    What was handed over cannot be taken back: plan a change or an end for it.

    Example:  hundredfold undo 41
    """
    from hundredfold.workshop.shop.history import undo, undo_row  # lazily: the database layer loads slowly

    if row and len(numbers) > 1:
        raise ShopError("wrong-use", "--row takes one number", "give the others one at a time")
    done = undo_row(shop, numbers[0]) if row else undo(shop, numbers)
    if as_json:
        print_json({"decision": done[0].decision, "entries": [_document(one) for one in done]})
        return ExitCode.DONE
    what = ", ".join(dict.fromkeys(str(one.data["undone"]) for one in done))
    about = done[0].subject if len(done) == 1 else f"{done[0].subject} and {len(done) - 1} more"
    say(f"took back {'entry ' if row else ''}{', '.join(map(str, numbers))} ({what}, {about})")
    say(f"to bring {'it' if len(done) == 1 else 'them'} back: hundredfold undo {done[0].decision}")
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


def _decision_row(one: "DecisionRecord") -> tuple[str, ...]:
    what = one.what if one.stands else f"({one.what}, taken back)"
    return str(one.decision), (one.at or "")[:16].replace("T", " "), what, one.about


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
