"""Packs of days that no longer have any: taken away file by file, and only what we wrote."""

import contextlib
from collections.abc import Collection

from hundredfold.kernel.findings import Finding
from hundredfold.ledger.keys import PackKey
from hundredfold.ledger.state import LedgerState
from hundredfold.workshop.shop.bench import Bench
from hundredfold.workshop.shop.checks import STRAY_PACK
from hundredfold.workshop.steps.packfiles import known_contents, pack_folder, same_file


def remove_strays(bench: Bench, wanted: Collection[PackKey], state: LedgerState) -> tuple[Finding, ...]:
    """Take away packs that the plan no longer has and that were never handed over.

    A file that a person changed or added stays, with a note.
    """
    frozen = state.frozen_days
    findings = []
    for subject, contents in known_contents(bench.store, bench.vault).items():
        key = PackKey.parse(subject)
        folder = pack_folder(bench.shop.paths, key)
        if key in wanted or key in frozen or not folder.is_dir():
            continue
        for name, digest in contents.files.items():
            if same_file(bench.memo, folder / name, digest):
                (folder / name).unlink()
        with contextlib.suppress(OSError):
            folder.rmdir()
        if folder.exists():
            findings.append(_kept(f"packs/{subject}"))
    return tuple(findings)


def _kept(item: str) -> Finding:
    return STRAY_PACK.finds(
        "kept",
        item,
        "this day has no pack any more, but its folder holds files that Hundredfold did not write",
        "look at them, then delete the folder",
    )
