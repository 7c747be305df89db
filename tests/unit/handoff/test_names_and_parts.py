"""Names of files as a channel wants them, and where a new part begins."""

from dataclasses import replace
from datetime import date
from typing import Any

import pytest
from goods import channel, sheet
from test_cells_exactly import ROW

from hundredfold.catalogue.channels import Channel
from hundredfold.catalogue.sheets import FileNames, Sheet, TableKind
from hundredfold.handoff.cells import Cell
from hundredfold.handoff.naming import Renamer, check_names, patterns_used, table_name
from hundredfold.handoff.parts import FilledRow, archive_size, divide
from hundredfold.handoff.rows import Member, PackRow, RowPicture
from hundredfold.kernel.errors import ShopError
from hundredfold.ledger.keys import ListingKey

DAY = date(2026, 2, 1)


def named(**patterns: Any) -> Channel:
    return replace(channel(), files=FileNames(**patterns))


def test_the_name_of_a_table() -> None:
    assert table_name("{channel}_{date}-new", channel(), DAY) == "north-print_2026-02-01-new"
    assert table_name("plain", channel(), DAY) == "plain"


@pytest.mark.parametrize("key", ["print_file", "picture", "artwork", "pictures", "sheet", "more"])
def test_a_pattern_names_fields_there_are(key: str) -> None:
    def to(pattern: str) -> Channel:
        if key == "sheet":
            return replace(channel(), sheet=sheet(name=pattern))
        if key == "more":
            return replace(channel(), more_tables=(Sheet(TableKind.CSV, (), name=pattern),))
        return named(**{key: pattern})

    of_files = key in ("print_file", "picture")
    check_names(to("{date}-{channel}"), "c.toml")
    for field, known in (("sku", of_files), ("number", of_files), ("dat", False)):
        if known:
            check_names(to(f"{{{field}}}"), "c.toml")
            continue
        with pytest.raises(ShopError) as caught:
            check_names(to(f"x{{{field}}}"), "c.toml")
        where = caught.value.where
        assert where is not None
        assert (caught.value.slug, where.file) == ("unknown-field", "c.toml")
        assert where.field == (f"files.{key}" if key not in ("sheet", "more") else "name")
        assert caught.value.what == f"there is no field {{{field}}}"
    assert 'did you mean "date"?' in caught.value.fix


def members(**digests: str) -> dict[str, Member]:
    return {
        f"{name}.{'jpg' if name < 'p' else 'png'}": Member(f"{name}", digest * 64, 5, 1, 1, 300)
        for name, digest in digests.items()
    }


OLD = members(m="1", n="2", x="3", y="4", twin="3")
PICTURED = replace(
    ROW, artwork={"front": "x.png", "back": "y.png"},
    pictures=(RowPicture("main", "m.jpg"), RowPicture("more", "n.jpg")),
)  # fmt: skip


def renamed(to: Channel, *rows: PackRow) -> tuple[Renamer, tuple[PackRow, ...], list[Any]]:
    renamer = Renamer(to, DAY, OLD)
    new, problems = renamer.listing(rows)
    return renamer, new, [(f.code, f.item, f.what) for f in problems]


def test_every_field_of_a_files_name() -> None:
    print_file = "{channel} {date} {sku} {design} {blank} {colour} {size} {area} {number}{role}"
    to = named(print_file=print_file, picture="{sku}_{number}_{role}{area}")
    renamer, (row,), problems = renamed(to, PICTURED)
    stem = "north-print-2026-02-01-PG-1-D1-TEE-navy-M"
    assert row.artwork == {"back": f"{stem}-back-1.png", "front": f"{stem}-front-2.png"}
    assert [(picture.role, picture.file) for picture in row.pictures] == [
        ("main", "PG-1_1_main.jpg"), ("more", "PG-1_2_more.jpg"),
    ]  # fmt: skip
    assert problems == []
    assert renamer.sources == {
        f"{stem}-back-1.png": "y.png", f"{stem}-front-2.png": "x.png",
        "PG-1_1_main.jpg": "m.jpg", "PG-1_2_more.jpg": "n.jpg",
    }  # fmt: skip
    assert {name: (one.name, one.sha256[0]) for name, one in renamer.members.items()} == {
        f"{stem}-back-1.png": (f"{stem}-back-1.png", "4"),
        f"{stem}-front-2.png": (f"{stem}-front-2.png", "3"),
        "PG-1_1_main.jpg": ("PG-1_1_main.jpg", "1"), "PG-1_2_more.jpg": ("PG-1_2_more.jpg", "2"),
    }  # fmt: skip
    assert list(patterns_used(to)) == [print_file, "{sku}_{number}_{role}{area}"]


def test_without_a_pattern_a_file_keeps_its_name() -> None:
    renamer, (row,), problems = renamed(channel(), PICTURED)
    assert (row, problems) == (PICTURED, [])
    assert set(renamer.members) == {"m.jpg", "n.jpg", "x.png", "y.png"}
    assert list(patterns_used(channel())) == []
    assert list(patterns_used(named(picture="{sku}"))) == ["{sku}"]


@pytest.mark.parametrize(
    ("sku", "name"),
    [
        ("A/B:C  d", "A-B-C-d.png"),
        ("..", "file.png"),
        ("-x.", "x.png"),
        ("é_1.2", "é_1.2.png"),
        ("//", "file.png"),
    ],
)
def test_a_name_holds_no_signs_that_a_disk_may_refuse(sku: str, name: str) -> None:
    row = replace(PICTURED, sku=sku, artwork={"front": "x.png"}, pictures=())
    _, (new,), _ = renamed(named(print_file="{sku}"), row)
    assert new.artwork == {"front": name}


def test_one_name_is_one_file() -> None:
    same = replace(PICTURED, artwork={"back": "x.png", "front": "twin.png"}, pictures=())
    _, (row,), problems = renamed(named(print_file="{sku}"), same)
    assert (row.artwork, problems) == ({"back": "PG-1.png", "front": "PG-1.png"}, [])  # the same bytes
    what = "two different files would be named PG-1.png"
    _, _, problems = renamed(named(print_file="{sku}"), replace(PICTURED, pictures=()))
    assert problems == [("name-twice", "PG-1", what)]
    small = replace(PICTURED, sku="pg-1", artwork={"front": "x.png"}, pictures=())
    large = replace(small, sku="PG-1")
    _, _, problems = renamed(named(print_file="{sku}"), small, large)  # some disks hold only one of the two
    assert problems == [("name-twice", "PG-1", what)]


def listing(name: str, rows: int = 1, lines: int = 1) -> tuple[FilledRow, ...]:
    row = replace(
        ROW, listing=ListingKey("north", name, "TEE"), artwork={"front": f"{name}.png"},
        pictures=(RowPicture("main", f"{name}.jpg"),),
    )  # fmt: skip
    return (FilledRow(row, ((Cell(name),),) * lines),) * rows


FILES = {
    f"{name}.{kind}": Member(f"{name}.{kind}", "", size, 1, 1)
    for name in "abcd"
    for kind, size in (("png", 100), ("jpg", 50))
}
# APPNOTE 4.3: a local header of 30 bytes, a central one of 46, the name in both, and an end record of 22.
ONE_ZIP = 22 + 30 + 46 + 2 * 5 + 100


def divided(limits: dict[str, Any], *listings: tuple[FilledRow, ...]) -> tuple[list[str], list[str]]:
    """The listings of each part, and what was left out and why."""
    table = replace(sheet(), **limits)
    parts, findings = divide(listings, table, FILES, lambda lines: 10 * len(lines))
    told = ["".join(dict.fromkeys(filled.row.listing.design for filled in part.rows)) for part in parts]
    assert all(len(part.table_lines) == sum(len(filled.lines) for filled in part.rows) for part in parts)
    for part, names in zip(parts, told, strict=True):
        assert part.artwork == tuple(f"{name}.png" for name in names)
        assert part.pictures == tuple(f"{name}.jpg" for name in names)
    return told, [f"{f.code}: {f.item}: {f.what}" for f in findings]


A, B, C, D = (listing(name) for name in "abcd")


@pytest.mark.parametrize(
    ("limits", "parts"),
    [
        ({}, ["abcd"]),
        ({"max_rows": 4}, ["abcd"]),
        ({"max_rows": 3}, ["abc", "d"]),
        ({"max_rows": 1}, ["a", "b", "c", "d"]),
        ({"max_bytes": 40}, ["abcd"]),
        ({"max_bytes": 39}, ["ab", "cd"]),
        ({"max_archive_bytes": 22 + 2 * (ONE_ZIP - 22)}, ["ab", "cd"]),
        ({"max_archive_bytes": 22 + 2 * (ONE_ZIP - 22) - 1}, ["a", "b", "c", "d"]),
        ({"max_rows": 3, "max_bytes": 20}, ["a", "bc", "d"]),
    ],
)
def test_a_new_part_begins_where_a_limit_would_be_passed(limits: dict[str, int], parts: list[str]) -> None:
    assert divided(limits, A, B, C, D) == (parts, [])


def test_no_listing_is_divided() -> None:
    two = listing("b", rows=2)
    assert divided({"max_rows": 2}, A, two, C) == (["a", "b", "c"], [])
    assert divided({"max_rows": 3}, A, two, C) == (["ab", "c"], [])
    assert divided({"max_rows": 3}, A, listing("b", lines=2), C) == (["ab", "c"], [])
    assert divided({}) == ([], [])


def test_a_listing_that_alone_is_past_a_limit_is_left_out_with_the_numbers() -> None:
    three = listing("b", rows=3)
    assert divided({"max_rows": 2}, A, three, C) == (
        ["a", "c"],
        ["past-limit: north/TEE/b: 3 rows where a table may have 2"],
    )
    assert divided({"max_bytes": 20}, A, three) == (
        ["a"],
        ["past-limit: north/TEE/b: a table of 30 bytes where 20 are allowed"],
    )
    small = ONE_ZIP - 1
    assert divided({"max_archive_bytes": small}, A) == (
        [],
        [f"past-limit: north/TEE/a: its artwork make a ZIP of {ONE_ZIP} bytes where {small} are allowed"],
    )
    assert archive_size([]) == 22
