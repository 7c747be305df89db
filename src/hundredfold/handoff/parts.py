"""Divides a pack's listings into numbered parts where a channel's row, byte or ZIP limit is reached.

A listing is never divided, and a part carries all the files its rows name, so that it stands alone.
"""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass

from hundredfold.catalogue.sheets import Sheet
from hundredfold.handoff.cells import Cell
from hundredfold.handoff.checks import PARTS
from hundredfold.handoff.rows import Member, PackRow
from hundredfold.kernel.findings import Finding

# Bytes of a stored ZIP member beside its data and twice its name, and of the end record (APPNOTE 4.3).
_PER_MEMBER, _END = 30 + 46, 22


@dataclass(frozen=True)
class FilledRow:
    """A row with its lines, as they go into the channel's tables."""

    row: PackRow
    lines: tuple[tuple[Cell, ...], ...]  # in the first table: one, none, or one a picture
    more: tuple[tuple[tuple[Cell, ...], ...], ...] = ()  # in each of the further tables


Listing = tuple[FilledRow, ...]


@dataclass(frozen=True)
class Part:
    """One numbered part: its rows and the members of its two archives, by name."""

    rows: tuple[FilledRow, ...]
    artwork: tuple[str, ...]
    pictures: tuple[str, ...]

    @property
    def table_lines(self) -> list[tuple[Cell, ...]]:
        """The lines of the first table, in order."""
        return [line for filled in self.rows for line in filled.lines]


def divide(
    listings: Sequence[Listing],
    sheet: Sheet,
    members: Mapping[str, Member],
    table_size: Callable[[Sequence[Sequence[Cell]]], int],
) -> tuple[tuple[Part, ...], tuple[Finding, ...]]:
    """Parts in order, and a finding for each listing that alone is past a limit and so was left out.

    ``table_size`` answers the finished table's bytes.
    """
    parts: list[Part] = []
    findings: list[Finding] = []
    for run in _runs(listings, sheet):
        good, bad = _within(run, sheet, members, table_size)
        parts += good
        findings += bad
    return tuple(parts), tuple(findings)


def _runs(listings: Sequence[Listing], sheet: Sheet) -> list[list[Listing]]:
    """Listings in runs of at most ``max_rows`` rows; one listing may be past it and is judged later."""
    runs: list[list[Listing]] = []
    rows = 0
    for listing in listings:
        taken = sum(len(filled.lines) for filled in listing)
        if not runs or (sheet.max_rows and rows + taken > sheet.max_rows):
            runs.append([])
            rows = 0
        runs[-1].append(listing)
        rows += taken
    return runs


def _within(
    run: list[Listing],
    sheet: Sheet,
    members: Mapping[str, Member],
    table_size: Callable[[Sequence[Sequence[Cell]]], int],
) -> tuple[list[Part], list[Finding]]:
    """The run as one part when it keeps the limits, else as its two halves, and so on."""
    part = _part(run)
    broken = _broken(part, sheet, members, table_size)
    if not broken:
        return [part], []
    if len(run) == 1:
        row = run[0][0].row
        fix = "ask the channel for a higher limit, or offer fewer colours and sizes in this listing"
        return [], [PARTS.finds("past-limit", str(row.listing), broken, fix)]
    middle = len(run) // 2
    left, right = (_within(half, sheet, members, table_size) for half in (run[:middle], run[middle:]))
    return left[0] + right[0], left[1] + right[1]


def _part(run: Iterable[Listing]) -> Part:
    rows = tuple(filled for listing in run for filled in listing)
    artwork = {file for filled in rows for file in filled.row.artwork.values()}
    pictures = {picture.file for filled in rows for picture in filled.row.pictures}
    return Part(rows, tuple(sorted(artwork)), tuple(sorted(pictures)))


def _broken(
    part: Part,
    sheet: Sheet,
    members: Mapping[str, Member],
    table_size: Callable[[Sequence[Sequence[Cell]]], int],
) -> str:
    """The limit the part is past, in words; "" when it keeps them all."""
    if sheet.max_rows and len(part.table_lines) > sheet.max_rows:
        return f"{len(part.table_lines)} rows where a table may have {sheet.max_rows}"
    for words, names in (("artwork", part.artwork), ("pictures", part.pictures)):
        size = archive_size(members[name] for name in names)
        if sheet.max_archive_bytes and size > sheet.max_archive_bytes:
            return f"its {words} make a ZIP of {size} bytes where {sheet.max_archive_bytes} are allowed"
    if sheet.max_bytes:
        size = table_size(part.table_lines)
        if size > sheet.max_bytes:
            return f"a table of {size} bytes where {sheet.max_bytes} are allowed"
    return ""


def archive_size(members: Iterable[Member]) -> int:
    """The bytes of a ZIP with these members stored, below the 4 GiB where longer records begin."""
    return _END + sum(_PER_MEMBER + 2 * len(member.name.encode()) + member.bytes for member in members)
