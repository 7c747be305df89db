"""A shop opened only to look: files, record and cache as they are, without the runner's lock."""

import json
import zlib
from collections.abc import Iterable, Iterator, Sequence
from contextlib import closing
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import TypeVar

from hundredfold.ledger.fold import fold
from hundredfold.ledger.state import LedgerState
from hundredfold.runner.cache import Vault
from hundredfold.runner.memo import PathMemo
from hundredfold.runner.rows import FileStamp
from hundredfold.store.mapping import time_of
from hundredfold.store.moment import KeptRow, Moment, moment_of
from hundredfold.workshop.records.common import AsOf
from hundredfold.workshop.records.proofs import ProofRecord
from hundredfold.workshop.shop.files import FileNotes, still
from hundredfold.workshop.shop.folder import Shop, open_shop
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

    @cached_property
    def state(self) -> LedgerState:
        """The ledger, folded."""
        return fold(self.moment.events)

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
        for row in self.moment.outputs:
            data = self.vault.get(row.output) if (self.shop.paths.root / row.item).is_file() else None
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
    """Look at a shop.

    Raises what reading the shop's files and opening its record raise; never ``shop-in-use``.
    """
    shop = open_shop(folder)
    vault = Vault(shop.paths.cache)
    with closing(open_record(shop.paths)) as store:
        for _ in range(_TRIES):
            look = Glance(shop, moment_of(store.database, (JUDGED.name,)), vault)
            if all(vault.holds(row.output) for row in look.moment.kept.values()):
                break
    return look


def _minute(at: str) -> str:
    return f"{time_of(at):%Y-%m-%d %H:%M}"
