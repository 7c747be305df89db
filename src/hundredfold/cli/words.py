"""`hundredfold words`: what listings say, where it came from, and texts of your own in its place."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from hundredfold.cli.options import HERE, JsonOption, ShopOption
from hundredfold.cli.printing import print_findings, print_json, say, say_folded
from hundredfold.cli.watching import ProgressDisplay
from hundredfold.kernel.counting import counted
from hundredfold.kernel.errors import ExitCode, ShopError

if TYPE_CHECKING:
    from hundredfold.workshop.month.listingwords import ListingWords, ShownWords
    from hundredfold.workshop.shop.bench import Bench


def run(
    design: Annotated[
        str, typer.Argument(metavar="[DESIGN]", help="A design by file name.", show_default=False)
    ] = "",
    channel: Annotated[str, typer.Option("--channel", help="Only in this channel.")] = "",
    blank: Annotated[str, typer.Option("--blank", help="Only on this blank.")] = "",
    write: Annotated[
        tuple[str, str] | None,
        typer.Option("--write", metavar="FIELD TEXT", help='Put your text there: --write title "…".'),
    ] = None,
    give_back: Annotated[
        str, typer.Option("--give-back", metavar="FIELD", help="Take your text away again.")
    ] = "",
    names: Annotated[
        bool, typer.Option("--names", help="Write names.csv: what each file's name was read as.")
    ] = False,
    new_names: Annotated[
        bool, typer.Option("--new-names", help="Rewrite former names in the channel files.")
    ] = False,
    shop: ShopOption = HERE,
    as_json: JsonOption = False,
) -> ExitCode:
    """Show what a design's listings say and where each text came from, or put a text of yours in its place.

    FIELD is title, story, search words, or point 1, point 2 and so on.

    Example:  hundredfold words proud-beekeeper.png --channel north
    """
    if new_names:
        return _new_names(shop, as_json)
    from hundredfold.workshop.shop.bench import bench  # lazily: image libraries load slowly
    from hundredfold.workshop.shop.desk import Turn

    if not design and not names:
        raise ShopError("wrong-use", "no design is named", "name one by its file, or give --names")
    with bench(shop, "words", turn=Turn.RUN) as tools, ProgressDisplay(quiet=as_json) as watching:
        if names:
            return _list_names(tools, as_json)
        shown, done = _changed(tools, watching, (design, channel, blank), write, give_back)
    if as_json:
        print_json({"listings": [_as_json(one) for one in shown.listings]})
    elif done:
        say_folded(done)
    else:
        for one in shown.listings:
            _show(one)
        print_findings(shown.findings)
    return ExitCode.DONE


def _changed(
    tools: Bench,
    watching: ProgressDisplay,
    which: tuple[str, str, str],
    write: tuple[str, str] | None,
    give_back: str,
) -> tuple[ShownWords, str]:
    """The words of the listings named, and in words what was done to them, "" for nothing."""
    from hundredfold.workshop.month import listingwords
    from hundredfold.workshop.month.preparing import Telling
    from hundredfold.workshop.month.run import default_start

    telling = Telling(watching.stage, watching.progress)
    day = default_start(tools, datetime.now(UTC).astimezone().date())
    shown = listingwords.listing_words(tools, day, *which, telling)
    if write is not None:
        decision = listingwords.write_by_hand(tools, shown, *write)
        where = counted(len(shown.listings), "listing")
        return shown, f"your {write[0]} stands in {where}; to take it back: hundredfold undo {decision}"
    if not give_back:
        return shown, ""
    count = listingwords.give_back(tools, shown, give_back)
    given = f"{counted(count, 'text')} given back"
    return shown, given if count else f"no {give_back} of yours stands there"


def _list_names(tools: Bench, as_json: bool) -> ExitCode:
    from hundredfold.workshop.month.listingwords import list_names

    count = list_names(tools)
    if as_json:
        print_json({"new_rows": count})
    else:
        say(f"names.csv has {counted(count, 'new row')}")
    return ExitCode.DONE


def _new_names(shop: Path, as_json: bool) -> ExitCode:
    from hundredfold.workshop.month.listingwords import renew_names  # lazily: image libraries load slowly

    renewed = renew_names(shop)
    if as_json:
        print_json({"renewed": renewed})
    for file, count in sorted(renewed.items()) if not as_json else ():
        say(f"{file}: {counted(count, 'name')} rewritten")
    if not renewed and not as_json:
        say("no channel file has a former name")
    return ExitCode.DONE


def _show(one: ListingWords) -> None:
    say("", f"{one.key.channel}, {one.blank}, {one.design}")
    wording = one.worded.wording
    marks = dict.fromkeys(one.by_hand, " (yours)")
    marks |= dict.fromkeys(one.changed, " (yours; the text below it changed)")
    say_folded(f"  title{marks.get('title', '')}: {wording.title}")
    for number, point in enumerate(wording.points, start=1):
        say_folded(f"  point {number}{marks.get(f'point {number}', '')}: {point}")
    say_folded(f"  story{marks.get('story', '')}: {wording.story}")
    say_folded(f"  search words{marks.get('search words', '')}: {', '.join(wording.search_words)}")
    for size, texts in wording.sizes.items():
        say_folded(
            f"  size {size}: {'; '.join(point for point in texts.points if point not in wording.points)}"
        )
    for trace in one.traces:
        say_folded(f"    {trace.field}: “{trace.text}” from {trace.source}")


def _as_json(one: ListingWords) -> dict[str, object]:
    wording = one.worded.wording
    return {
        "channel": one.key.channel,
        "blank": one.blank,
        "design": one.design,
        "by_hand": list(one.by_hand),
        "changed_below": list(one.changed),
        "title": wording.title,
        "points": list(wording.points),
        "story": wording.story,
        "search_words": list(wording.search_words),
        "sizes": {size: list(texts.points) for size, texts in wording.sizes.items()},
        "from": [{"field": t.field, "text": t.text, "source": t.source} for t in one.traces],
    }
