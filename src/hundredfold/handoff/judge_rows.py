"""Judges the manifest's rows against its own archives, areas, picture rules and daily cap."""

from collections import Counter
from collections.abc import Iterator

from hundredfold.handoff.judge_checks import CAP, MANIFEST_ITSELF, MEMBER, ROW
from hundredfold.handoff.judge_common import MANIFEST, wrong
from hundredfold.handoff.manifest_shape import (
    AreaEntry,
    Manifest,
    MemberEntry,
    PartEntry,
    PicturesEntry,
    RowEntry,
)
from hundredfold.kernel.findings import Finding

SHAPE_OFF = 0.03  # from here pictures show other goods. Common practice, no source


def judge_rows(manifest: Manifest) -> Iterator[Finding]:
    """Rows once each and in order; their art and pictures there, of the right size, and every member used."""
    for sku, count in sorted(Counter(row.sku for row in manifest.rows).items()):
        if count > 1:
            yield wrong(ROW, "sku-twice", sku, f"this SKU stands in {count} rows of the pack")
    yield from _cap(manifest)
    yield from _shapes(manifest)
    for row in manifest.rows:
        if row.part > len(manifest.parts):
            yield wrong(ROW, "no-part", row.sku, f"its part {row.part} is not in the pack")
    for number, part in enumerate(manifest.parts, start=1):
        rows = [row for row in manifest.rows if row.part == number]
        yield from _lines(part, rows, manifest.terms.sheet.top + 1)
        art, pictures = _members(part, "artwork"), _members(part, "pictures")
        for row in rows:
            yield from _artwork(row, art, manifest.terms.areas)
            yield from _pictures(row, pictures, manifest.terms.pictures)
        yield from _unused(part, rows)


def _cap(manifest: Manifest) -> Iterator[Finding]:
    cap = manifest.terms.cap
    listings = {row.listing for row in manifest.rows}
    count = len(manifest.rows) if cap.counts == "rows" else len(listings)
    if count > cap.a_day:
        what = f"{count} {cap.counts} where {manifest.channel} takes {cap.a_day} a day"
        yield wrong(CAP, "past-daily-cap", f"{manifest.channel}/{manifest.date}", what)


def _shapes(manifest: Manifest) -> Iterator[Finding]:
    """Goods with pictures have the shape that these show."""
    pictured = {row.blank for row in manifest.rows if row.pictures}
    for area in manifest.terms.areas:
        both = area.pictured
        if both is None or area.blank not in pictured:
            continue
        goods, drawn = [float(mm) for mm in both.goods_mm], [float(mm) for mm in both.drawn_mm]
        pairs = [(goods[0] * drawn[1], goods[1] * drawn[0])]
        pairs += [(float(a), float(b)) for a, b in zip(both.goods_ends_mm, both.drawn_ends_mm, strict=False)]
        off = max(abs(one / other - 1) if other else 1.0 for one, other in pairs)
        if off > SHAPE_OFF:
            size, other = (" x ".join(f"{mm:g}" for mm in pair) for pair in (goods, drawn))
            what = f"it is {size} mm, its pictures show a body of {other} mm: the shape is {off:.0%} off"
            yield wrong(ROW, "drawn-wrong", f"{area.blank}, {area.name}", what)


def _lines(part: PartEntry, rows: list[RowEntry], first: int) -> Iterator[Finding]:
    expected = first
    in_order = True
    for row in rows:
        in_order = in_order and row.line == (expected if row.lines else 0)
        expected += row.lines
    if not in_order:
        what = "its rows are not on consecutive lines of the table"
        yield wrong(MANIFEST_ITSELF, "wrong-lines", f"{MANIFEST}, rows of {part.table.file}", what)
    listed = sum(row.lines for row in rows)
    if part.table.rows != listed:
        what = f"it says {part.table.rows} rows and lists {listed}"
        yield wrong(MANIFEST_ITSELF, "wrong-count", f"{MANIFEST}, {part.table.file}", what)


def _members(part: PartEntry, kind: str) -> dict[str, MemberEntry]:
    archives = [archive for archive in part.archives if archive.kind == kind]
    return {member.name: member for archive in archives for member in archive.members}


def _artwork(row: RowEntry, members: dict[str, MemberEntry], areas: list[AreaEntry]) -> Iterator[Finding]:
    if row.action == "end" or row.role == "head":
        if row.artwork:
            yield wrong(ROW, "art-not-wanted", row.sku, f"a {row.role} row to {row.action} has art")
        return
    if not row.artwork and row.in_stock:
        yield wrong(ROW, "no-art", row.sku, "the row has no art")
    fitting = {a.name: a for a in areas if a.blank == row.blank and (not a.sizes or row.size in a.sizes)}
    for name, file in sorted(row.artwork.items()):
        item, area, member = f"{row.sku}, {name}", fitting.get(name), members.get(file)
        if area is None:
            yield wrong(ROW, "no-area", item, f"{row.blank} has no print area {name} in size {row.size!r}")
        if member is None:
            yield wrong(ROW, "art-missing", item, f"its art {file} is in no archive of its part")
        if area is not None and member is not None:
            yield from _area(item, area, member)


def _area(item: str, area: AreaEntry, member: MemberEntry) -> Iterator[Finding]:
    has, wants = (member.width_px, member.height_px), (area.width_px, area.height_px)
    if has != wants:
        what = f"{member.name} is {has[0]} x {has[1]} px; the print area is {wants[0]} x {wants[1]} px"
        yield wrong(ROW, "wrong-pixels", item, what)
    if member.dpi != area.dpi:
        what = f"{member.name} is at {member.dpi} dpi; the print area is at {area.dpi}"
        yield wrong(ROW, "wrong-dpi", item, what)
    ending = member.name.rpartition(".")[2].lower()
    if {"jpg": "jpeg", "tif": "tiff"}.get(ending, ending) != area.file_kind:
        yield wrong(ROW, "wrong-kind", item, f"{member.name} is no {area.file_kind.upper()} file")
    if area.max_bytes and member.bytes > area.max_bytes:
        what = f"{member.name} has {member.bytes} bytes; the print area takes {area.max_bytes}"
        yield wrong(ROW, "art-too-large", item, what)


def _pictures(row: RowEntry, members: dict[str, MemberEntry], rules: PicturesEntry) -> Iterator[Finding]:
    if len(row.pictures) > rules.max_count:
        what = f"{len(row.pictures)} pictures where the channel takes {rules.max_count}"
        yield wrong(ROW, "too-many-pictures", row.sku, what)
    for picture in row.pictures:
        member, item = members.get(picture.file), f"{row.sku}, {picture.file}"
        if member is None:
            yield wrong(ROW, "picture-missing", item, "the picture is in no archive of its part")
            continue
        has, wants = (member.width_px, member.height_px), (rules.width_px, rules.height_px)
        if has != wants:
            what = f"{has[0]} x {has[1]} px where the channel wants {wants[0]} x {wants[1]} px"
            yield wrong(ROW, "picture-size", item, what)
        if rules.max_bytes and member.bytes > rules.max_bytes:
            what = f"{member.bytes} bytes where the channel takes {rules.max_bytes}"
            yield wrong(ROW, "picture-too-large", item, what)


def _unused(part: PartEntry, rows: list[RowEntry]) -> Iterator[Finding]:
    used = {
        "artwork": {file for row in rows for file in row.artwork.values()},
        "pictures": {picture.file for row in rows for picture in row.pictures},
    }
    for archive in part.archives:
        for member in archive.members:
            if member.name not in used[archive.kind]:
                item = ", ".join(filter(None, (archive.file, member.name)))
                yield wrong(MEMBER, "unused", item, "no row uses this file")
