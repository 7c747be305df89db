"""Hands a pack over to a folder: at most once, whatever happens in the middle.

Before the copy the ledger says "handing over"; after it is in place and was read back it says "handed over".
A run that dies in between leaves the first without the second. The next run looks: a pack that lies whole
at its destination did arrive, since it takes its name there in one move at the very end; anything else may
have been fetched and taken away by somebody, so it is "unsure" and waits for a person. So is what took its
name and cannot be read back: a partner's own program may be quicker than we are. What is unsure is never
copied again by itself.
"""

import os
import shutil
from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from hundredfold.handoff.judge_checks import FILE
from hundredfold.handoff.judge_common import MANIFEST, sha256_of
from hundredfold.handoff.manifest_shape import read_manifest
from hundredfold.kernel.errors import ExitCode, ShopError, Where
from hundredfold.kernel.findings import Finding, Severity, worst
from hundredfold.ledger.events import Event, Happened
from hundredfold.ledger.fold import fold
from hundredfold.ledger.keys import PackKey
from hundredfold.ledger.marks import Mark
from hundredfold.ledger.state import LedgerState, PackState, Progress
from hundredfold.runner.atomic import replace_patiently, sweep_parts, sync_folder
from hundredfold.runner.diskerrors import PART_PREFIX, writing_to
from hundredfold.store.shopstore import Store
from hundredfold.workshop.handover.verifying import verify_folder
from hundredfold.workshop.shop.folder import Shop
from hundredfold.workshop.shop.identity import ensure_place
from hundredfold.workshop.shop.marks import check_destination, put_mark, remove_mark, write_mark
from hundredfold.workshop.shop.paths import ShopPaths

_BLOCK = 1 << 20
Digests = Mapping[str, str]  # file name -> sha256


@dataclass(frozen=True)
class Delivery:
    """What became of one pack. ``findings`` holds why it stayed when it did."""

    key: PackKey
    to: Path
    done: bool
    files: int = 0
    bytes: int = 0
    note: str = ""
    findings: tuple[Finding, ...] = ()


def deliver(shop: Shop, store: Store, key: PackKey, destination: Path) -> Delivery:
    """Copy one pack to ``destination/CHANNEL/DAY`` and record it. The caller holds the runner lock.

    A pack that does not verify stays, with its findings. Raises ShopError ``no-such-pack``,
    ``already-handed-over``, ``hand-over-unsure``, ``destination-taken``, ``shop-copied``, ``record-behind``
    where the destination knows of hand-overs that the record does not, and what the disk raises.
    """
    state = fold(store.events())
    pack = state.packs.get(key)
    source, target = shop.paths.packs / key.channel / key.day, destination.absolute() / key.channel / key.day
    if pack is None:
        fix = "`hundredfold month` makes the packs; `hundredfold verify` lists them"
        raise ShopError("no-such-pack", f"no pack {key} was made", fix, Where(str(source)))
    if pack.progress is Progress.HANDED_OVER:
        fix = "nothing: a pack is handed over once; changes go out on a later day"
        raise ShopError("already-handed-over", f"{key} was handed over already", fix, Where(pack.destination))
    if pack.progress is not Progress.PACKED:
        return _look_again(store, key, pack)
    findings = _sound(shop, state, key, source)
    if worst(findings) is Severity.STOP:
        return Delivery(key, target, False, findings=findings)
    digests = _digests(source)
    if target.resolve().is_relative_to(shop.paths.packs.resolve()):
        fix = "choose a folder outside the shop's packs"
        raise ShopError(
            "destination-taken", "packs cannot be handed over into themselves", fix, Where(str(target))
        )
    shop_id = ensure_place(shop.paths, store)
    if target.exists():
        done = _already_there(store, key, pack, target, digests)
        write_mark(shop.paths, store, shop_id, key, destination)
        return done
    check_destination(store, shop_id, destination)
    begun = store.append([_begun(key, target, pack)])[0].decision
    size, mark = _give_name(_HandOver(shop, store, shop_id, begun, key), source, target, digests)
    store.append([Event(Happened.HANDED_OVER, str(key), {"seen": "read back"})], begun)
    put_mark(shop.paths, replace(mark, done=True), destination)
    return Delivery(key, target, True, len(digests), size, findings=findings)


@dataclass(frozen=True)
class _HandOver:
    """A hand-over that has begun, under the number of its first row."""

    shop: Shop
    store: Store
    shop_id: str
    begun: int
    key: PackKey

    def note(self, happened: Happened, data: dict[str, object]) -> None:
        self.store.append([Event(happened, str(self.key), data)], self.begun)


def _give_name(begun: _HandOver, source: Path, target: Path, digests: Digests) -> tuple[int, Mark]:
    """Copy aside, mark it, take the name, read back; answers the bytes and the mark.

    As long as the copy still lies aside nobody can have fetched the pack, and a failure settles it as not
    handed over. From the moment it took its name, whatever cannot be read back whole is unsure.
    """
    paths, key, destination = begun.shop.paths, begun.key, target.parent.parent
    aside = target.with_name(f"{PART_PREFIX}{target.name}")
    copied = False
    try:
        size = _copy_aside(source, aside, target, digests)
        mark = write_mark(paths, begun.store, begun.shop_id, key, destination)
        copied = True
        with writing_to(target):
            replace_patiently(aside, target)
    except BaseException:
        if not copied or aside.is_dir():
            shutil.rmtree(aside, ignore_errors=True)
            remove_mark(paths, begun.shop_id, key, destination)
            begun.note(Happened.SETTLED, {"happened": False, "by": "the copy failed"})
        raise
    if not _read_back(target, digests):
        begun.note(Happened.UNSURE, {"destination": str(target)})
        raise _unsure(key, str(target), "took its name, and could not be read back whole a moment later")
    return size, mark


def settle(paths: ShopPaths, store: Store, key: PackKey, happened: bool) -> None:
    """A person says what became of an unsure hand-over. The caller holds the runner lock.

    Raises ShopError ``nothing-to-settle``, ``arrived-after-all``.
    """
    pack = fold(store.events()).packs.get(key)
    if pack is None or pack.progress not in (Progress.UNSURE, Progress.HANDING_OVER):
        fix = "`hundredfold deliver` says which packs are unsure"
        raise ShopError("nothing-to-settle", f"{key} is not an unsure hand-over", fix)
    if not happened and _complete(Path(pack.destination), pack):
        what = f"{key} lies whole at its destination, so it was handed over"
        fix = "settle it with yes; or if nobody fetched it, delete that folder first and settle it with no"
        raise ShopError("arrived-after-all", what, fix, Where(pack.destination), ExitCode.PROBLEMS)
    shop_id = ensure_place(paths, store)
    if not happened:  # first the marks: without them an unsure pack is still asked about
        remove_mark(paths, shop_id, key, Path(pack.destination).parent.parent)
    store.append([Event(Happened.SETTLED, str(key), {"happened": happened, "by": "a person"})])
    if happened:
        write_mark(paths, store, shop_id, key)


def _look_again(store: Store, key: PackKey, pack: PackState) -> Delivery:
    """A hand-over that began earlier: arrived for certain, or unsure."""
    target = Path(pack.destination)
    if _complete(target, pack):
        store.append([Event(Happened.HANDED_OVER, str(key), {"seen": "found whole at its destination"})])
        return Delivery(key, target, True, note="it had arrived whole in an earlier run")
    if pack.progress is Progress.HANDING_OVER:
        store.append([Event(Happened.UNSURE, str(key), {"destination": pack.destination})])
    raise _unsure(key, pack.destination, "was cut off, and does not lie whole at its destination now")


def _unsure(key: PackKey, destination: str, why: str) -> ShopError:
    return ShopError(
        "hand-over-unsure",
        f"the hand-over of {key} {why}",
        f"ask whether it arrived, then: hundredfold deliver --settle {key} --happened yes (or no)",
        Where(destination),
        ExitCode.PROBLEMS,
    )


def _already_there(store: Store, key: PackKey, pack: PackState, target: Path, digests: Digests) -> Delivery:
    """Something has the pack's name at the destination though the ledger knows of no hand-over."""
    if not _holds(target, digests):
        what = f"something else lies where {key} should go"
        fix = "move it away, or deliver to another folder with --to"
        raise ShopError("destination-taken", what, fix, Where(str(target)), ExitCode.PROBLEMS)
    arrived = Event(Happened.HANDED_OVER, str(key), {"seen": "found whole at its destination"})
    store.append([_begun(key, target, pack), arrived])
    return Delivery(key, target, True, note="it lay there whole already, so it was not copied again")


def _begun(key: PackKey, target: Path, pack: PackState) -> Event:
    data = {"destination": str(target), "manifest": pack.manifest}
    return Event(Happened.HANDING_OVER, str(key), data)


def _sound(shop: Shop, state: LedgerState, key: PackKey, source: Path) -> tuple[Finding, ...]:
    if not source.is_dir():
        what, fix = "the pack's folder is gone", "run the month again; it is made anew"
        return (FILE.finds("missing", str(key), what, fix),)
    sweep_parts(source)  # of a month that was killed; we hold the lock
    return verify_folder(shop, state, source)


def _digests(folder: Path) -> Digests:
    """Every file of a verified pack with the digest its manifest names; the manifest's is its own."""
    data = (folder / MANIFEST).read_bytes()
    manifest, _ = read_manifest(data)
    assert manifest is not None, "the pack has just been verified"
    files = {}
    for part in manifest.parts:
        files[part.table.file] = part.table.sha256
        files |= {archive.file: archive.sha256 for archive in part.archives}
    with (folder / MANIFEST).open("rb") as file:
        files[MANIFEST] = sha256_of(file)
    return files


def _complete(folder: Path, pack: PackState) -> bool:
    """Whether exactly the recorded pack lies whole in the folder."""
    try:
        with (folder / MANIFEST).open("rb") as file:
            if sha256_of(file) != pack.manifest:
                return False
        return _holds(folder, _digests(folder))
    except (OSError, AssertionError):
        return False


def _holds(folder: Path, digests: Digests) -> bool:
    """Whether every file is there with its digest."""
    try:
        for name, digest in digests.items():
            with (folder / name).open("rb") as file:
                if sha256_of(file) != digest:
                    return False
    except OSError:
        return False
    return True


def _copy_aside(source: Path, aside: Path, target: Path, digests: Digests) -> int:
    """Copy under a hidden name, make it last, read it back; answers the bytes."""
    with writing_to(target):
        shutil.rmtree(aside, ignore_errors=True)  # of a run that was killed; we hold the lock
        aside.mkdir(parents=True)
        size = sum(_copy_file(source / name, aside / name) for name in sorted(digests))
        sync_folder(aside)
        if not _holds(aside, digests):
            raise _not_as_sent(target)
    return size


def _read_back(target: Path, digests: Digests) -> bool:
    """Whether the pack lies whole under its name, for good. False where anything cannot be read any more."""
    try:
        for folder in (target.parent, *target.parent.parents[:2]):  # the last may just have been made
            sync_folder(folder)
    except OSError:
        return False
    return _holds(target, digests)


def _copy_file(source: Path, target: Path) -> int:
    with source.open("rb") as read, target.open("xb") as written:
        shutil.copyfileobj(read, written, _BLOCK)
        written.flush()
        os.fsync(written.fileno())
        return written.tell()


def _not_as_sent(target: Path) -> ShopError:
    what = "what was read back there is not what was sent"
    fix = "check that disk or network folder, then deliver again"
    return ShopError("copy-differs", what, fix, Where(str(target)), ExitCode.PROBLEMS)
