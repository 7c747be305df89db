"""Designs and blanks ready to be pictured: what a picture needs, read once and looked up many times.

A wall of thousands of pictures asks for each by itself. So the rows are read once, and again only where the
record or the catalogue on disk has changed since.
"""

import threading
import time
from collections.abc import Mapping
from contextlib import closing
from dataclasses import dataclass, field
from functools import lru_cache
from pathlib import Path

from hundredfold.designs.facts import DesignFacts
from hundredfold.designs.measure import facts_from_json
from hundredfold.designs.nudge import Nudge
from hundredfold.kernel.errors import ShopError
from hundredfold.ledger.events import Happened
from hundredfold.proofing.repair.advice import Advice, advice_from_json
from hundredfold.runner.cache import Vault
from hundredfold.workshop.shop.folder import Shop, open_shop, require_shop
from hundredfold.workshop.shop.paths import ShopPaths
from hundredfold.workshop.shop.record import open_record
from hundredfold.workshop.steps.allsteps import MEASURE, REPAIR, SMALL_ART
from hundredfold.workshop.steps.identity import known_designs
from hundredfold.workshop.steps.placed import nudges_of

_LOOK_EVERY_S = 1.0


@dataclass(frozen=True)
class KnownArt:
    """A design as pictures need it. ``small`` is the digest of its small copy in the vault."""

    id: str
    path: str
    small: str
    facts: str
    repairs: tuple[str, ...]  # digests of the advice
    nudges: Mapping[str, Nudge] = field(default_factory=dict)


@dataclass(frozen=True)
class _Pages:
    stamp: object
    art: Mapping[str, KnownArt]
    by_path: Mapping[str, str]


class ArtBook:
    """Made once for a shop; safe to ask from several threads."""

    def __init__(self, folder: Path) -> None:
        self._paths = ShopPaths(folder)
        self._lock = threading.Lock()
        self._pages: _Pages | None = None
        self._shop: tuple[object, Shop] | None = None
        self._looked_s = 0.0
        self.vault = Vault(self._paths.cache)

    def shop(self) -> Shop:
        """The shop as its files are. Raises as ``open_shop`` does."""
        stamp = tuple(_stamps(self._paths.settings, *self._toml()))
        with self._lock:
            if self._shop is None or self._shop[0] != stamp:
                self._shop = (stamp, open_shop(self._paths.root))
            return self._shop[1]

    def art(self, design: str) -> KnownArt:
        """A design by its id, or its path. Raises ShopError ``unknown-design``."""
        pages = self._read()
        found = pages.art.get(pages.by_path.get(design, design))
        if found is None:
            fix = "look at the designs again: it may have been taken away"
            raise ShopError("unknown-design", f'no design is known as "{design[:80]}"', fix)
        return found

    def facts(self, art: KnownArt) -> DesignFacts | None:
        """What was measured; None where nothing is kept."""
        data = self.vault.get(art.facts) if art.facts else None
        return facts_from_json(data) if data is not None else None

    def advice(self, art: KnownArt) -> tuple[tuple[str, Advice], ...]:
        """The changes that are proposed for a design, each with its digest."""
        found = ((digest, self._advice(digest)) for digest in art.repairs)
        return tuple((key, one) for key, one in found if one is not None and one.change is not None)

    @lru_cache(maxsize=4096)  # noqa: B019 one book a process
    def _advice(self, digest: str) -> Advice | None:
        data = self.vault.get(digest)
        return advice_from_json(data) if data is not None else None

    def forget(self) -> None:
        """Read the record anew at the next question: something was just decided."""
        with self._lock:
            self._pages = None

    def _toml(self) -> list[Path]:
        return [
            path for folder in (self._paths.blanks, self._paths.channels) for path in folder.glob("*.toml")
        ]

    def _read(self) -> _Pages:
        with self._lock:
            now = time.monotonic()
            if self._pages is None or now - self._looked_s >= _LOOK_EVERY_S:
                self._looked_s = now
                database = self._paths.database
                stamp = tuple(_stamps(database, database.with_name(f"{database.name}-wal")))
                if self._pages is None or self._pages.stamp != stamp or not database.is_file():
                    self._pages = self._fresh(stamp)
            return self._pages

    def _fresh(self, stamp: object) -> _Pages:
        with closing(open_record(require_shop(self._paths.root))) as store:
            known = known_designs(store.events(kinds={Happened.DESIGN_SEEN}))
            nudges = nudges_of(store)
            rows = store.builds.outputs((SMALL_ART.name, MEASURE.name, REPAIR.name))
        made: dict[tuple[str, str], list[str]] = {}
        for row in rows:
            path = row.item.rsplit(", ", 1)[0] if row.step == REPAIR.name else row.item
            made.setdefault((path, row.step), []).append(row.output)
        art = {}
        for one in known.values():
            small, facts = (
                next(iter(made.get((one.path, step), ())), "") for step in (SMALL_ART.name, MEASURE.name)
            )
            repairs = tuple(made.get((one.path, REPAIR.name), ()))
            art[one.id] = KnownArt(one.id, one.path, small, facts, repairs, nudges.get(one.id, {}))
        return _Pages(stamp, art, {one.path: one.id for one in known.values()})


def _stamps(*paths: Path) -> list[object]:
    found: list[object] = []
    for path in paths:
        try:
            seen = path.stat()
            found.append((path.name, seen.st_mtime_ns, seen.st_size))
        except OSError:
            found.append((path.name, None))
    return found
