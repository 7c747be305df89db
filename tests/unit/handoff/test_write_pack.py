import csv
import io
import json
import zipfile
from dataclasses import replace

import pytest
from goods import TinyPack, channel, design, mug, sheet, shirt, written

from hundredfold.catalogue.channels import Channel
from hundredfold.catalogue.sheets import TableKind
from hundredfold.kernel.errors import ShopError


def full(to: Channel) -> TinyPack:
    pack = TinyPack(to)
    for n in range(3):
        pack.add(design(f"bees-{n}", f"bees {n}"), mug())
        pack.add(design(f"bees-{n}", f"bees {n}"), shirt())
    return pack


def test_a_pack_has_table_archives_and_manifest() -> None:
    files, packed = written(full(channel()), [mug(), shirt()])
    assert sorted(files) == ["artwork.zip", "listings.csv", "manifest.json", "pictures.zip"]
    assert packed.findings == ()
    table = list(csv.reader(io.StringIO(files["listings.csv"].decode(), newline="")))
    assert table[1][:3] == ["add", "PG-NP-BEES0-MUG325-WHITE", "NP-M1W"]
    assert table[1][-1] == "by Puddlewick Goods, {made} to order"
    manifest = json.loads(files["manifest.json"])
    assert [row["line"] for row in manifest["rows"]] == list(range(2, 14))
    assert manifest["parts"][0]["table"]["rows"] == 12


def test_the_same_order_gives_the_same_bytes() -> None:
    xlsx = channel(sheet=sheet(TableKind.XLSX))
    for to in (channel(), xlsx):
        assert written(full(to), [mug(), shirt()]) == written(full(to), [mug(), shirt()])


def test_archives_are_stored_sorted_and_undated() -> None:
    files, _ = written(full(channel()), [mug(), shirt()])
    with zipfile.ZipFile(io.BytesIO(files["artwork.zip"])) as archive:
        entries = archive.infolist()
    assert [e.filename for e in entries] == sorted(e.filename for e in entries)
    assert {e.compress_type for e in entries} == {zipfile.ZIP_STORED}
    assert {e.date_time for e in entries} == {(1980, 1, 1, 0, 0, 0)}
    assert {e.create_system for e in entries} == {3}
    assert {e.flag_bits for e in entries} == {0}  # sizes stand in the headers themselves


@pytest.mark.parametrize(
    "limit", [{"max_rows": 5}, {"max_bytes": 2500}, {"max_archive_bytes": 6000}], ids=str
)
def test_a_new_part_begins_where_a_limit_is_reached(limit: dict[str, int]) -> None:
    to = channel(sheet=sheet(TableKind.CSV, **limit))
    files, packed = written(full(to), [mug(), shirt()])
    tables = [name for name in files if name.endswith(".csv")]
    assert len(tables) > 1
    assert packed.findings == ()
    assert len(packed.rows) == 12
    for name, data in files.items():
        if name.endswith(".csv"):
            assert len(data) <= limit.get("max_bytes", 10**9)
            assert data.count(b"\r\n") - 1 <= limit.get("max_rows", 10**9)
        elif name.endswith(".zip"):
            assert len(data) <= limit.get("max_archive_bytes", 10**9)
    parts = json.loads(files["manifest.json"])["parts"]
    assert [part["table"]["file"] for part in parts] == sorted(tables)


def test_a_listing_past_a_limit_alone_is_left_out_with_a_finding() -> None:
    to = channel(sheet=sheet(max_rows=1))
    files, packed = written(full(to), [mug(), shirt()])
    assert packed.rows == ()
    assert {f.code for f in packed.findings} == {"past-limit"}
    assert "2 rows where a table may have 1" in packed.findings[0].what
    assert list(files) == ["manifest.json"]


def test_a_row_that_cannot_go_is_left_out_with_its_listing() -> None:
    pack = full(channel())
    pack.rows[0] = replace(pack.rows[0], fields={})
    files, packed = written(pack, [mug(), shirt()])
    assert [(f.code, f.item) for f in packed.findings] == [
        ("required-empty", "PG-NP-BEES0-MUG325-WHITE, column Heading")
    ]
    assert len(packed.rows) == 10
    assert b"BEES0-MUG325" not in files["listings.csv"]


def test_a_member_that_changed_since_it_was_made_stops_the_pack() -> None:
    pack = full(channel())
    name = next(iter(pack.files))
    pack.files[name] += b"x"
    with pytest.raises(ShopError) as caught:
        written(pack, [mug(), shirt()])
    assert caught.value.slug == "member-damaged"
    assert name in str(caught.value)


def test_family_heads_come_before_their_members() -> None:
    to = channel(sheet=sheet(families=True))
    files, packed = written(full(to), [mug(), shirt()])
    assert [row.role.value for row in packed.rows[:3]] == ["head", "member", "member"]
    rows = list(csv.DictReader(io.StringIO(files["listings.csv"].decode(), newline="")))
    assert rows[0]["Ref"] == "PG-NP-BEES0-MUG325"
    assert (rows[0]["Price"], rows[0]["Code"]) == ("", "")
    assert rows[0]["Picture"] == "bees-0-MUG-325-white-main.jpg"
    assert rows[1]["Price"].endswith(".95")
