"""Writes a pack: tables, archives, manifest. Shares no code with the verifier.

Nothing here knows where a pack lies: art comes through ``open_member``, files go out through
``open_output``, so that the same code serves a folder, a test in memory or a far store.
"""

import base64
import hashlib
import json
import zipfile
from collections.abc import Callable, Mapping, Sequence
from contextlib import AbstractContextManager
from dataclasses import dataclass, field
from datetime import date
from typing import IO, BinaryIO

from hundredfold.catalogue.channels import Channel
from hundredfold.catalogue.sheets import RowsOf, Sheet, TableKind
from hundredfold.handoff.asking import in_first, in_table, tables_of
from hundredfold.handoff.cells import Cell
from hundredfold.handoff.fields import RowContext
from hundredfold.handoff.forms import check_form, sheet_filler
from hundredfold.handoff.naming import Renamer, table_name
from hundredfold.handoff.parts import FilledRow, Listing, Part, divide
from hundredfold.handoff.rows import Member, PackRow, RowRole, by_listing
from hundredfold.handoff.sheets import Filler, expand
from hundredfold.handoff.tables import suffix_of, table_bytes, write_table
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
    forms: Mapping[str, bytes] = field(default_factory=dict)  # the partner's own files the sheets name


@dataclass(frozen=True)
class Packed:
    """A written pack. ``rows`` leaves out the listings the findings speak of."""

    manifest_sha256: str
    files: tuple[str, ...]
    rows: tuple[PackRow, ...]
    findings: tuple[Finding, ...]
    traces: Mapping[str, str] = field(default_factory=dict)  # by SKU, see ``row_trace``


def write_pack(order: PackOrder, open_member: OpenMember, open_output: OpenOutput) -> Packed:
    """Writes every file of the pack, the manifest last.

    A listing with a row that cannot go (a required cell empty, a text too long, past a limit) is left
    out with a finding. Raises ShopError ``member-damaged`` when a member's bytes are not those announced.
    """
    channel, sheet = order.channel, order.channel.sheet
    tables = tables_of(channel)
    for each in (sheet, *tables):
        check_form(each, order.forms.get(each.form, b""))
    listings, findings, renamer = _fill(order, tables)
    members = renamer.members
    form = order.forms.get(sheet.form, b"")
    parts, too_big = divide(listings, sheet, members, lambda rows: len(table_bytes(sheet, rows, form)))
    output = _Output(order, members, lambda name: open_member(renamer.sources[name]), open_output)
    entries, rows = [], []
    for number, part in enumerate(parts, start=1):
        mark = f"-{number:02d}" if len(parts) > 1 else ""
        entries.append(output.part(part, mark, tables))
        rows += _manifest_rows(part, number, sheet)
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
    kinds = [each.kind for each in (sheet, *tables)]
    traces = {one.row.sku: row_trace(one, kinds, members) for part in parts for one in part.rows}
    return Packed(digest, (*output.written, MANIFEST), kept, (*findings, *too_big), traces)


def canonical(value: object) -> bytes:
    """Canonical JSON: sorted keys, no spaces, UTF-8, no NaN."""
    text = json.dumps(value, sort_keys=True, separators=(",", ":"), ensure_ascii=False, allow_nan=False)
    return text.encode()


def sealed(manifest: Mapping[str, object]) -> bytes:
    """The manifest's canonical bytes with ``sha256``, the digest of the same without that key.

    So a pack shows any change of its manifest by itself, before the ledger's own digest is asked.
    """
    return canonical({**manifest, "sha256": hashlib.sha256(canonical(manifest)).hexdigest()})


def _fill(order: PackOrder, tables: Sequence[Sheet]) -> tuple[list[Listing], list[Finding], Renamer]:
    """The listings whose every cell can go, what keeps others out, and the files' final names."""
    channel = order.channel
    fillers = [(sheet, sheet_filler(channel, sheet, order.forms)) for sheet in (channel.sheet, *tables)]
    renamer = Renamer(channel, order.day, order.members)
    rates = {pair: rate.value for pair, rate in order.terms.rates.items()}
    listings: list[Listing] = []
    findings: list[Finding] = []
    for old in by_listing(order.rows):
        rows, bad = renamer.listing(old)
        head = next((row.sku for row in rows if row.role is RowRole.HEAD), "")
        filled = []
        for row in rows:
            context = RowContext(row, channel, order.day, head, rates, order.terms.tax)
            every = [
                _lines(context, filler, sheet, bad, row is rows[0])
                if (in_first(row, channel) if at == 0 else in_table(row, sheet, channel))
                else ()
                for at, (sheet, filler) in enumerate(fillers)
            ]
            filled.append(FilledRow(row, every[0], tuple(every[1:])))
        findings += bad
        if not bad:
            listings.append(tuple(filled))
    return listings, findings, renamer


def _lines(
    context: RowContext, filler: Filler, sheet: Sheet, bad: list[Finding], first: bool
) -> tuple[tuple[Cell, ...], ...]:
    """A row's lines in one table."""
    if sheet.rows is RowsOf.LISTINGS and not first:
        return ()
    lines = []
    for each in expand(context, sheet.rows):
        cells = filler.row(each)
        bad += filler.problems(each.row, cells)
        lines.append(cells)
    return tuple(lines)


def _manifest_rows(part: Part, number: int, sheet: Sheet) -> list[dict[str, object]]:
    line = sheet.lines_to_header
    rows = []
    for filled in part.rows:
        rows.append(_row(filled, number, line + 1 if filled.lines else 0, sheet.kind))
        line += len(filled.lines)
    return rows


class _Output:
    """Writes the files of a pack's parts, and keeps their names."""

    def __init__(
        self,
        order: PackOrder,
        members: Mapping[str, Member],
        open_member: OpenMember,
        open_output: OpenOutput,
    ) -> None:
        self._order = order
        self._members = members
        self._open_member = open_member
        self._open_output = open_output
        self.written: list[str] = []

    def part(self, part: Part, mark: str, tables: Sequence[Sheet]) -> dict[str, object]:
        """One part: its tables, then its art and pictures."""
        sheet = self._order.channel.sheet
        entry: dict[str, object] = {"table": self._table(sheet, part.table_lines, mark)}
        more = []
        for at, each in enumerate(tables):
            lines = [(f.row.sku, line) for f in part.rows for line in f.more[at]]
            if lines:
                told = [{"sku": sku, "cells": cells_digest(line, each.kind)} for sku, line in lines]
                made = self._table(each, [line for _, line in lines], mark)
                more.append({**made, "sheet": at + 1, "lines": told})
        names = self._order.channel.files
        archives = []
        for kind, pattern, members in (
            ("artwork", names.artwork, part.artwork),
            ("pictures", names.pictures, part.pictures),
        ):
            if members:
                listed = [self._members[name] for name in members]
                stem = table_name(pattern, self._order.channel, self._order.day)
                archives.append(self._files(kind, "" if names.loose else f"{stem}{mark}.zip", listed))
        return {**entry, "more": more, "archives": archives}

    def _table(self, sheet: Sheet, lines: Sequence[Sequence[Cell]], mark: str) -> dict[str, object]:
        stem = table_name(sheet.name, self._order.channel, self._order.day)
        name = f"{stem}{mark}.{suffix_of(sheet)}"
        with self._open_output(name) as out:
            write_table(sheet, lines, out, self._order.forms.get(sheet.form, b""))
            digest = digest_of(out)
        self.written.append(name)
        return {"file": name, "rows": len(lines), "sha256": digest}

    def _files(self, kind: str, file: str, members: Sequence[Member]) -> dict[str, object]:
        entry = {"kind": kind, "file": file, "members": [_member(member) for member in members]}
        if file:
            with self._open_output(file) as out:
                digest = write_archive(members, self._open_member, out)
            self.written.append(file)
            return {**entry, "sha256": digest}
        for member in members:
            if member.name not in self.written:
                with self._open_output(member.name) as out, self._open_member(member.name) as source:
                    _copy(source, out, member)
                self.written.append(member.name)
        return {**entry, "sha256": ""}


def digest_of(out: BinaryIO) -> str:
    """The sha256 of all that was written to ``out``."""
    out.seek(0)
    digest = hashlib.sha256()
    while block := out.read(_BLOCK):
        digest.update(block)
    return digest.hexdigest()


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
    return digest_of(out)


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
        "in_stock": row.in_stock,
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
        "lines": len(filled.lines),
        "cells": lines_digest(filled.lines, kind),
    }


def cells_digest(cells: Sequence[Cell], kind: TableKind) -> str:
    """sha256 of a line's cells as a reader gets them, apart by U+001F; numbers without trailing zeros."""
    return lines_digest([cells], kind)


def lines_digest(lines: Sequence[Sequence[Cell]], kind: TableKind) -> str:
    """sha256 of a row's lines, apart by U+001E."""
    texts = ("\x1f".join(cell.as_read(kind) for cell in cells) for cells in lines)
    return hashlib.sha256("\x1e".join(texts).encode()).hexdigest()


def row_trace(filled: FilledRow, kinds: Sequence[TableKind], members: Mapping[str, Member]) -> str:
    """A few characters for every cell and file of a row, kept by the ledger: they tell which one was changed.

    The tables' parts and at last the files' stand apart by ``/``, the lines of a table by ``.``; a cell has
    the first 24 bits of the sha256 of its text, a file those of its own, in base64 of RFC 4648, section 5.
    """
    tables = [
        ".".join("".join(_in_short(cell.as_read(kind)) for cell in line) for line in lines)
        for kind, lines in zip(kinds, (filled.lines, *filled.more), strict=True)
    ]
    row = filled.row
    names = [*(row.artwork[area] for area in sorted(row.artwork)), *(one.file for one in row.pictures)]
    files = "".join(_bits(bytes.fromhex(members[name].sha256)) for name in names)
    return "/".join([*tables, files])


def _in_short(text: str) -> str:
    return _bits(hashlib.sha256(text.encode()).digest())


def _bits(digest: bytes) -> str:
    return base64.urlsafe_b64encode(digest[:3]).decode("ascii")
