"""History: every decision with its way back."""

import shutil
import tempfile
from datetime import datetime
from pathlib import Path

from hundredfold.designs.names import title_from
from hundredfold.kernel.counting import counted
from hundredfold.kernel.errors import ShopError
from hundredfold.web.asking import Ask, Shown, action, screen
from hundredfold.web.clock import now
from hundredfold.web.plainwords import pack_words
from hundredfold.web.said import Said
from hundredfold.workshop.month.moving import MOVED
from hundredfold.workshop.records.state import DecisionRecord
from hundredfold.workshop.shop.backup import back_up, default_backup, restore
from hundredfold.workshop.shop.history import undo, unlock
from hundredfold.workshop.shop.newshop import is_shop
from hundredfold.workshop.shop.opennote import note_page
from hundredfold.workshop.views.history import history_view

_PAGE = 60
# What runs note by themselves: the key that undoes is for the seller's own decisions.
_OF_RUNS = frozenset({"planned", "unplanned", "sku given", "barcode given", "design seen", "packed"})
_WORDS = {
    "planned": "{} planned",
    "unplanned": "{} taken out of the plan",
    "sku given": "{} given",
    "barcode given": "{} given",
    "design seen": "{} noticed",
    "packed": "Pack made",
    "adopted": "{} taken in as live already",
    "handing over": "Handing over begun",
    "settled": "Said what became of a pack",
    "placed": "A design placed by hand",
    "chosen": "{} made",
    "worded": "{} written by hand",
    "repaired": "Repair taken",
}
_NOUNS = {
    "planned": ("listing",),
    "unplanned": ("listing",),
    "sku given": ("SKU",),
    "barcode given": ("barcode",),
    "design seen": ("design",),
    "adopted": ("row",),
    "chosen": ("choice",),
    "worded": ("text",),
}
_MOST = 5000


def history(ask: Ask) -> Shown:
    """Decisions, the newest first. ``q`` narrows them; ``last`` shows more."""
    text = ask.query.get("q", "").strip()
    asked = ask.query.get("last", "")
    last = min(int(asked), _MOST) if asked.isascii() and asked.isdigit() and len(asked) < 6 else _PAGE
    found = history_view(ask.shop, text, max(last, 1) + 1).decisions
    shown = tuple(reversed(found[-max(last, 1) :]))
    days: dict[str, list[DecisionRecord]] = {}
    for one in shown:
        days.setdefault(_day(one.at), []).append(one)
    newest = next((one.decision for one in shown if one.can_be_undone and not one.undoes and _own(one)), 0)
    values = {
        "days": days,
        "q": text,
        "more": len(found) > len(shown),
        "next": min(max(last, 1) + _PAGE, _MOST),
        "newest": newest if not text else 0,
        "time": _time,
        "say": said_of,
        "about": Naming(ask).about,
    }
    return Shown("history.html", values)


class Naming:
    """What decisions were about, by the names of channels and designs."""

    def __init__(self, ask: Ask) -> None:
        self._book = ask.keeping.pictures.book
        try:
            self._channels = {one.code: one.name for one in self._book.shop().channels}
        except ShopError:  # a mistake in the settings stands in nobody's way here
            self._channels = {}

    def about(self, one: DecisionRecord) -> str:
        """A decision's subject; as the record says it where it has no name."""
        head, _, rest = one.about.partition(" and ")
        more = f" and {rest}" if rest else ""
        parts = head.split("/")
        if len(parts) == 2:
            return pack_words(self._channels.get(parts[0], parts[0]), head) + more
        try:
            path = self._book.art(parts[-1]).path
        except ShopError:
            return one.about
        name = title_from(path.rpartition("/")[2]) or path
        return (f"{name}, {self._channels.get(parts[0], parts[0])}" if len(parts) == 3 else name) + more


def said_of(one: DecisionRecord) -> str:
    """A decision in the seller's words."""
    if moved(one):
        return f"Moved {counted(len(one.entries), 'listing')}"
    if pinned(one):
        return f"Pinned {counted(len(one.entries), 'listing')} to their days"
    kinds: dict[str, int] = {}
    for entry in one.entries:
        kinds[entry.happened] = kinds.get(entry.happened, 0) + 1
    if one.undoes:
        return f"Took back decision {one.undoes}"
    parts = [_part(kind, count) for kind, count in kinds.items()]
    text = ", ".join(parts)
    return text[0].upper() + text[1:] if text else "Noted"


def moved(one: DecisionRecord) -> bool:
    """Whether the seller moved listings by it."""
    return all(str(entry.data.get("reason", "")).startswith(MOVED) for entry in one.entries)


def pinned(one: DecisionRecord) -> bool:
    """Whether the seller pinned listings by it."""
    return all(entry.data.get("pinned") is True for entry in one.entries)


def _part(kind: str, count: int) -> str:
    words = _WORDS.get(kind)
    if words is None:
        return kind if count == 1 else f"{kind} ({count})"
    return words if "{" not in words else words.format(counted(count, *_NOUNS.get(kind, ("row",))))


def _own(one: DecisionRecord) -> bool:
    """Whether the seller decided it, and not a run for them."""
    return moved(one) or pinned(one) or any(entry.happened not in _OF_RUNS for entry in one.entries)


def _day(at: str | None) -> str:
    if not at:
        return "Earlier"
    local = datetime.fromisoformat(at).astimezone()
    return f"{local:%A} {local.day} {local:%B %Y}"


def _time(at: str | None) -> str:
    return f"{datetime.fromisoformat(at).astimezone():%H:%M}" if at else ""


def undo_one(ask: Ask) -> Said:
    """Take a decision of the history back. Raises as ``workshop.shop.history.undo`` does."""
    rows = undo(ask.shop, [ask.form.whole("decision")])
    return Said("It is taken back.", "/history", rows[0].decision if rows else 0)


def clear_lock(ask: Ask) -> Said:
    """Clear the lock that a run on another computer left."""
    was = unlock(ask.shop)
    if was is None:
        return Said("Nothing held the shop.", "/history")
    return Said(f"Cleared: {was.command} had held the shop since {was.taken} on {was.host}.", "/history")


def save_shop(ask: Ask) -> Said:
    """Save the whole shop in one ZIP beside its folder. Raises as ``back_up`` does."""
    target = default_backup(ask.shop, now())
    count = back_up(ask.shop, target)
    said = f"{counted(count, 'file')} saved in {target}; copy it to another disk."
    return Said(said, "/history")


def bring_back(ask: Ask) -> Said:
    """Put the record of a backup back; of a folder that is no shop yet, the whole shop.

    Raises as ``restore`` does.
    """
    files = ask.form.files.get("files", ())
    if not files:
        raise ShopError("bad-form", "no file came with it", "choose the ZIP that was saved")
    with tempfile.TemporaryDirectory() as aside:
        backup = Path(aside) / "backup.zip"
        with backup.open("wb") as file:
            shutil.copyfileobj(files[0].content, file)
        fresh = not is_shop(ask.shop)
        done = restore(backup, ask.shop)
    if fresh:
        note_page(ask.shop, ask.keeping.address)
        return Said("The shop is back as it was saved.", "/")
    more = [f"{counted(count, 'row')} of it stood only in the record before: {kind}."
            for kind, count in done.forgotten.items()]  # fmt: skip
    if done.carried_over:
        more.append(f"{counted(len(done.carried_over), 'pack')} handed over since stays handed over.")
    if done.record_before:
        more.append(f"The record before is kept as {done.record_before.name}.")
    return Said("The record of the backup is back.", "/history", 0, tuple(more))


ROUTES = (
    screen("/history", history),
    action("/history/undo", undo_one),
    action("/history/unlock", clear_lock),
    action("/history/backup", save_shop),
    action("/history/restore", bring_back),
)
