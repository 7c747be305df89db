"""Designs: all of them on a wall, found by word and by state; and art dropped in."""

from pathlib import PurePosixPath

from hundredfold.kernel.counting import counted
from hundredfold.web.asking import Ask, Shown, action, screen
from hundredfold.web.said import Said
from hundredfold.web.screens.working import seen
from hundredfold.workshop.shop.takingart import Brought, TakenArt, take_art
from hundredfold.workshop.views.wall import WallDesign, wall_view
from hundredfold.workshop.work.background import Work

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
    """The wall. ``q``, ``state`` and ``blank`` narrow it; the script does the same as you type."""
    wall = wall_view(ask.shop)
    state = ask.query.get("state", "all")
    text, blank = ask.query.get("q", "").strip(), ask.query.get("blank", "")
    found = [one for one in wall.designs if _fits(one, state, text, blank)]
    groups: dict[str, list[WallDesign]] = {}
    for one in found:
        groups.setdefault(one.niche, []).append(one)
    counts = {name: sum(_fits(one, name, "", blank) for one in wall.designs) for name, _ in STATES}
    return Shown(
        "designs.html",
        {
            "wall": wall,
            "groups": sorted(groups.items(), key=lambda pair: (not pair[0], pair[0])),
            "found": len(found),
            "states": STATES,
            "counts": counts,
            "state": state,
            "q": text,
            "blank": blank,
            "work": seen(ask),
            "sentence": _sentence(wall.designs),
            "want": any(one.state in ("look", "stop") for one in wall.designs),
        },
    )


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


def _fits(one: WallDesign, state: str, text: str, blank: str) -> bool:
    right = {
        "passes": one.state == "passes",
        "look": one.state == "look",
        "stop": one.state == "stop",
        "live": one.live > 0,
        "never": one.live == 0,
    }.get(state, True)
    return (
        right
        and all(word in one.words for word in text.casefold().split())
        and (not blank or blank in one.blanks)
    )


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


ROUTES = (screen("/designs", designs), action("/designs/drop", drop))
