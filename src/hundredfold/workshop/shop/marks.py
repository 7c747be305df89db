"""A mark of every hand-over, in plain files outside the record.

``handed-over/CHANNEL/YYYY-MM-DD.json`` in the shop, and where it can be written a short one at the
destination, ``.handed-over/SHOP/CHANNEL/YYYY-MM-DD.json``. A record that was lost, set back or exchanged
knows less than they do; that is noticed before anything leaves.
"""

import contextlib
import json
from collections.abc import Iterator, Sequence
from dataclasses import replace
from pathlib import Path

from hundredfold.kernel.errors import ExitCode, ShopError, Where
from hundredfold.ledger.events import Happened
from hundredfold.ledger.fold import fold
from hundredfold.ledger.keys import PackKey
from hundredfold.ledger.marks import TELLING, Mark, forgotten, mark_of, rows_to_carry_over
from hundredfold.ledger.state import Progress
from hundredfold.runner.atomic import write_whole
from hundredfold.runner.recipes import canonical_json
from hundredfold.store.shopstore import Store
from hundredfold.workshop.shop.paths import ShopPaths

MARKS_THERE = ".handed-over"  # at the destination
_ROWS = frozenset({Happened.PACKED, Happened.HANDING_OVER, Happened.DESIGN_SEEN})
_NAMED = 3  # so many packs are named in a message


def marks_in(folder: Path) -> Iterator[Mark]:
    """Every mark below a folder, by channel and day. Raises ShopError ``mark-damaged`` for one cut short."""
    for path in sorted(folder.glob("*/*.json")):
        try:
            yield Mark.from_json(json.loads(path.read_bytes()))
        except (ValueError, TypeError, KeyError, OSError) as error:
            what = "this mark of a hand-over cannot be read, so nobody can tell whether that pack left"
            fix = "bring the file back from a backup; or delete it once the record is known to be the newest"
            raise ShopError("mark-damaged", what, fix, Where(str(path)), ExitCode.PROBLEMS) from error


def check_record(paths: ShopPaths, store: Store) -> None:
    """Raise ShopError ``record-behind`` where the marks know of hand-overs that the record does not."""
    lost = forgotten(marks_in(paths.handed_over), store.events(kinds=TELLING))
    if lost:
        raise _behind(lost, paths.handed_over, "hundredfold restore --marks")


def check_destination(store: Store, shop_id: str, destination: Path) -> None:
    """Raise ShopError ``record-behind`` where this shop's marks at the destination know more."""
    folder = destination / MARKS_THERE / shop_id
    lost = forgotten(marks_in(folder), store.events(kinds=TELLING))
    if lost:
        fix = f"take the marks in from the folder that made them, or, if these never left, delete {folder}"
        raise _behind(lost, folder, fix)


def _behind(lost: Sequence[Mark], where: Path, other: str) -> ShopError:
    names = ", ".join(str(mark.key) for mark in lost[:_NAMED])
    more = f" and {len(lost) - _NAMED} more" if len(lost) > _NAMED else ""
    return ShopError(
        "record-behind",
        f"packs were handed over of which the shop's record knows nothing ({names}{more}): the record was "
        "lost, is older, or another copy of this shop went on",
        f"put the newest record back: hundredfold restore BACKUP; or go on with this one: {other}",
        Where(str(where)),
        ExitCode.PROBLEMS,
    )


def write_mark(
    paths: ShopPaths, store: Store, shop_id: str, key: PackKey, destination: Path | None = None
) -> Mark:
    """Mark a pack whose handing over has begun, as the ledger has it now: here, and there if it can be.

    Raises ShopError ``disk-full``, ``cannot-write`` where the shop's own mark cannot be written.
    """
    mark = mark_of(shop_id, key, fold(store.events()), store.events(kinds=_ROWS))
    put_mark(paths, mark, destination)
    return mark


def put_mark(paths: ShopPaths, mark: Mark, destination: Path | None = None) -> None:
    """Write a mark anew. Raises as ``write_mark`` does."""
    write_whole(_place(paths.handed_over, mark.key), canonical_json(mark.as_json()).encode())
    if destination is not None and destination.is_dir():
        place = _place(destination / MARKS_THERE / mark.shop, mark.key)
        with contextlib.suppress(OSError, ShopError):  # a far side may take no such files
            write_whole(place, canonical_json(replace(mark, rows=()).as_json()).encode())


def remove_mark(paths: ShopPaths, shop_id: str, key: PackKey, destination: Path | None = None) -> None:
    """Take the marks of a hand-over away that did not happen."""
    _place(paths.handed_over, key).unlink(missing_ok=True)
    if destination is not None:
        with contextlib.suppress(OSError):
            _place(destination / MARKS_THERE / shop_id, key).unlink(missing_ok=True)


def keep_marks(paths: ShopPaths, store: Store, shop_id: str) -> None:
    """Write the marks that are missing or not up to date: of packs that left before there were marks."""
    state = fold(store.events())
    there = {mark.key: mark for mark in marks_in(paths.handed_over)}
    for key in sorted(state.frozen_days):
        mark, pack = there.get(key), state.packs[key]
        if mark is None or (mark.manifest, mark.done) != (
            pack.manifest,
            pack.progress is Progress.HANDED_OVER,
        ):
            write_mark(paths, store, shop_id, key)


def carry_over(paths: ShopPaths, store: Store) -> tuple[PackKey, ...]:
    """Take into the record what the marks know and it does not, as one decision; gives the packs.

    The caller holds the lock.
    """
    lost = forgotten(marks_in(paths.handed_over), store.events(kinds=TELLING))
    if lost:
        store.append(rows_to_carry_over(lost, fold(store.events())))
    return tuple(mark.key for mark in lost)


def _place(folder: Path, key: PackKey) -> Path:
    return folder / key.channel / f"{key.day}.json"
