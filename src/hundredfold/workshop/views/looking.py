"""A shop opened only to look: files, record and cache as they are, without the runner's lock."""

import contextlib
import json
import threading
import time
import zlib
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import closing
from dataclasses import dataclass, replace
from functools import cached_property
from pathlib import Path
from typing import Generic, TypeVar

from hundredfold.ledger.fold import fold, fold_on
from hundredfold.ledger.state import LedgerState
from hundredfold.runner.cache import Vault
from hundredfold.runner.memo import PathMemo
from hundredfold.runner.rows import FileStamp, MadeRow
from hundredfold.store.mapping import time_of
from hundredfold.store.moment import KeptRow, Moment, moment_of
from hundredfold.workshop.records.common import AsOf
from hundredfold.workshop.records.proofs import ProofRecord
from hundredfold.workshop.shop.files import FileNotes, still
from hundredfold.workshop.shop.folder import Shop, open_shop
from hundredfold.workshop.shop.paths import ShopPaths
from hundredfold.workshop.shop.record import open_record
from hundredfold.workshop.steps.allsteps import JUDGED
from hundredfold.workshop.steps.fromfacts import record_of
from hundredfold.workshop.steps.kept import unpacked

Kind = TypeVar("Kind")
# A run may replace a kept record between the look at its row and at its bytes; once is chance.
_TRIES = 3


@dataclass(frozen=True)
class Glance:
    """One moment of a shop."""

    shop: Shop
    moment: Moment
    vault: Vault
    folded: LedgerState | None = None  # the ledger's state, where an earlier look led to it
    held: tuple[MadeRow, ...] | None = None  # the proofs of art that is there, likewise

    @cached_property
    def state(self) -> LedgerState:
        """The ledger, folded."""
        return self.folded if self.folded is not None else fold(self.moment.events)

    @cached_property
    def present(self) -> tuple[MadeRow, ...]:
        """The newest proofs, of designs whose file is there, by path."""
        if self.held is not None:
            return self.held
        root = self.shop.paths.root
        return tuple(row for row in self.moment.outputs if (root / row.item).is_file())

    @cached_property
    def folders(self) -> tuple[tuple[str, int], ...]:
        """The folders of proofed art with their times: one changes when a file comes or goes."""
        found = []
        for name in sorted({row.item.rpartition("/")[0] for row in self.moment.outputs}):
            with contextlib.suppress(OSError):
                found.append((name, (self.shop.paths.root / name).stat().st_mtime_ns))
        return tuple(found)

    def as_of(self, row: KeptRow) -> AsOf:
        """When a kept record was true, and whether the files it was made from are as they were."""
        same = self._same_files(row)
        notes = []
        if self.moment.running is not None:
            holder = self.moment.running.holder
            notes.append(f"'{holder.command}' has been at work since {_minute(holder.taken)} UTC")
        if not same:
            notes.append("the shop's files have changed since")
        note = f"as it stood at {_minute(row.at)} UTC" + "".join(f"; {words}" for words in notes)
        return AsOf(row.at, row.run, not same, note)

    def _same_files(self, row: KeptRow) -> bool:
        data = self.vault.get(row.files)
        if data is None:
            return False
        noted = FileNotes(**json.loads(zlib.decompress(data)))
        root = self.shop.paths.root
        return still(root, noted, PathMemo(root, _Stamps(self.moment.stamps)))

    def kept(self, kind: type[Kind], name: str) -> tuple[Kind, KeptRow] | None:
        """The newest record of this name with its row; None where there is none."""
        row = self.moment.kept.get(name)
        record = unpacked(kind, self.vault, row.output) if row else None
        return (record, row) if row is not None and record is not None else None

    def proofs(self) -> Iterator[ProofRecord]:
        """The newest proof of every design whose file is there, by path."""
        for row in self.present:
            data = self.vault.get(row.output)
            if data is not None:
                try:
                    yield record_of(data)
                except ValueError:  # kept by an older version: the next run judges it again
                    continue


class _Stamps:
    """What is remembered of files, and nothing is written."""

    def __init__(self, stamps: Sequence[FileStamp]) -> None:
        self._stamps = stamps

    def stamps(self) -> Iterable[FileStamp]:
        return self._stamps

    def save_stamps(self, changed: Sequence[FileStamp]) -> None:
        return

    def paths_with(self, digest: str) -> tuple[str, ...]:
        return tuple(stamp.path for stamp in self._stamps if stamp.digest == digest)


def look_at(folder: Path) -> Glance:
    """Look at a shop; the same moment again where nothing was written since the last look.

    Raises what reading the shop's files and opening its record raise; never ``shop-in-use``.
    """
    root = folder.resolve()
    stamp = _stamp(root)
    with _lock:
        held = _held.get(root)
    if held is not None and stamp is not None and held[0] == stamp and held[1].moment.running is None:
        return held[1]
    look = _look(folder, held[1] if held is not None else None)
    with _lock:
        _held[root] = (
            stamp,
            look,
        )  # without a stamp it is not believed again, but the next look goes on from it
        while len(_held) > _SHOPS:
            _held.pop(next(iter(_held)))
    return look


def _look(folder: Path, earlier: Glance | None) -> Glance:
    shop = open_shop(folder)
    vault = Vault(shop.paths.cache)
    known = earlier.moment.events if earlier is not None else ()
    with closing(open_record(shop.paths)) as store:
        for _ in range(_TRIES):
            moment = moment_of(store.database, (JUDGED.name,), known)
            if all(vault.holds(row.output) for row in moment.kept.values()):
                break
    look = Glance(shop, moment, vault)
    return look if earlier is None else _going_on(earlier, look)


def _going_on(earlier: Glance, look: Glance) -> Glance:
    """The same look with the very objects of an earlier one where they are alike: views are kept by them."""
    known, moment = earlier.moment.events, look.moment
    shop = earlier.shop if earlier.shop == look.shop else look.shop
    if moment.outputs == earlier.moment.outputs:
        moment = replace(moment, outputs=earlier.moment.outputs)
    if moment.kept == earlier.moment.kept:
        moment = replace(moment, kept=earlier.moment.kept)
    folded = None
    if moment.events is known:
        folded = earlier.state
    elif len(moment.events) >= len(known) and moment.events[len(known) - 1 : len(known)] == known[-1:]:
        folded = fold_on(earlier.state, moment.events[len(known) :])
    fresh = Glance(shop, moment, look.vault, folded)
    same = moment.outputs is earlier.moment.outputs and fresh.folders == earlier.folders
    return replace(fresh, held=earlier.present) if same else fresh


class Remembered(Generic[Kind]):
    """What was made of a look, kept as long as what it was made from is the same."""

    def __init__(self) -> None:
        self._last: tuple[tuple[object, ...], Kind] | None = None

    def of(self, look: Glance, make: Callable[[Glance], Kind], *parts: object) -> Kind:
        """What ``make`` makes of this look; again only where it is another one, or where one of ``parts``,
        the very objects that it is made from, is another."""
        own = parts or (look,)
        last = self._last
        if (
            last is None
            or len(own) != len(last[0])
            or any(a is not b for a, b in zip(own, last[0], strict=True))
        ):
            last = self._last = (own, make(look))
        return last[1]


_SHOPS = 2  # kept in memory; a page serves one
_FRESH_S = 0.05  # a file system notes times in steps: what was written just now may be written again in one
_COARSE_S = 2.5  # where it notes whole seconds (FAT: two)
_held: dict[Path, tuple[object, Glance]] = {}
_lock = threading.Lock()


def _stamp(root: Path) -> object | None:
    """What changes when the record or the shop's files do; None where it was so just now that it may not."""
    paths = ShopPaths(root)
    record = (paths.database, paths.database.with_name(f"{paths.database.name}-wal"))
    plain = [paths.settings, paths.blocked]
    plain += [path for each in (paths.blanks, paths.channels) for path in sorted(each.glob("*.toml"))]
    found: list[object] = []
    now = time.time_ns()
    for path in (*record, *plain, paths.designs):
        try:
            seen = path.stat()
        except OSError:
            continue
        if seen.st_size:  # SQLite leaves an empty log beside the record while somebody reads
            wait = _COARSE_S if seen.st_mtime_ns % 1_000_000_000 == 0 else _FRESH_S
            if now - seen.st_mtime_ns < wait * 1e9:
                return None
            found.append((path.name, seen.st_mtime_ns, seen.st_size, seen.st_ino))
    # Of a record on a server no file tells of a change.
    return tuple(found) if paths.database.is_file() else None


def _minute(at: str) -> str:
    return f"{time_of(at):%Y-%m-%d %H:%M}"
