"""Designs: all of them on a wall, found by word and by state; and art dropped in."""

from collections import Counter
from pathlib import PurePosixPath
from typing import Any
from urllib.parse import urlencode

from hundredfold.kernel.counting import counted
from hundredfold.web.asking import Ask, Shown, action, screen
from hundredfold.web.said import Said
from hundredfold.web.screens.working import seen
from hundredfold.workshop.shop.takingart import Brought, TakenArt, take_art
from hundredfold.workshop.views.wall import Wall, WallDesign, wall_view
from hundredfold.workshop.work.background import Work

_PAGE = 72  # designs drawn at once; the next come as one scrolls
# Address, name, and which designs it shows.
STATES = (
    ("all", "All"),
    ("passes", "Passes"),
    ("look", "Look"),
    ("stop", "Stop"),
    ("live", "Live"),
    ("never", "Never sold"),
)


def designs(ask: Ask) -> Shown:
    """The wall. ``q``, ``state`` and ``blank`` narrow it; ``from`` goes on where a page ended."""
    wall = wall_view(ask.shop)
    part = _part(ask, wall)
    blank = part["blank"]
    counts = {name: sum(_fits(one, name, (), blank) for one in wall.designs) for name, _ in STATES}
    values = {
        "states": STATES,
        "counts": counts,
        "work": seen(ask),
        "sentence": _sentence(wall.designs),
        "want": any(one.state in ("look", "stop") for one in wall.designs),
    }
    return Shown("designs.html", part | values)


def part(ask: Ask) -> Shown:
    """A part of the wall by itself, for the script: what fits as one types, and what comes further down."""
    return Shown("wallpart.html", _part(ask, wall_view(ask.shop)))


def _part(ask: Ask, wall: Wall) -> dict[str, Any]:
    state = ask.query.get("state", "all")
    text, blank = ask.query.get("q", "").strip(), ask.query.get("blank", "")
    asked = ask.query.get("from", "")
    start = int(asked) if asked.isascii() and asked.isdigit() and len(asked) < 7 else 0
    words = tuple(text.casefold().split())
    fits = [one for one in wall.designs if _fits(one, state, words, blank)]
    found = [one for one in fits if one.niche] + [one for one in fits if not one.niche]  # niches stand sorted
    groups: dict[str, list[WallDesign]] = {}
    for one in found[start : start + _PAGE]:
        groups.setdefault(one.niche, []).append(one)
    rest = len(found) - start - _PAGE
    asking = {"state": state, "q": text, "blank": blank, "from": str(start + _PAGE)}
    return {
        "wall": wall,
        "groups": list(groups.items()),
        "sizes": Counter(one.niche for one in found),
        "named": len({one.niche for one in found} | {""}) > 1,
        "found": len(found),
        "more": urlencode({key: value for key, value in asking.items() if value}) if rest > 0 else "",
        "rest": rest,
        "state": state,
        "q": text,
        "blank": blank,
    }


def _sentence(every: tuple[WallDesign, ...]) -> str:
    if not every:
        return "No design yet."
    judged = [one for one in every if one.state]
    want = sum(one.state in ("look", "stop") for one in judged)
    passed = len(judged) - want
    if not judged:
        return f"{counted(len(every), 'design')}, not proofed yet."
    if not want:
        return f"{'All ' if len(judged) == len(every) else ''}{counted(passed, 'design')} pass."
    wants = counted(want, "design wants", "designs want")
    return f"{wants} a look; {passed} {'passes' if passed == 1 else 'pass'}."


def _fits(one: WallDesign, state: str, words: tuple[str, ...], blank: str) -> bool:
    if state in ("passes", "look", "stop"):
        right = one.state == state
    else:
        right = {"live": one.live > 0, "never": one.live == 0}.get(state, True)
    return right and all(word in one.words for word in words) and (not blank or blank in one.blanks)


def drop(ask: Ask) -> Said:
    """Take art in, and begin to proof it. Raises as ``take_art`` does."""
    files = [Brought(one.name, one.content) for one in ask.form.files.get("files", ())]
    taken = take_art(ask.shop, files)
    if taken.taken:
        ask.keeping.work.start(Work.PROOF)
    return Said(_told(taken), ask.form.text("goto", "/designs"), 0, _left(taken))


def _told(taken: TakenArt) -> str:
    parts = [f"{counted(len(taken.taken), 'design')} taken in" if taken.taken else "No new design taken in"]
    if taken.known:
        parts.append(f"{len(taken.known)} {'was' if len(taken.known) == 1 else 'were'} there already")
    if taken.left:
        parts.append(f"{counted(len(taken.left), 'file')} left out")
    return ", ".join(parts) + "."


def _left(taken: TakenArt) -> tuple[str, ...]:
    return tuple(f"{PurePosixPath(one.name).name}: {one.why}." for one in taken.left)


ROUTES = (screen("/designs", designs), screen("/designs/part", part), action("/designs/drop", drop))
