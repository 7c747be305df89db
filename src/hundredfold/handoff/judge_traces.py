"""Names the rows, columns and files of a pack that are not what the ledger recorded when it was made.

Whoever changes a pack can make every digest in it fit again; the ledger then knows that it is another one.
Its traces say where: 24 bits of each cell's and file's sha256, row by row. A change that gives the same 24
bits (one in 16.8 million) is not named; that the pack is another one shows all the same.
"""

import base64
import hashlib
from collections.abc import Iterator, Mapping

from hundredfold.handoff.judge_checks import HISTORY
from hundredfold.handoff.judge_common import PackSource, wrong
from hundredfold.handoff.judge_tables import filled_up, opened_table
from hundredfold.handoff.manifest_shape import Manifest, PartEntry, RowEntry, SheetEntry
from hundredfold.kernel.findings import Finding
from hundredfold.ledger.state import PackState, RowSent

_LENGTH = 4  # characters of one trace
_AGAIN = "run the month again: it writes a pack that has not gone out anew; one that has, send nothing of it"


def judge_traces(
    manifest: Manifest, pack: PackState, source: PackSource, forms: Mapping[str, bytes]
) -> Iterator[Finding]:
    """What differs from the pack that the ledger recorded, for one whose manifest is another."""
    recorded = {row.sku: row for row in pack.rows}
    there = {row.sku for row in manifest.rows}
    for sku in sorted(recorded.keys() - there):
        yield wrong(HISTORY, "row-gone", sku, "the pack was made with a row of this SKU", _AGAIN)
    for sku in sorted(there - recorded.keys()):
        yield wrong(HISTORY, "row-added", sku, "the pack was made without a row of this SKU", _AGAIN)
    for number, part in enumerate(manifest.parts, start=1):
        rows = [row for row in manifest.rows if row.part == number and row.sku in recorded]
        yield from _tables(part, rows, manifest, recorded, source, forms)
        for row in rows:
            yield from _asked(row, recorded[row.sku])
            yield from _files(row, part, recorded[row.sku])


def _asked(row: RowEntry, recorded: RowSent) -> Iterator[Finding]:
    now, was = (row.action, row.revision), (recorded.action, recorded.revision)
    if now != was:
        what = f"it asks for {row.action}, revision {row.revision}; recorded is {was[0]}, revision {was[1]}"
        yield wrong(HISTORY, "row-differs", row.sku, what, _AGAIN)


def _tables(
    part: PartEntry,
    rows: list[RowEntry],
    manifest: Manifest,
    recorded: Mapping[str, RowSent],
    source: PackSource,
    forms: Mapping[str, bytes],
) -> Iterator[Finding]:
    first = manifest.terms.sheet
    if part.table.file in source.names():
        grid, _ = opened_table(part.table, first, source, forms)
        for row in rows if grid is not None else ():
            lines = (grid or [])[row.line - 1 : row.line - 1 + row.lines] if row.lines else []
            traced = _section(recorded[row.sku], 0, manifest)
            yield from _lines(part.table.file, row.line, row.sku, lines, first, traced)
    for more in part.more:
        if more.file not in source.names() or more.sheet > len(manifest.terms.more_sheets):
            continue
        sheet = manifest.terms.more_sheets[more.sheet - 1]
        grid, _ = opened_table(more, sheet, source, forms)
        for sku, own in _by_sku([line.sku for line in more.lines]).items():
            if sku in recorded and grid is not None:
                body = grid[sheet.top :]
                lines = [body[at] for at in own if at < len(body)]
                traced = _section(recorded[sku], more.sheet, manifest)
                yield from _lines(more.file, sheet.top + 1 + own[0], sku, lines, sheet, traced)


def _by_sku(skus: list[str]) -> dict[str, list[int]]:
    found: dict[str, list[int]] = {}
    for at, sku in enumerate(skus):
        found.setdefault(sku, []).append(at)
    return found


def _section(recorded: RowSent, table: int, manifest: Manifest) -> str | None:
    """A row's traces of one table; None where they were not kept or are of other tables."""
    parts = recorded.trace.split("/")
    return parts[table] if len(parts) == 2 + len(manifest.terms.more_sheets) else None


def _lines(
    file: str, first: int, sku: str, lines: list[list[str]], sheet: SheetEntry, traced: str | None
) -> Iterator[Finding]:
    if traced is None:
        return
    kept = traced.split(".") if traced else []
    if len(kept) != len(lines):
        what = f"{len(lines)} lines of this row, and {len(kept)} were recorded"
        yield wrong(HISTORY, "row-differs", f"{file}, line {first}, {sku}", what, _AGAIN)
        return
    for number, (line, trace) in enumerate(zip(lines, kept, strict=True), start=first):
        marks = [trace[at : at + _LENGTH] for at in range(0, len(trace), _LENGTH)]
        item = f"{file}, line {number}, {sku}"
        if len(marks) != len(sheet.columns):
            what = f"{len(sheet.columns)} columns, and {len(marks)} were recorded"
            yield wrong(HISTORY, "row-differs", item, what, _AGAIN)
            continue
        for column, cell, mark in zip(sheet.columns, filled_up(line, sheet), marks, strict=True):
            if _mark(hashlib.sha256(cell.encode()).digest()) != mark:
                what = f"{cell[:60]!r} is not what was recorded when the pack was made"
                yield wrong(HISTORY, "row-differs", f"{item}, column {column.header}", what, _AGAIN)


def _files(row: RowEntry, part: PartEntry, recorded: RowSent) -> Iterator[Finding]:
    if not recorded.trace:
        return
    digests = {member.name: member.sha256 for archive in part.archives for member in archive.members}
    names = [*(row.artwork[area] for area in sorted(row.artwork)), *(one.file for one in row.pictures)]
    text = recorded.trace.rpartition("/")[2]
    kept = [text[at : at + _LENGTH] for at in range(0, len(text), _LENGTH)]
    if len(kept) != len(names):
        what = f"it names {len(names)} files, and {len(kept)} were recorded"
        yield wrong(HISTORY, "row-differs", row.sku, what, _AGAIN)
        return
    for name, mark in zip(names, kept, strict=True):
        if name in digests and _mark(bytes.fromhex(digests[name])) != mark:
            what = f"{name} is not the file that was recorded when the pack was made"
            yield wrong(HISTORY, "row-differs", row.sku, what, _AGAIN)


def _mark(digest: bytes) -> str:
    return base64.urlsafe_b64encode(digest[:3]).decode("ascii")
