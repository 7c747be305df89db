"""Several packs handed over in one go: today's, all, or those named; a failure does not stop the rest."""

from collections.abc import Collection
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from hundredfold.kernel.counting import counted
from hundredfold.kernel.errors import ExitCode, ShopError, Where
from hundredfold.kernel.findings import Finding
from hundredfold.ledger.keys import PackKey
from hundredfold.ledger.planned import Planned, by_day, holds_moved
from hundredfold.ledger.state import LedgerState, Progress
from hundredfold.runner.diskerrors import say_bytes
from hundredfold.workshop.handover.delivering import Delivery, deliver, settle
from hundredfold.workshop.handover.verifying import in_pack
from hundredfold.workshop.shop.desk import Desk
from hundredfold.workshop.shop.identity import ensure_place
from hundredfold.workshop.shop.marks import keep_marks


@dataclass(frozen=True)
class Deliveries:
    """What became of each pack. ``waiting`` are packs of days gone by that were never handed over."""

    done: tuple[Delivery, ...]
    errors: tuple[ShopError, ...]
    waiting: tuple[PackKey, ...]
    everything: bool  # asked for, rather than today's

    @property
    def problems(self) -> bool:
        """Whether a person has something to do."""
        return bool(self.errors) or not all(each.done for each in self.done)

    def findings(self) -> tuple[Finding, ...]:
        """Why packs stayed, and remarks on those that went."""
        return tuple(in_pack(str(each.key), finding) for each in self.done for finding in each.findings)

    def lines(self) -> list[str]:
        """A line for each pack."""
        lines = [_line(each) for each in self.done]
        if not lines and not self.errors:
            lines.append(
                "nothing to hand over: every pack of the plan has gone out, or none is made yet"
                if self.everything
                else "nothing to hand over today"
            )
        if self.waiting:
            names = ", ".join(map(str, self.waiting))
            lines.append(f"days gone by and not handed over: {names}; `hundredfold month` plans them anew")
        return lines

    def as_json(self) -> dict[str, object]:
        """Plain values."""
        return {
            "packs": [
                {
                    "pack": str(each.key),
                    "to": str(each.to),
                    "handed_over": each.done,
                    "files": each.files,
                    "bytes": each.bytes,
                    "note": each.note,
                    "findings": [finding.as_json() for finding in each.findings],
                }
                for each in self.done
            ],
            "errors": [error.as_json()["error"] for error in self.errors],
            "waiting": [str(key) for key in self.waiting],
            "problems": self.problems,
        }


def deliver_many(
    desk: Desk, wanted: Collection[str], today: date, to: Path | None = None, everything: bool = False
) -> Deliveries:
    """Hand over the named packs, else every pack not handed over yet, else today's.

    Packs of later days are held back unless asked for: they would count against the channel's cap of today.
    Raises ShopError ``destination-missing``, and what reading and writing the marks raises.
    """
    state = desk.ledger()
    destination = _destination(desk, to)
    keep_marks(desk.shop.paths, desk.store, ensure_place(desk.shop.paths, desk.store))
    open_ = sorted(key for key, pack in state.packs.items() if pack.progress is not Progress.HANDED_OVER)
    planned = by_day(state)
    waiting: tuple[PackKey, ...] = ()
    if wanted:
        keys = [_key(name) for name in wanted]
    elif everything:
        keys = [key for key in open_ if key in planned or key in state.frozen_days]
    else:
        keys = [key for key in open_ if key.day == today.isoformat() or key in state.frozen_days]
        waiting = tuple(
            key for key in open_ if key.day < today.isoformat() and key in planned and key not in keys
        )
    done: list[Delivery] = []
    errors: list[ShopError] = []
    for key in keys:
        try:
            _as_planned(state, key, planned)
            done.append(deliver(desk.shop, desk.store, key, destination))
        except ShopError as error:
            errors.append(error)
    return Deliveries(tuple(done), tuple(errors), waiting, everything)


def _destination(desk: Desk, to: Path | None) -> Path:
    """Where packs go. A folder outside the shop is never made: it may be a disk not connected."""
    root = desk.shop.paths.root
    destination = to or root / desk.shop.settings.delivery_folder
    if not destination.is_dir() and not destination.resolve().is_relative_to(root.resolve()):
        what = "there is no such folder, so nothing was handed over"
        fix = "connect the disk or the network folder, or make the folder, then deliver again"
        raise ShopError("destination-missing", what, fix, Where(str(destination)), ExitCode.PROBLEMS)
    return destination


def settle_pack(desk: Desk, name: str, happened: bool) -> None:
    """A person says what became of an unsure pack. Raises ShopError ``nothing-to-settle`` and others."""
    settle(desk.shop.paths, desk.store, _key(name), happened)


def _as_planned(state: LedgerState, key: PackKey, planned: Planned) -> None:
    """A pack that was made before its listings were moved would send them on the wrong day."""
    if holds_moved(state, key, planned):
        what = f"{key} was made before the plan changed: it holds listings that are not planned for that day"
        fix = "prepare the month again (hundredfold month); only what changed is made"
        raise ShopError("pack-out-of-date", what, fix, exit_code=ExitCode.PROBLEMS)


def _key(name: str) -> PackKey:
    try:
        return PackKey.parse(name.strip().rstrip("/"))
    except ValueError:
        fix = "name it like north/2026-12-01: the channel and the day"
        raise ShopError("no-such-pack", f"{name!r} names no pack", fix) from None


def _line(each: Delivery) -> str:
    if not each.done:
        return f"kept back {each.key}: it is not sound"
    size = f"{counted(each.files, 'file')}, {say_bytes(each.bytes)}" if each.files else each.note
    return f"handed over {each.key}: {size}, in {each.to}"
