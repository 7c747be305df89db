"""A finished month whose every input is as it was, known at the cost of a stat a file.

It is the build's own rule once more, for the whole month: equal inputs, equal outputs, nothing to make. Which
files it was prepared from is no list that somebody keeps: the door to them notes what was read
(``workshop/shop/files.py``).
"""

import json
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from hundredfold import __version__
from hundredfold.kernel.findings import Finding
from hundredfold.ledger.keys import PackKey
from hundredfold.runner.recipes import canonical_json
from hundredfold.runner.tasks import Counts
from hundredfold.workshop.shop.bench import Bench
from hundredfold.workshop.shop.files import FileNotes, still
from hundredfold.workshop.steps.allsteps import step_versions
from hundredfold.workshop.steps.packfiles import finding_from_json, pack_folder, same_file

SETTING = "settled month"


@dataclass(frozen=True)
class FinishedMonth:
    """What a finished month came to, and the sha256 of each of its pack files by channel/day/name."""

    packs: tuple[PackKey, ...]
    counts: Counts
    summary: tuple[str, ...]
    to_do: tuple[Finding, ...]
    files: Mapping[str, str]


def followed_from(bench: Bench, start: date, days: int, last_row: int) -> dict[str, object]:
    """What a month follows from beside the shop's files, whose notes are kept with it."""
    settings = {name: value for name, value in bench.store.settings().items() if name != SETTING}
    return {
        "program": __version__,
        "steps": step_versions(),
        "settings": settings,
        "ledger": last_row,
        "start": start.isoformat(),
        "days": days,
    }


def finished_month(bench: Bench, start: date, days: int) -> FinishedMonth | None:
    """The finished month, when nothing changed since and all its files are on disk; None otherwise."""
    held = bench.store.setting(SETTING)
    if not isinstance(held, str):
        return None
    value = json.loads(held)
    now = followed_from(bench, start, days, bench.store.last_number())
    if value.get("from") != json.loads(canonical_json(now)):
        return None
    if not still(bench.shop.paths.root, FileNotes(**value["read"]), bench.memo):
        return None
    for name, digest in value["files"].items():
        subject, _, file = name.rpartition("/")
        folder = pack_folder(bench.shop.paths, PackKey.parse(subject))
        if not same_file(bench.memo, folder / file, digest):
            return None
    return FinishedMonth(
        tuple(map(PackKey.parse, value["packs"])),
        Counts(reused=value["outputs"], read=bench.memo.read, rehashed=bench.memo.rehashed),
        tuple(value["summary"]),
        tuple(map(finding_from_json, value["to_do"])),
        value["files"],
    )


def remember_month(bench: Bench, start: date, days: int, last_row: int, month: FinishedMonth) -> None:
    """Remember a month that ended with nothing failed; ``last_row`` is the newest row it follows from."""
    bench.memo.save()
    value = {
        "from": followed_from(bench, start, days, last_row),
        "read": bench.shop.files.notes().as_json(),
        "packs": [str(key) for key in month.packs],
        "outputs": month.counts.made + month.counts.reused,
        "summary": list(month.summary),
        "to_do": [finding.as_json() for finding in month.to_do],
        "files": dict(month.files),
    }
    bench.store.set_setting(SETTING, canonical_json(value))
