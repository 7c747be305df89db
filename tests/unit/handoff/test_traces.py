"""A pack changed with every digest made to fit: the ledger's traces name row, column and file."""

import base64
import csv
import hashlib
import io
import json
from dataclasses import replace
from typing import Any

import pytest
from goods import InMemory, TinyPack, channel, design, mug, sheet, shirt, written
from test_verify_forgeries import KEY, Files, made, resealed, sha, state_of

from hundredfold.catalogue.sheets import TableKind
from hundredfold.handoff.recording import packed_event
from hundredfold.handoff.verifying import verify
from hundredfold.ledger.events import Event, Happened
from hundredfold.ledger.keys import SkuKey

TRACES = ("row-differs", "row-gone", "row-added")


def named(files: Files, events: list[Event]) -> list[tuple[str, str]]:
    found = verify(InMemory(files), state_of(events))
    return [(f.code, f.item) for f in found if f.check == "pack/history" and f.code in TRACES]


def rewritten(files: Files, header: str, old: str, new: str) -> Files:
    """One word changed in one column of the CSV, and every digest that follows from it."""
    table = list(csv.reader(io.StringIO(files["listings.csv"].decode())))
    at = table[0].index(header)
    line = next(number for number, cells in enumerate(table) if number and old in cells[at])
    table[line][at] = table[line][at].replace(old, new)
    out = io.StringIO()
    csv.writer(out).writerows(table)
    data = out.getvalue().encode()
    cells = hashlib.sha256("\x1f".join(table[line]).encode()).hexdigest()

    def change(manifest: Any) -> None:
        manifest["parts"][0]["table"].update(sha256=sha(data))
        next(row for row in manifest["rows"] if row["line"] == line + 1).update(cells=cells)

    return resealed({**files, "listings.csv": data}, change)


def test_a_whole_pack_has_nothing_to_name() -> None:
    files, events = made()
    assert named(files, events) == []


@pytest.mark.parametrize("header", ["Heading", "Point 1", "About"])
def test_a_word_changed_with_every_digest_is_named_by_line_and_column(header: str) -> None:
    files, events = made()
    table = list(csv.DictReader(io.StringIO(files["listings.csv"].decode())))
    word = table[0][header].split()[0]
    forged = rewritten(files, header, word, "Rubbish")
    line = f"listings.csv, line 2, {table[0]['Ref']}"
    assert named(forged, events) == [("row-differs", f"{line}, column {header}")]


def test_the_traces_are_the_first_24_bits_of_each_cell_s_sha256() -> None:
    files, events = made()
    table = list(csv.reader(io.StringIO(files["listings.csv"].decode())))
    first: Any = events[-1].data["rows"][0]  # type: ignore[index]
    told = first["trace"].split("/")[0]
    wanted = [base64.urlsafe_b64encode(hashlib.sha256(cell.encode()).digest()[:3]) for cell in table[1]]
    assert told == b"".join(wanted).decode()


def test_art_exchanged_with_every_digest_is_named() -> None:
    files, events = made()
    manifest = json.loads(files["manifest.json"])
    row = next(one for one in manifest["rows"] if one["artwork"])
    art = next(iter(row["artwork"].values()))

    def change(held: Any) -> None:
        for archive in held["parts"][0]["archives"]:
            for member in archive["members"]:
                if member["name"] == art:
                    member["sha256"] = "0" * 64

    found = verify(InMemory(resealed(files, change)), state_of(events))
    told = [f for f in found if f.code == "row-differs"]
    assert row["sku"] in {f.item for f in told}
    assert all(art in f.what for f in told)


def test_another_revision_a_row_too_many_and_one_too_few() -> None:
    files, events = made()

    def revision(manifest: Any) -> None:
        manifest["rows"][0]["revision"] = 9

    def other_sku(manifest: Any) -> None:
        manifest["rows"][0]["sku"] = "SOMETHING-ELSE"

    sku = json.loads(files["manifest.json"])["rows"][0]["sku"]
    assert ("row-differs", sku) in named(resealed(files, revision), events)
    found = named(resealed(files, other_sku), events)
    assert ("row-gone", sku) in found
    assert ("row-added", "SOMETHING-ELSE") in found


@pytest.mark.parametrize("kind", list(TableKind))
def test_every_kind_of_table_is_traced_as_it_is_read(kind: TableKind) -> None:
    pack = TinyPack(channel(sheet=sheet(kind)))
    pack.add(design(), mug())
    pack.add(design("sea", "sea swimmer"), shirt())
    files, packed = written(pack, [mug(), shirt()])
    given = [
        Event(
            Happened.SKU_GIVEN,
            row.sku,
            SkuKey(KEY.channel, row.listing.design, row.listing.blank, row.colour, row.size).as_data(),
        )
        for row in packed.rows
    ]
    event = packed_event(KEY, packed, pack.planned, {})
    other = replace(event, data={**event.data, "manifest": "0" * 64})
    found = verify(InMemory(files), state_of([*given, other]))
    assert {f.code for f in found if f.check == "pack/history"} == {"other-manifest"}


def test_a_pack_recorded_before_there_were_traces_is_still_another_one() -> None:
    files, events = made()
    rows: Any = events[-1].data["rows"]
    bare = [{name: value for name, value in row.items() if name != "trace"} for row in rows]
    old = [*events[:-1], replace(events[-1], data={**events[-1].data, "rows": bare})]
    forged = rewritten(files, "Heading", "a", "o")
    assert named(forged, old) == []
    assert "other-manifest" in {f.code for f in verify(InMemory(forged), state_of(old))}


def test_a_file_is_named_by_its_very_name() -> None:
    """A mark that a spreadsheet needs in front of a name would make it another file's name."""
    files, _ = made()
    table = list(csv.DictReader(io.StringIO(files["listings.csv"].decode())))
    for header in ("Print", "Picture"):
        name = table[0][header]
        forged = rewritten(files, header, name, f"'{name}")
        found = [f for f in verify(InMemory(forged)) if f.code == "wrong-cell"]
        assert [f.item for f in found] == [f"listings.csv, line 2, {table[0]['Ref']}, column {header}"]
