"""`hundredfold choose`: the seller's own yes or no on a design, wherever it would be listed."""

from dataclasses import asdict
from pathlib import Path
from typing import Annotated

import typer

from hundredfold.cli.options import HERE, JsonOption, ShopOption
from hundredfold.cli.printing import print_json, say, say_folded
from hundredfold.kernel.counting import counted
from hundredfold.kernel.errors import ExitCode, ShopError


def run(
    answer: Annotated[
        str, typer.Argument(metavar="[allow|refuse|open]", help="Your word; without it: what waits.")
    ] = "",
    designs: Annotated[
        list[str] | None,
        typer.Argument(metavar="[DESIGN]...", help="Designs by file name.", show_default=False),
    ] = None,
    blank: Annotated[str, typer.Option("--blank", help="On this blank only.")] = "",
    colour: Annotated[str, typer.Option("--colour", help="In this colour only (its code).")] = "",
    channel: Annotated[str, typer.Option("--channel", help="On this channel only.")] = "",
    because: Annotated[str, typer.Option("--because", help="Why; it is kept in the history.")] = "",
    shop: ShopOption = HERE,
    as_json: JsonOption = False,
) -> ExitCode:
    """Allow, refuse or leave open a design on a blank, a colour, a channel, or all of them.

    Allow lists it although the proof stops it, where a stop is a matter of taste; refuse keeps it back
    whatever the proof says; open leaves it to the proof again. Without a word: what waits for yours.

    Example:  hundredfold choose allow poster.jpg --blank TEE-HEAVY --because "the box is meant"
    """
    if not answer:
        return _waiting(shop, as_json)
    from hundredfold.ledger.choices import Answer
    from hundredfold.workshop.views.choosing import choose_by_name  # lazily: image libraries load slowly

    if answer not in tuple(Answer) or not designs:
        what = "no design is named" if answer in tuple(Answer) else f'"{answer}" is no answer'
        raise ShopError("wrong-use", what, "write: choose allow|refuse|open DESIGN")
    number = choose_by_name(shop, designs, Answer(answer), (blank, colour, channel), because)
    if as_json:
        print_json({"decision": number})
        return ExitCode.DONE
    where = ", ".join(filter(None, (blank, colour, channel))) or "everywhere"
    say_folded(f"{counted(len(designs), 'design')}: {answer}, {where}; the next month keeps to it")
    say(f"to take it back: hundredfold undo {number}")
    return ExitCode.DONE


def _waiting(shop: Path, as_json: bool) -> ExitCode:
    from hundredfold.workshop.views.choosing import choices_view  # lazily: image libraries load slowly

    view = choices_view(shop)
    if as_json:
        print_json(asdict(view))
        return ExitCode.DONE
    for wait in view.waiting:
        say_folded(f"{wait.design}: {wait.sentence}")
    for one in view.standing:
        reason = f": {one.reason}" if one.reason else ""
        say_folded(f"{one.design}: you chose to {one.answer} it ({one.where}){reason}")
    if not view.waiting:
        say("nothing waits for your word (of what the last proof or month judged)")
    return ExitCode.DONE
