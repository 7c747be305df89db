"""Art that changed places with other art by a decision: both are kept, so that undo can change them back."""

import contextlib
import hashlib
from collections.abc import Iterable
from pathlib import Path

from hundredfold.ledger.events import Event, Happened
from hundredfold.runner.atomic import write_whole
from hundredfold.workshop.shop.paths import ShopPaths


def keep_master(paths: ShopPaths, data: bytes) -> str:
    """Keep these bytes under their sha256, which is given back. Raises ShopError ``disk-full``."""
    digest = hashlib.sha256(data).hexdigest()
    place = _place(paths, digest)
    if not place.is_file():
        write_whole(place, data)
    return digest


def _place(paths: ShopPaths, digest: str) -> Path:
    return paths.hidden / "masters" / digest


def swap(paths: ShopPaths, row: Event, back: bool) -> tuple[Event, ...]:
    """Put the art of a ``REPAIRED`` row in its place, or with ``back`` what was there before.

    Gives the rows that keep the design's id with its file. A file that a person has changed since is left
    alone. Raises ShopError ``disk-full``, ``cannot-write``.
    """
    before, after = (str(row.data["path"]), str(row.data["was"])), (str(row.data["to"]), str(row.data["now"]))
    (gone, gone_digest), (there, there_digest) = (after, before) if back else (before, after)
    if gone_digest and gone != there and _digest(paths.root / gone) == gone_digest:
        with contextlib.suppress(OSError):
            (paths.root / gone).unlink()
    if not there_digest:
        return ()
    if there == gone and _digest(paths.root / gone) not in (gone_digest, there_digest, ""):
        return ()
    write_whole(paths.root / there, _place(paths, there_digest).read_bytes())
    if not row.data["was"]:
        return ()
    return (Event(Happened.DESIGN_SEEN, row.subject, {"path": there, "digest": there_digest}),)


def swap_undone(paths: ShopPaths, every: Iterable[Event], undone: Iterable[Event]) -> tuple[Event, ...]:
    """After these rows took others back: every piece of art that follows, and the rows that say so."""
    by_number = {event.number: event for event in every}
    news: list[Event] = []
    for row in undone:
        back, target = True, by_number.get(row.undoes or 0)
        while target is not None and target.happened is Happened.UNDONE:
            back, target = not back, by_number.get(target.undoes or 0)
        if target is not None and target.happened is Happened.REPAIRED:
            news += swap(paths, target, back)
    return tuple(news)


def _digest(path: Path) -> str:
    try:
        return hashlib.sha256(path.read_bytes()).hexdigest()
    except OSError:
        return ""
