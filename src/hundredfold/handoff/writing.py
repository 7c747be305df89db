"""Writes a pack: tables, archives, manifest. Shares no code with the verifier.

Nothing here knows where a pack lies: art comes through ``open_member``, files go out through
``open_output``, so that the same code serves a folder, a test in memory or a far store.
"""

import hashlib
import json
import zipfile
from collections.abc import Callable, Mapping, Sequence
from contextlib import AbstractContextManager
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import IO, BinaryIO

from hundredfold.catalogue.channels import Channel, TableKind
from hundredfold.handoff.parts import FilledRow, Listing, Part, divide
from hundredfold.handoff.rows import Member, PackRow, RowRole, by_listing
from hundredfold.handoff.sheets import Cell, fill_row, problems
from hundredfold.handoff.tables import table_bytes
from hundredfold.handoff.terms import Terms
from hundredfold.kernel.errors import ExitCode, ShopError, Where
from hundredfold.kernel.findings import Finding

FORMAT = 1
MANIFEST = "manifest.json"
_BLOCK = 1 << 20

OpenMember = Callable[[str], AbstractContextManager[BinaryIO]]
OpenOutput = Callable[[str], AbstractContextManager[BinaryIO]]  # must write, seek and read ("w+b")


@dataclass(frozen=True)
class PackOrder:
    """What one channel gets on one day. ``members`` describes every file the rows name, by name."""

    channel: Channel
    day: date
    terms: Terms
    rows: tuple[PackRow, ...]
    members: Mapping[str, Member]


@dataclass(frozen=True)
class Packed:
    """A written pack. ``rows`` leaves out the listings the findings speak of."""

    manifest_sha256: str
    files: tuple[str, ...]
    rows: tuple[PackRow, ...]
    findings: tuple[Finding, ...]


def write_pack(order: PackOrder, open_member: OpenMember, open_output: OpenOutput) -> Packed:
    """Writes every file of the pack, the manifest last.

    A listing with a row that cannot go (a required cell empty, a text too long, past a limit) is left
    out with a finding. Raises ShopError ``member-damaged`` when a member's bytes are not those announced.
    """
    listings, findings = _fill(order)
    sheet = order.channel.sheet
    parts, too_big = divide(listings, sheet, order.members, lambda rows: len(table_bytes(sheet, rows)))
    written: list[str] = []
    entries, rows = [], []
    for number, part in enumerate(parts, start=1):
        mark = f"-{number:02d}" if len(parts) > 1 else ""
        entries.append(_write_part(part, mark, order, open_member, open_output, written))
        above = len(sheet.lines_above) + 1
        rows += [_row(filled, number, above + n, sheet.kind) for n, filled in enumerate(part.rows, start=1)]
    manifest = sealed(
        {
            "format": FORMAT,
            "channel": order.channel.code,
            "date": order.day.isoformat(),
            "terms": order.terms.as_json(),
            "parts": entries,
            "rows": rows,
        }
    )
    with open_output(MANIFEST) as out:
        out.write(manifest)
    kept = tuple(filled.row for part in parts for filled in part.rows)
    digest = hashlib.sha256(manifest).hexdigest()
    return Packed(digest, (*written, MANIFEST), kept, (*findings, *too_big))


def canonical(value: object) -> bytes:
    """Canonical JSON: sorted keys, no spaces, UTF-8, no NaN."""
    text = json.dumps(value, sort_keys=True, separators=(",", ":"), ensure_ascii=False, allow_nan=False)
    return text.encode()


def sealed(manifest: Mapping[str, object]) -> bytes:
    """The manifest's canonical bytes with ``sha256``, the digest of the same without that key.

    So a pack shows any change of its manifest by itself, before the ledger's own digest is asked.
    """
    return canonical({**manifest, "sha256": hashlib.sha256(canonical(manifest)).hexdigest()})


def _fill(order: PackOrder) -> tuple[list[Listing], list[Finding]]:
    listings: list[Listing] = []
    findings: list[Finding] = []
    for rows in by_listing(order.rows):
        head = next((row.sku for row in rows if row.role is RowRole.HEAD), "")
        filled = tuple(FilledRow(row, fill_row(row, order.channel, order.day, head)) for row in rows)
        bad = [p for f in filled for p in problems(f.row, f.cells, order.channel.sheet)]
        findings += bad
        if not bad:
            listings.append(filled)
    return listings, findings


def _write_part(
    part: Part,
    mark: str,
    order: PackOrder,
    open_member: OpenMember,
    open_output: OpenOutput,
    written: list[str],
) -> dict[str, object]:
    sheet = order.channel.sheet
    table = table_bytes(sheet, [filled.cells for filled in part.rows])
    name = f"listings{mark}.{sheet.kind.value}"
    with open_output(name) as out:
        out.write(table)
    written.append(name)
    archives = []
    for kind, names in (("artwork", part.artwork), ("pictures", part.pictures)):
        if names:
            file = f"{kind}{mark}.zip"
            members = [order.members[member] for member in names]
            with open_output(file) as out:
                digest = write_archive(members, open_member, out)
            archives.append({"file": file, "sha256": digest, "members": [_member(m) for m in members]})
            written.append(file)
    digest = hashlib.sha256(table).hexdigest()
    return {"table": {"file": name, "rows": len(part.rows), "sha256": digest}, "archives": archives}


def write_archive(members: Sequence[Member], open_member: OpenMember, out: BinaryIO) -> str:
    """Writes a ZIP of stored members, sorted by name, with fixed dates and system; answers its sha256.

    Print files and pictures are compressed already; 1980-01-01 is the earliest date a ZIP can hold, and
    system 3 (Unix) is written everywhere so that the bytes do not tell where they were made. ``out`` must
    seek and read: sizes and checksums go into each member's own header, since some readers refuse stored
    members that are followed by them instead, and the digest is taken from what was really written.
    """
    with zipfile.ZipFile(out, "w", zipfile.ZIP_STORED) as archive:
        for member in sorted(members, key=lambda m: m.name):
            info = zipfile.ZipInfo(member.name, (1980, 1, 1, 0, 0, 0))
            info.create_system = 3
            info.external_attr = 0o100644 << 16
            info.file_size = member.bytes
            with archive.open(info, "w") as target, open_member(member.name) as source:
                _copy(source, target, member)
    out.seek(0)
    digest = hashlib.sha256()
    while block := out.read(_BLOCK):
        digest.update(block)
    return digest.hexdigest()


def _copy(source: BinaryIO, target: IO[bytes], member: Member) -> None:
    digest, size = hashlib.sha256(), 0
    while block := source.read(_BLOCK):
        digest.update(block)
        size += len(block)
        target.write(block)
    if size != member.bytes or digest.hexdigest() != member.sha256:
        raise ShopError(
            "member-damaged",
            f"{member.name} is not what was made: {size} bytes of {member.bytes}, or another digest",
            "run the month again; the file is made anew",
            Where(member.name),
            ExitCode.PROBLEMS,
        )


def _member(member: Member) -> dict[str, object]:
    return {
        "name": member.name,
        "sha256": member.sha256,
        "bytes": member.bytes,
        "width_px": member.width_px,
        "height_px": member.height_px,
        "dpi": member.dpi,
    }


def _row(filled: FilledRow, part: int, line: int, kind: TableKind) -> dict[str, object]:
    row = filled.row
    return {
        "action": row.action.value,
        "revision": row.revision,
        "sku": row.sku,
        "role": row.role.value,
        "design": row.listing.design,
        "blank": row.listing.blank,
        "colour": row.colour,
        "size": row.size,
        "price": row.price.plain() if row.price else "",
        "currency": row.price.currency if row.price else "",
        "artwork": dict(row.artwork),
        "pictures": [{"role": picture.role, "file": picture.file} for picture in row.pictures],
        "part": part,
        "line": line,
        "cells": cells_digest(filled.cells, kind),
    }


def cells_digest(cells: Sequence[Cell], kind: TableKind) -> str:
    """sha256 of a row's cells as a reader gets them, apart by U+001F; numbers without trailing zeros."""
    texts = [_number(cell.text) if cell.number else cell.as_read(kind) for cell in cells]
    return hashlib.sha256("\x1f".join(texts).encode()).hexdigest()


def _number(text: str) -> str:
    return format(Decimal(text).normalize(), "f")
