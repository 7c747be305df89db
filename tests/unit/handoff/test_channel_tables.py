"""A channel's tables as it wants them: written, judged by the other side, and what cannot be said is told."""

import csv
import hashlib
import io
import json
from dataclasses import replace
from typing import Any

import pytest
from goods import InMemory, TinyPack, channel, design, mug, sheet, written
from partnerbooks import HEADERS, partner_book
from test_verify_forgeries import made, resealed

from hundredfold.catalogue.channels import Asks, Channel
from hundredfold.catalogue.sheets import Column, FileNames, RowsOf, Sheet, TableKind
from hundredfold.catalogue.values import unsaid
from hundredfold.handoff.asking import cannot_ask
from hundredfold.handoff.judge_terms import Expected
from hundredfold.handoff.verifying import verify
from hundredfold.handoff.writing import write_pack
from hundredfold.planning.listings import Action

CSV = TableKind.CSV
SKUS = Sheet(CSV, (Column("SKU", "{sku}"), Column("File", "{file}")), rows=RowsOf.PICTURES, name="images")
FORM = "channels/forms/kite.xlsx"
FILLS = ("{action}", "{sku}", "{title}", "{story}", "{colour name}", "", "{price}", "{picture 1}")
WORDS = {0: "action", 4: "colour"}
KITE = Sheet(
    TableKind.XLSX,
    tuple(
        Column(
            header, FILLS[at] if at < len(FILLS) else "", their_words={0: "action", 4: "colour"}.get(at, "")
        )
        for at, (header, _) in enumerate(HEADERS)
    ),
    worksheet="Products",
    form=FORM,
    first_row=5,
)


def codes_of(to: Channel, change: Any = None) -> tuple[dict[str, bytes], set[str]]:
    pack = TinyPack(to)
    pack.add(design("sea", "sea"), mug())
    if change:
        pack.rows[0] = replace(pack.rows[0], **change)
    files, packed = written(pack, [mug()])
    return files, {finding.code for finding in packed.findings}


def test_any_dialect_is_written_and_read_back_by_the_judge() -> None:
    table = sheet(
        CSV, separator=";", encoding="cp1252", line_end="\n", quote_all=True, numbers_written="1234,50"
    )
    to = channel(sheet=replace(table, lines_below=(("note",),)))
    files, found = codes_of(to)
    assert found == set()
    rows = list(csv.reader(io.StringIO(files["listings.csv"].decode("cp1252"), newline=""), delimiter=";"))
    assert (rows[1], "," in rows[2][7]) == (["note"], True)
    assert verify(InMemory(files), expected=Expected(to, (mug(),))) == ()


def test_tables_beside_the_first_loose_files_and_names_by_pattern() -> None:
    to = channel(
        more_tables=(SKUS,),
        files=FileNames(print_file="{sku}-{area}", picture="{sku}_{number}", loose=True),
    )
    files, found = codes_of(to)
    assert found == set()
    images = list(csv.reader(io.StringIO(files["images.csv"].decode(), newline="")))
    sku = images[1][0]
    assert images[1] == [sku, f"{sku}_1.jpg"]
    assert {f"{sku}_1.jpg", f"{sku}-wrap.png"} <= set(files)
    assert not any(name.endswith(".zip") for name in files)
    assert verify(InMemory(files), expected=Expected(to, (mug(),))) == ()


def test_two_files_of_one_name_keep_the_listing_out() -> None:
    _, found = codes_of(channel(files=FileNames(picture="{design}")))
    assert found == {"name-twice"}


@pytest.mark.parametrize(
    ("column", "code"),
    [
        (Column("Farbe", "{colour name}", their_words="colour"), "cannot-say"),
        (Column("Whole", "{price}", written="1234"), "cannot-say"),
        (Column("Arrow", "→ {sku}"), "no-such-sign"),
    ],
    ids=str,
)
def test_what_the_channel_cannot_take_is_told_by_name(column: Column, code: str) -> None:
    table = sheet(CSV, columns=(column,), encoding="cp1252")
    _, found = codes_of(
        channel(sheet=table, their_words={"colour": {"White": "Weiss"}, "action": {"*": "x"}})
    )
    assert found == {code}


def form_pack(words: dict[str, str]) -> tuple[Channel, dict[str, bytes], set[str]]:
    to = channel(sheet=KITE, their_words={"action": {"new": "add"}, "colour": words})
    pack = TinyPack(to)
    pack.add(design("sea", "sea"), mug())
    order = replace(pack.order([mug()]), forms={FORM: partner_book()})
    files: dict[str, bytes] = {}

    class Kept(io.BytesIO):
        def __init__(self, name: str) -> None:
            super().__init__()
            self.name = name

        def __exit__(self, *_: object) -> None:
            files[self.name] = self.getvalue()

    packed = write_pack(order, pack.open_member, Kept)
    return to, files, {finding.code for finding in packed.findings}


def test_a_word_that_a_drop_down_lacks_keeps_the_listing_out() -> None:
    assert form_pack({"*": "Teal"})[2] == {"not-a-choice"}


def test_a_changed_form_is_seen_by_the_judge() -> None:
    to, files, found = form_pack({"White": "White", "Navy": "Navy"})
    assert found == set()
    now = Expected(to, (mug(),), {FORM: partner_book()})
    assert [f for f in verify(InMemory(files), expected=now) if f.check == "pack/table"] == []
    other = partner_book(example=False).replace(b"xl/comments/comment1.xml", b"xl/comments/comment2.xml")
    later = verify(InMemory(files), expected=Expected(to, (mug(),), {FORM: other}))
    assert "form-changed" in {finding.code for finding in later}


@pytest.mark.parametrize(
    ("code", "change"),
    [
        ("unknown-table", lambda more: more.update(sheet=7)),
        ("row-unknown", lambda more: more["lines"][0].update(sku="nobody")),
    ],
)
def test_forged_further_tables(code: str, change: Any) -> None:
    files, _ = codes_of(channel(more_tables=(SKUS,)))
    forged = resealed(files, lambda m: change(m["parts"][0]["more"][0]))
    found = {(finding.check, finding.code) for finding in verify(InMemory(forged))}
    assert ("pack/table", code) in found


def test_a_further_table_is_read_line_by_line() -> None:
    """A cell or a line changed by hand, with digests that fit."""
    files, _ = codes_of(channel(more_tables=(replace(SKUS, only_for=("new",)),)))
    lines = files["images.csv"].split(b"\r\n")

    def forged(table: bytes) -> set[tuple[str, str]]:
        def fit(manifest: Any) -> None:
            manifest["parts"][0]["more"][0]["sha256"] = hashlib.sha256(table).hexdigest()

        return {(f.code, f.item) for f in verify(InMemory(resealed({**files, "images.csv": table}, fit)))}

    sku = lines[1].split(b",")[0].decode()
    place = f"images.csv, line 2, {sku}"
    assert forged(b"\r\n".join(lines)) == set()
    other = b"\r\n".join([lines[0], lines[1].replace(b".jpg", b".png"), *lines[2:]])
    assert ("row-changed", place) in forged(other)
    swapped = b"\r\n".join([lines[0], b"X" + lines[1][1:], *lines[2:]])
    assert {("wrong-cell", f"{place}, column SKU"), ("row-changed", place)} <= forged(swapped)
    more = b"\r\n".join([*lines[:2], lines[1], *lines[2:]])
    assert ("row-count", "images.csv") in forged(more)
    assert ("header", "images.csv, line 1") in forged(b"\r\n".join([b"SKU,Fil", *lines[1:]]))


def test_a_row_that_does_not_belong_into_a_table() -> None:
    files, _ = codes_of(channel(more_tables=(replace(SKUS, only_for=("new",)),)))
    forged = resealed(files, lambda m: m["terms"]["more_sheets"][0].update(only_for=["end"]))
    assert "row-not-meant" in {finding.code for finding in verify(InMemory(forged))}


def test_ends_by_hand_stand_in_a_list_of_their_own() -> None:
    to = channel(ends=Asks.BY_HAND)
    files, _ = codes_of(to, {"action": Action.END, "price": None, "artwork": {}, "pictures": ()})
    rows = list(csv.reader(io.StringIO(files["do-by-hand.csv"].decode(), newline="")))
    assert rows[1][0] == "end"
    first = list(csv.reader(io.StringIO(files["listings.csv"].decode(), newline="")))
    assert rows[1][1] not in {row[1] for row in first}
    manifest = json.loads(files["manifest.json"])
    assert sorted(row["line"] for row in manifest["rows"]) == [0, 2]


def test_a_channel_that_cannot_say_end_or_change_is_told() -> None:
    silent = channel(sheet=sheet(CSV, columns=(Column("SKU", "{sku}"),)))
    assert {finding.code for finding in cannot_ask(silent, "c.toml")} == {"no-end", "no-change"}
    assert list(cannot_ask(channel(), "c.toml")) == []
    by_hand = replace(silent, ends=Asks.BY_HAND, changes=Asks.BY_HAND)
    assert list(cannot_ask(by_hand, "c.toml")) == []


def test_what_a_listing_must_say_is_told_with_the_caution() -> None:
    to = channel(must_say=("origin", "maker"))
    told = list(unsaid(to, replace(mug(), values=(("origin", "GB"),)), {}, mug().variants))
    assert [(finding.check, finding.code) for finding in told] == [("catalogue/must-say", "unsaid")]
    assert "maker" in told[0].what
    assert "local rules decide" in told[0].fix
    assert list(unsaid(to, mug(), {"origin": "GB", "maker": "Us"}, mug().variants)) == []


def test_the_pack_made_for_forgeries_is_sound() -> None:
    assert made()[0]
