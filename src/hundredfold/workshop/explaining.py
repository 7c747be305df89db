"""Why something is as it is: its history in the ledger, and the recipes of its files, in words."""

from dataclasses import dataclass
from pathlib import Path

from hundredfold.build.why import explain_item
from hundredfold.kernel.errors import ShopError
from hundredfold.ledger.events import Event, Happened
from hundredfold.workshop.desk import desk

# A short part of a name may stand for many things; more than these are counted, not shown.
MOST_SHOWN = 12
_QUIET = frozenset({"rows", "listings", "content", "manifest"})  # long lists that a sentence cannot hold


@dataclass(frozen=True)
class Told:
    """The answer, in lines for a person."""

    history: tuple[str, ...]
    made_from: tuple[str, ...]


def why(folder: Path, wanted: str) -> Told:
    """All that is known of an item, named in full or in part, case aside.

    Raises ShopError ``nothing-known``, and what opening the shop raises.
    """
    with desk(folder, "") as opened:
        needle = wanted.casefold()
        events = opened.store.events()
        ids = {
            event.subject
            for event in events
            if event.happened is Happened.DESIGN_SEEN and needle in str(event.data["path"]).casefold()
        }
        history = [_sentence(event) for event in events if _about(event, needle, ids)]
        items = [row.item for row in opened.store.builds.made() if needle in row.item.casefold()]
        lines: list[str] = []
        for item in sorted(set(items))[:MOST_SHOWN]:
            lines += explain_item(opened.store.builds, item, opened.store.builds.paths_with)
        left_out = len(set(items)) - MOST_SHOWN
        if left_out > 0:
            lines.append(f"and {left_out} more; name one in full to see it")
    if not history and not lines:
        fix = "name a design, a SKU, a listing (channel/blank/design) or a pack (channel/YYYY-MM-DD)"
        raise ShopError("nothing-known", f'nothing is known of "{wanted}"', fix)
    return Told(_capped(history), tuple(lines))


def _about(event: Event, needle: str, ids: set[str]) -> bool:
    return (
        needle in event.subject.casefold() or str(event.data.get("design", "")) in ids or event.subject in ids
    )


def _sentence(event: Event) -> str:
    at = event.at.strftime("%Y-%m-%d %H:%M") if event.at else ""
    plain = {name: value for name, value in event.data.items() if name not in _QUIET}
    details = ", ".join(
        f"{name} {_words(value)}" for name, value in plain.items() if value not in ("", [], {})
    )
    return f"{at}  {event.subject}: {event.happened.value}" + (f" ({details})" if details else "")


def _words(value: object) -> str:
    return ", ".join(map(str, value)) if isinstance(value, list) else str(value)


def _capped(history: list[str]) -> tuple[str, ...]:
    if len(history) <= 3 * MOST_SHOWN:
        return tuple(history)
    left_out = len(history) - 3 * MOST_SHOWN
    return (*history[: 3 * MOST_SHOWN], f"and {left_out} more entries; name the item more closely")
