"""Verifies packs as they lie on disk, against the shop's files and its history."""

from collections.abc import Collection, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, replace
from pathlib import Path
from typing import BinaryIO

from hundredfold.handoff.judge_checks import FILE, HISTORY
from hundredfold.handoff.judge_common import MANIFEST
from hundredfold.handoff.judge_terms import Expected
from hundredfold.handoff.verifying import verify
from hundredfold.kernel.errors import ShopError, Where
from hundredfold.kernel.findings import Finding, Severity, worst
from hundredfold.ledger.keys import PackKey
from hundredfold.ledger.state import LedgerState, PackState, Progress
from hundredfold.workshop.shop.desk import Desk
from hundredfold.workshop.shop.folder import Shop


class FolderPack:
    """A pack in a folder, with all that lies in it: hidden files too, and folders, ending in a slash."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder

    def names(self) -> Collection[str]:
        """The names, sorted."""
        return sorted(path.name if path.is_file() else f"{path.name}/" for path in self._folder.iterdir())

    @contextmanager
    def open(self, name: str) -> Iterator[BinaryIO]:
        """One file, to read and seek."""
        with (self._folder / name).open("rb") as file:
            yield file


@dataclass(frozen=True)
class Verified:
    """What verifying found, by pack (``channel/YYYY-MM-DD``, or a folder outside the shop)."""

    packs: Mapping[str, tuple[Finding, ...]]

    @property
    def sound(self) -> bool:
        """Whether nothing keeps any pack back."""
        return all(worst(findings) is not Severity.STOP for findings in self.packs.values())


def verify_packs(shop: Shop, state: LedgerState, wanted: Collection[str] = ()) -> Verified:
    """Verify the named packs (``channel/YYYY-MM-DD`` or a folder), or every pack of the shop.

    Raises ShopError ``no-such-pack``.
    """
    places = dict(_named(shop, name) for name in wanted) if wanted else _all(shop)
    found = {name: verify_folder(shop, state, folder) for name, folder in sorted(places.items())}
    if not wanted:
        found |= {str(key): (_gone(key),) for key in _lost(state, set(found))}
    return Verified(dict(sorted(found.items())))


def verify_desk(desk: Desk, wanted: Collection[str] = ()) -> Verified:
    """``verify_packs`` of an open shop; the next month reads the files of a pack that is not sound again.

    Without that, a byte that rotted under an unchanged time stamp would be taken for what was written.
    """
    verified = verify_packs(desk.shop, desk.ledger(), wanted)
    for pack, found in verified.packs.items():
        if worst(found) is Severity.STOP:
            desk.store.builds.forget_stamps(f"packs/{pack}")
    return verified


def verify_folder(shop: Shop, state: LedgerState, folder: Path) -> tuple[Finding, ...]:
    """Verify one pack: with the shop's history, and with its files as they are unless the day is frozen."""
    key = key_of(folder)
    pack = state.packs.get(key)
    frozen = pack is not None and pack.progress is not Progress.PACKED
    channel = next((c for c in shop.channels if c.code == key.channel), None)
    expected = None if frozen or channel is None else Expected(channel, shop.blanks, shop.forms_of(channel))
    lies_in = str(key) if folder.resolve().is_relative_to(shop.paths.packs.resolve()) else ""
    found = verify(FolderPack(folder), state, expected, lies_in)
    return (*found, *_doubt(key, pack))


def _doubt(key: PackKey, pack: PackState | None) -> Iterator[Finding]:
    if pack is not None and pack.progress in (Progress.HANDING_OVER, Progress.UNSURE):
        what = f"whether it was handed over to {pack.destination} is not known"
        fix = f"ask, then: hundredfold deliver --settle {key} --happened yes (or no)"
        yield HISTORY.finds("unsure", str(key), what, fix)


def key_of(folder: Path) -> PackKey:
    """The pack a folder holds, by its own and its parent's name."""
    place = folder.absolute()
    return PackKey(place.parent.name, place.name)


def in_pack(pack: str, finding: Finding) -> Finding:
    """The finding with its pack named in front."""
    return replace(finding, item=f"{pack}: {finding.item}")


def _all(shop: Shop) -> dict[str, Path]:
    folders = [path.parent for path in sorted(shop.paths.packs.glob(f"*/*/{MANIFEST}"))]
    folders += [path for path in sorted(shop.paths.packs.glob("*/*")) if path.is_dir()]
    return {str(key_of(folder)): folder for folder in folders if not folder.name.startswith(".")}


def _named(shop: Shop, name: str) -> tuple[str, Path]:
    inside = shop.paths.packs / name
    if inside.is_dir() and not Path(name).is_absolute():
        return str(key_of(inside)), inside
    if Path(name).is_dir():
        return name, Path(name)
    raise ShopError(
        "no-such-pack",
        f"there is no pack {name}",
        "name it like north/2026-12-01, or give its folder; `hundredfold verify` alone takes all",
        Where(str(inside)),
    )


def _lost(state: LedgerState, there: Collection[str]) -> list[PackKey]:
    """Packs that were made, are still planned and not handed over, and have no folder any more."""
    planned = {PackKey(key.channel, entry.day) for key, entry in state.planned.items()}
    made = {key for key, pack in state.packs.items() if pack.progress is Progress.PACKED}
    return sorted(key for key in planned & made if str(key) not in there)


def _gone(key: PackKey) -> Finding:
    what, fix = "the whole pack is gone from its folder", "run the month again; it is made anew"
    return FILE.finds("missing", str(key), what, fix)
