"""Why something is as it is: its history, what its files were made from, and what would be made again."""

import re
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from hundredfold.kernel.counting import counted
from hundredfold.kernel.errors import ShopError
from hundredfold.ledger.events import Event, Happened
from hundredfold.ledger.fold import fold
from hundredfold.ledger.keys import PackKey
from hundredfold.ledger.state import LedgerState, Progress
from hundredfold.runner.cache import Vault
from hundredfold.runner.memo import PathMemo
from hundredfold.runner.why import Names, explain_item, explain_shortly
from hundredfold.workshop.month.remaking import Remaking, in_groups
from hundredfold.workshop.shop.desk import Desk, desk
from hundredfold.workshop.steps.items import in_colour, is_of, on_blank
from hundredfold.workshop.steps.packfiles import known_contents, pack_folder, same_file

# A short part of a name may stand for many things; more than these are counted, not shown.
MOST_SHOWN = 12
IN_FULL = 4
MOST_DESIGNS = 5
# Too long for a sentence, or said by the subject already.
_QUIET = frozenset({"rows", "listings", "content", "manifest", "digest", "blank", "channel", "design"})
_SPOT = ("blank", "colour", "channel")
_SEEN = Happened.DESIGN_SEEN
_PACK = re.compile(r"(?:.*/)?([^/]+/\d{4}-\d\d-\d\d)(?:/([^/]*))?")


@dataclass(frozen=True)
class Explanation:
    """The answer, in lines for a person."""

    history: tuple[str, ...]
    made_from: tuple[str, ...]
    again: tuple[str, ...] = ()


@dataclass(frozen=True)
class _Asked:
    """What the words of the question stand for."""

    subjects: tuple[str, ...] = ()  # exact subjects of ledger rows
    items: tuple[str, ...] = ()  # of the build
    designs: tuple[tuple[str, str], ...] = ()  # id and path
    notes: tuple[str, ...] = ()
    again: tuple[str, ...] = ()


def why(folder: Path, wanted: str) -> Explanation:
    """All that is known of an item, named in full or in part, case aside.

    An item is a design, a SKU, a listing, a pack (by name or folder), a pack's file or a file inside one.
    Raises ShopError ``nothing-known``, and what opening the shop raises.
    """
    with desk(folder, "") as opened:
        events = opened.store.events()
        asked = _Asking(opened, events, wanted).answer()
        telling = _Telling({e.subject: str(e.data["path"]) for e in events if e.happened is _SEEN})
        history = [telling.sentence(event) for event in events if event.subject in asked.subjects]
        lines = [*asked.notes, *_made_from(opened, asked.items)]
        remaking = Remaking(opened.shop, opened.store.builds)
        items = frozenset(asked.items)
        again = {
            item: reason
            for design_id, path in asked.designs[:MOST_DESIGNS]
            for item, reason in remaking.why_again(design_id, path, items)
        }
    if not history and not lines:
        fix = "name a design, a SKU, a listing (channel/blank/design) or a pack (channel/YYYY-MM-DD)"
        raise ShopError("nothing-known", f'nothing is known of "{wanted}"', fix)
    told = (*asked.again, *in_groups(again))
    if not told and asked.items and len(asked.designs) <= MOST_DESIGNS:
        told = ("the next month makes none of these again",)
    return Explanation(_capped(history), tuple(lines), told)


class _Asking:
    """Finds out what the words stand for: the most exact reading that fits."""

    def __init__(self, opened: Desk, events: Sequence[Event], wanted: str) -> None:
        self._opened = opened
        self._events = events
        self._needle = wanted.strip().casefold()
        self._state: LedgerState = fold(events)
        self._paths = {e.subject: str(e.data["path"]) for e in events if e.happened is Happened.DESIGN_SEEN}
        self._items = sorted({row.item for row in opened.store.builds.made()})

    def answer(self) -> _Asked:
        words = self._needle.replace("\\", "/").rstrip("/")
        if (found := _PACK.fullmatch(words)) and PackKey.parse(found[1]) in self._state.packs:
            return self._pack(PackKey.parse(found[1]), found[2] or "")
        sku = next((sku for sku in self._state.owners if sku.casefold() == words), "")
        return self._sku(sku) if sku else self._member(words.rsplit("/", 1)[-1]) or self._anything()

    def _pack(self, key: PackKey, file: str) -> _Asked:
        contents = known_contents(self._opened.store, Vault(self._opened.shop.paths.cache)).get(str(key))
        folder = pack_folder(self._opened.shop.paths, key)
        memo = PathMemo(self._opened.shop.paths.root, self._opened.store.builds, False)
        pack = self._state.packs[key]
        notes = [
            f"{key}: {counted(len(pack.listings), 'listing')} in {counted(len(pack.rows), 'row')}, "
            f"{pack.progress.value}" + (f", at {pack.destination}" if pack.destination else "")
        ]
        frozen = key in self._state.frozen_days
        again = []
        for name, digest in (contents.files if contents else {}).items():
            if file not in ("", name.casefold()):
                continue
            if same_file(memo, folder / name, digest):
                notes.append(f"  {name}: as it was written")
            else:
                notes.append(f"  {name}: missing, or changed since it was written")
                again.append(f"the next month writes {name} again")
        if frozen:
            again = ["it has been handed over, so no month writes it again"]
        return _Asked((str(key),), (), (), tuple(notes), tuple(again))

    def _sku(self, sku: str) -> _Asked:
        listing = self._state.owners[sku].listing
        path = self._paths.get(listing.design, "")
        packs = sorted({str(key) for (one, _), key in self._state.sent.items() if one == sku})
        packs += [str(key) for key, pack in self._state.packs.items() if _holds(pack.rows, sku)]
        notes = tuple(f"{sku} is in the pack {pack}{self._doubt(pack)}" for pack in dict.fromkeys(packs))
        colour = self._state.owners[sku].colour
        items = self._items_of(path, listing.blank, colour) if path else ()
        return _Asked((sku, str(listing)), items, ((listing.design, path),), notes)

    def _items_of(self, path: str, blank: str, colour: str) -> tuple[str, ...]:
        """What was made of a design on a blank, without the pictures in other colours."""
        colours = {c.code for one in self._opened.shop.blanks if one.code == blank for c in one.colours}
        others = tuple(in_colour(path, blank, code) for code in colours - {colour})
        here = (item for item in self._items if item.startswith(on_blank(path, blank)))
        return tuple(item for item in here if not item.startswith(others))

    def _doubt(self, pack: str) -> str:
        """The same as `answer` and `verify` say of a pack of which nobody knows whether it arrived."""
        unsure = self._state.packs[PackKey.parse(pack)].progress in (Progress.HANDING_OVER, Progress.UNSURE)
        return ", and whether that arrived is not known" if unsure else ""

    def _member(self, name: str) -> _Asked | None:
        """A file inside an archive: its name holds the design's id."""
        for design, path in self._paths.items():
            if f"-{design.lower()}-" in name:
                remaking = Remaking(self._opened.shop, self._opened.store.builds)
                item = remaking.item_of(design, path, name)
                if item:
                    return _Asked((design,), (item,), ((design, path),))
        return None

    def _anything(self) -> _Asked:
        needle = self._needle
        ids = {design for design, path in self._paths.items() if needle in path.casefold()}
        subjects = {
            e.subject
            for e in self._events
            if needle in e.subject.casefold()
            or (_design_of(e) in ids and e.happened is not Happened.SKU_GIVEN)
        }
        items = tuple(item for item in self._items if needle in item.casefold())
        touched = ids | {d for d, path in self._paths.items() if any(is_of(item, path) for item in items)}
        designs = tuple(sorted((design, self._paths[design]) for design in touched))
        return _Asked(tuple(subjects | ids), items, designs, tuple(self._packs_with(ids)))

    def _packs_with(self, designs: Collection[str]) -> Iterator[str]:
        for key, pack in sorted(self._state.packs.items()):
            count = sum(sent.key.design in designs for sent in pack.listings)
            if count:
                yield f"{counted(count, 'listing')} of it in the pack {key}, {pack.progress.value}"


def _holds(rows: Sequence[object], sku: str) -> bool:
    return any(getattr(row, "sku", "") == sku for row in rows)


def _design_of(event: Event) -> str:
    return str(event.data.get("design", ""))


def _made_from(opened: Desk, items: Sequence[str]) -> Iterator[str]:
    """Few items in full; of many, only when and why each was made."""
    builds, runs = opened.store.builds, opened.store.runs.named()
    names = Names(builds.paths_with, lambda number: runs.get(number, f"run {number}"))
    explain = explain_item if len(items) <= IN_FULL else explain_shortly
    for item in items[:MOST_SHOWN]:
        yield from explain(builds, item, names)
    if len(items) > IN_FULL:
        left_out = len(items) - MOST_SHOWN
        more = f"and {left_out} more; " if left_out > 0 else ""
        yield f"{more}name one in full to see what it was made from"


class _Telling:
    """The ledger's rows as sentences; listings and designs by their file."""

    def __init__(self, paths: Mapping[str, str]) -> None:
        self._paths = paths

    def sentence(self, event: Event) -> str:
        at = event.at.strftime("%Y-%m-%d %H:%M") if event.at else ""
        what = f"{event.happened.value}" + "".join(_details(event))
        if event.happened is Happened.PLANNED:
            data = event.data
            what = f"planned as {data.get('action')} for {data.get('day')}: {data.get('reason')}"
        elif event.happened is Happened.CHOSEN:
            what = _choice(event)
        return f"{at}  {self._about(event.subject)}: {what}"

    def _about(self, subject: str) -> str:
        parts = subject.split("/")
        if len(parts) == 3 and parts[2] in self._paths:
            return f"{self._paths[parts[2]]} on {parts[1]}, {parts[0]}"
        return self._paths.get(subject, subject)


def _choice(event: Event) -> str:
    where = ", ".join(str(event.data[name]) for name in _SPOT if event.data.get(name)) or "everywhere"
    reason = f", because: {event.data['reason']}" if event.data.get("reason") else ""
    return f"you chose to {event.data['answer']} it ({where}){reason}"


def _details(event: Event) -> Iterator[str]:
    plain = {name: value for name, value in event.data.items() if name not in _QUIET}
    details = ", ".join(
        f"{name} {_words(value)}" for name, value in plain.items() if value not in ("", [], {})
    )
    if details:
        yield f" ({details})"


def _words(value: object) -> str:
    return ", ".join(map(str, value)) if isinstance(value, list) else str(value)


def _capped(history: list[str]) -> tuple[str, ...]:
    if len(history) <= 3 * MOST_SHOWN:
        return tuple(history)
    left_out = len(history) - 3 * MOST_SHOWN
    return (
        *history[: 3 * MOST_SHOWN],
        f"and {counted(left_out, 'more entry', 'more entries')}; name the item more closely",
    )
