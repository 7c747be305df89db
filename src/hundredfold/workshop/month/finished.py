"""A finished month whose every input is as it was, known by one fingerprint at the cost of a stat a file.

It is the build's own rule once more, for the whole month: equal inputs, equal outputs, nothing to make.
"""

import hashlib
import json
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from hundredfold import __version__
from hundredfold.kernel.findings import Finding
from hundredfold.ledger.keys import PackKey
from hundredfold.runner.recipes import canonical_json
from hundredfold.runner.tasks import Counts
from hundredfold.workshop.shop.bench import Bench
from hundredfold.workshop.steps.artfiles import art_digests, art_files
from hundredfold.workshop.steps.packfiles import finding_from_json, pack_folder, same_file
from hundredfold.workshop.steps.versions import step_versions

SETTING = "settled month"


@dataclass(frozen=True)
class FinishedMonth:
    """What a finished month came to, and the sha256 of each of its pack files by channel/day/name."""

    packs: tuple[PackKey, ...]
    counts: Counts
    summary: tuple[str, ...]
    to_do: tuple[Finding, ...]
    files: Mapping[str, str]


def fingerprint(bench: Bench, start: date, days: int) -> str:
    """One digest of everything that a month follows from."""
    paths = bench.shop.paths
    art, _ = art_digests(bench, art_files(paths)[0])
    plain = [paths.settings, paths.rights, paths.occasions, paths.blocked]
    if bench.shop.settings.checks_profile:
        plain.append(paths.root / bench.shop.settings.checks_profile)
    for folder in (paths.blanks, paths.channels):
        plain += sorted(folder.glob("*.toml"))
    plain += sorted(paths.designs.rglob("*.csv"))
    settings = {_name(path, paths.root): bench.memo.digest(path) for path in plain if path.is_file()}
    value = {
        "version": __version__,
        "steps": step_versions(),
        "art": art,
        "settings": settings,
        "ledger": bench.store.last_number(),
        "start": start,
        "days": days,
    }
    return hashlib.sha256(canonical_json(value).encode()).hexdigest()


def _name(path: Path, root: Path) -> str:
    return path.relative_to(root).as_posix()


def finished_month(bench: Bench, start: date, days: int) -> FinishedMonth | None:
    """The finished month, when nothing changed since and all its files are on disk; None otherwise."""
    held = bench.store.setting(SETTING)
    if not isinstance(held, str):
        return None
    value = json.loads(held)
    if value.get("fingerprint") != fingerprint(bench, start, days):
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


def remember_month(bench: Bench, start: date, days: int, month: FinishedMonth) -> None:
    """Remember a month that ended with nothing failed; every ledger row of it is written by now."""
    bench.memo.save()
    value = {
        "fingerprint": fingerprint(bench, start, days),
        "packs": [str(key) for key in month.packs],
        "outputs": month.counts.made + month.counts.reused,
        "summary": list(month.summary),
        "to_do": [finding.as_json() for finding in month.to_do],
        "files": dict(month.files),
    }
    bench.store.set_setting(SETTING, canonical_json(value))
