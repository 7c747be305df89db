"""Re-opens a pack and trusts nothing. Shares no code with the writer.

The judges beside this file (``judge_*``, ``manifest_shape``, ``image_headers``) belong to it and import
nothing of the writer's either; import-linter holds that.
"""

import hashlib
from collections.abc import Iterator

from hundredfold.handoff.judge_archives import judge_archive
from hundredfold.handoff.judge_checks import FILE, MANIFEST_ITSELF
from hundredfold.handoff.judge_common import MANIFEST, PackSource, wrong
from hundredfold.handoff.judge_history import judge_history
from hundredfold.handoff.judge_prices import judge_prices
from hundredfold.handoff.judge_rows import judge_rows
from hundredfold.handoff.judge_tables import judge_more_table, judge_table
from hundredfold.handoff.judge_terms import Expected, judge_terms
from hundredfold.handoff.judge_traces import judge_traces
from hundredfold.handoff.manifest_shape import Manifest, read_manifest
from hundredfold.kernel.findings import Finding
from hundredfold.ledger.keys import PackKey
from hundredfold.ledger.state import LedgerState

# What the desktop systems' file browsers leave in a folder that was only looked at (from memory).
LEFT_BY_SYSTEMS = frozenset({".DS_Store", "Thumbs.db", "desktop.ini", ".directory"})


def verify(
    source: PackSource,
    state: LedgerState | None = None,
    expected: Expected | None = None,
    lies_in: str = "",
) -> tuple[Finding, ...]:
    """Everything that is wrong with a pack, each finding naming the file, row, member or field.

    ``state`` adds the shop's history: the manifest the ledger recorded, what was handed over before.
    ``expected`` adds the channel and blanks as they are now, for a pack that is not handed over yet.
    ``lies_in`` is the place whose pack this should be, ``channel/YYYY-MM-DD``, where it lies in such a place.
    """
    return tuple(_findings(source, state, expected, lies_in))


def _findings(
    source: PackSource, state: LedgerState | None, expected: Expected | None, lies_in: str
) -> Iterator[Finding]:
    if MANIFEST not in source.names():
        fix = "run the month again; the pack is made anew"
        yield wrong(MANIFEST_ITSELF, "missing", MANIFEST, "the pack has no manifest", fix)
        return
    with source.open(MANIFEST) as stream:
        data = stream.read()
    manifest, found = read_manifest(data)
    yield from found
    if manifest is None:
        return
    yield from _place(manifest, lies_in)
    yield from _files(manifest, source)
    yield from judge_terms(manifest, expected)
    forms = expected.forms if expected else {}
    yield from judge_rows(manifest)
    yield from judge_prices(manifest)
    for number, part in enumerate(manifest.parts, start=1):
        rows = [row for row in manifest.rows if row.part == number]
        if part.table.file in source.names():
            yield from judge_table(part.table, rows, manifest, source, forms)
        for more in part.more:
            if more.file in source.names():
                yield from judge_more_table(more, rows, manifest, source, forms)
        for archive in part.archives:
            if not archive.file or archive.file in source.names():
                yield from judge_archive(archive, manifest.terms.sheet.max_archive_bytes or 0, source)
    if state is not None:
        digest = hashlib.sha256(data).hexdigest()
        yield from judge_history(manifest, digest, state)
        pack = state.packs.get(PackKey(manifest.channel, manifest.date))
        if pack is not None and pack.manifest != digest:
            yield from judge_traces(manifest, pack, source, forms)


def _files(manifest: Manifest, source: PackSource) -> Iterator[Finding]:
    """Every file the manifest names is there, once; others are pointed out."""
    named = [MANIFEST]
    for part in manifest.parts:
        named += [part.table.file, *(more.file for more in part.more)]
        for archive in part.archives:
            named += [archive.file] if archive.file else [member.name for member in archive.members]
    for name in sorted(set(named)):
        if named.count(name) > 1:
            what = "the manifest names this file more than once"
            yield wrong(FILE, "named-twice", name, what, "run the month again")
        if name not in source.names():
            what = "the manifest names this file, and it is not there"
            yield wrong(FILE, "missing", name, what, "run the month again; only this file is made anew")
    for name in sorted(set(source.names()) - set(named)):
        what = "it does not belong to the pack: the manifest does not name it, and it is not handed over"
        fix = "move it out of the pack's folder"
        code = "left-by-system" if name in LEFT_BY_SYSTEMS else "unlisted"
        yield wrong(FILE, code, name, what, fix)


def _place(manifest: Manifest, lies_in: str) -> Iterator[Finding]:
    """The folder's name is the pack's: one moved to another day would go out on both."""
    says = f"{manifest.channel}/{manifest.date}"
    if lies_in and lies_in != says:
        what = f"this is the pack of {says}, and its folder says {lies_in}"
        yield wrong(FILE, "other-place", MANIFEST, what, "give the folder its own name back")
