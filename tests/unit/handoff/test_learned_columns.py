"""What is told of a partner's columns becomes lines that a seller can read, and a newer form keeps theirs."""

import tomllib
from dataclasses import replace
from typing import Any

import pytest

from hundredfold.catalogue.parse_sheets import read_sheet
from hundredfold.catalogue.parsing import read_text
from hundredfold.catalogue.sheets import CellKind, Column, Cut, Sheet, TableKind, TextForm
from hundredfold.handoff.fields import getter
from hundredfold.handoff.learned import (
    FILLS,
    LearnedColumn,
    MovedColumn,
    gaps,
    keep_choices,
    learn_columns,
    their_words,
)
from hundredfold.handoff.learned_toml import column_toml, sheet_toml, words_toml
from hundredfold.learning.seen import Proposal, SeenColumn, Surety


def seen(header: str = "Head", index: int = 0, **more: Any) -> SeenColumn:
    return SeenColumn(index, header, **more)


def proposal(field: str, number: int = 0, surety: Surety = Surety.SURE, **more: Any) -> Proposal:
    about = {name: more.pop(name) for name in ("unit", "currency", "why") if name in more}
    return Proposal(seen(**more), field, number, surety, **about)


def learned(one: Proposal, *others: Proposal, **ours: tuple[str, ...]) -> LearnedColumn:
    return learn_columns([one, *others], ours, {})[0]


def test_every_fill_is_a_field_there_is() -> None:
    for field, fill in FILLS.items():
        name = fill.strip("{}").replace("#", "1")
        assert getter(name, {}) is not None, field


@pytest.mark.parametrize(
    ("one", "column"),
    [
        (proposal("sku", required=True, max_chars=40), Column("Head", "{sku}", required=True, max_chars=40)),
        (proposal("", required=True, max_chars=9, surety=Surety.GAP), Column("Head", max_chars=9)),
        (proposal("point", 3), Column("Head", "{point 3}")),
        (proposal("picture"), Column("Head", "{picture 1}")),
        (proposal("brand"), Column("Head", "{value brand}", if_empty="{shop}")),
        (proposal("pictures"), Column("Head", "{pictures}")),
        (proposal("width", unit="cm"), Column("Head", "{width}", unit="cm")),
        (proposal("width", unit="px"), Column("Head", "{width}")),
        (proposal("title", unit="cm"), Column("Head", "{title}")),
        (proposal("stock", examples=("5", "1.5")), Column("Head", "{stock}", cell=CellKind.NUMBER)),
        (proposal("stock", examples=("5", "many")), Column("Head", "{stock}")),
        (proposal("stock", examples=("1.2.3",)), Column("Head", "{stock}")),
        (proposal("stock"), Column("Head", "{stock}")),
        (proposal("weight", examples=("5",)), Column("Head", "{value weight}")),
        (proposal("price", examples=("9,50", "7")), Column("Head", "{price}", written="1234,50")),
        (proposal("price", examples=("9.50",)), Column("Head", "{price}", cell=CellKind.NUMBER)),
        (proposal("title", examples=("a, b",)), Column("Head", "{title}")),
        (proposal("price", currency="EUR"), Column("Head", "{price in EUR}")),
        (proposal("currency", currency="EUR"), Column("Head", "{currency}")),
    ],
)
def test_a_column_by_what_is_told_of_it(one: Proposal, column: Column) -> None:
    assert learned(one).column == column
    assert (learned(one).words, learned(one).wordless, learned(one).kept) == (None, (), False)


@pytest.mark.parametrize("field", ["weight", "width", "height", "depth", "diameter", "capacity"])
def test_what_is_measured_has_its_unit(field: str) -> None:
    assert learned(proposal(field, unit="in")).column.unit == "in"


def test_pictures_beside_single_ones_are_the_others() -> None:
    assert learned(proposal("pictures"), proposal("picture", 1)).column.fill == "{other pictures}"
    assert learned(proposal("picture", 1), proposal("pictures")).column.fill == "{picture 1}"


def test_a_list_of_choices_asks_for_their_words() -> None:
    one = learned(proposal("colour", allowed=("navy blue", "WHITE ")), colour=("White", "Navy Blue", "White"))
    assert one.column == Column("Head", "{colour name}", their_words="colour")
    assert (one.words, one.wordless) == ({"White": "WHITE ", "Navy Blue": "navy blue"}, ())
    same = learned(proposal("colour", allowed=("White", "Navy")), colour=("White",))
    assert (same.column.their_words, same.words, same.wordless) == ("", None, ())
    lacking = learned(proposal("colour", allowed=("White",)), colour=("White", "Teal"))
    assert (lacking.column.their_words, lacking.words, lacking.wordless) == (
        "colour",
        {"White": "White"},
        ("Teal",),
    )
    none = learned(proposal("colour", allowed=("Red",)), colour=("Teal",))
    assert (none.column.their_words, none.words, none.wordless) == ("", None, ("Teal",))
    action = learned(proposal("action", allowed=("Nothing like it",)))
    assert (action.column.their_words, action.words) == ("action", {})


def test_a_partners_words_for_what_a_row_asks() -> None:
    assert their_words("action", ("Delete", "PartialUpdate", "Create"), ()) == (
        {"new": "Create", "change": "PartialUpdate", "end": "Delete"},
        (),
    )
    assert their_words("action", ("Neu anlegen", "Ändern"), ()) == (
        {"new": "Neu anlegen", "change": "Ändern"},
        ("end",),
    )
    assert their_words("row kind", ("Parent", "Child"), ()) == ({"head": "Parent", "member": "Child"}, ())
    assert their_words("row kind", ("Simple", "x"), ()) == (
        {"member": "Simple"},
        ("head",),
    )  # each choice once
    assert their_words("size", ("S", "M"), ("s", "XL", "XL")) == ({"s": "S"}, ("XL",))
    assert their_words("size", ("S",), ()) == ({}, ())


OLD = Sheet(
    TableKind.CSV,
    (Column("SKU", "{sku}"), Column("Point", "{point 1}"), Column("Point", "{point 2}"), Column("", "x"),
     Column("Gone", "{title}"), Column("Item  price!", "{price}")),
)  # fmt: skip


def test_a_newer_form_keeps_the_sellers_lines() -> None:
    kept, moved = keep_choices(OLD, ["Point", " SKU ", "point", "New", "", "Item price", "Point"])
    assert {at: (column.header, column.fill) for at, column in kept.items()} == {
        0: ("Point", "{point 1}"),
        1: (" SKU ", "{sku}"),
        5: ("Item price", "{price}"),
        6: ("Point", "{point 2}"),
    }
    assert moved == (
        MovedColumn("Point", "B", "A"),
        MovedColumn(" SKU ", "A", "B"),
        MovedColumn("Point", "C", "G"),
        MovedColumn("Gone", "E", ""),
        MovedColumn("point", "", "C"),
        MovedColumn("New", "", "D"),
    )
    same, nothing = keep_choices(OLD, [column.header for column in OLD.columns])
    assert ([same[at].fill for at in sorted(same)], nothing) == (
        ["{sku}", "{point 1}", "{point 2}", "{title}", "{price}"],
        (),
    )


def test_a_kept_line_is_taken_as_it_is_and_is_no_gap() -> None:
    mine = Column("Head", "{sku}-x")
    gap = proposal("", surety=Surety.GAP, index=1)
    other = proposal("", surety=Surety.GAP, index=0)
    columns = learn_columns([other, gap, proposal("title", index=2)], {}, {0: mine})
    assert (columns[0].column, columns[0].kept) == (mine, True)
    assert [one.proposal.column.index for one in gaps(columns)] == [1]


def test_a_column_as_a_line_of_toml() -> None:
    assert column_toml(Column("A", "{sku}")) == '{ header = "A", fill = "{sku}" }'
    full = Column(
        "Ti\"tle", "{title}", True, 80, ("member", "new"), ("head",), "size", "{shop}", "|", "-", 3, 20,
        "1234,50", "cm", 2, TextForm.HTML, Cut.WORD, 99, CellKind.TEXT,
    )  # fmt: skip
    read = read_text(
        f'kind = "csv"\ncolumns = [{column_toml(full)}]', "page", lambda source: read_sheet(source.table)
    )
    assert read.columns == (full,)


def test_a_sheet_as_toml_says_how_sure_each_line_is() -> None:
    columns = (
        LearnedColumn(Column("A", "{sku}"), proposal("sku", header="A", why=("its heading", "its codes"))),
        LearnedColumn(Column("B", "mine"), proposal("", index=1, hidden=True, required=True), kept=True),
        LearnedColumn(
            Column("C"), proposal("", index=2, surety=Surety.GAP, why=("nothing fits",)),
            wordless=tuple("abcdefg"),
        ),
    )  # fmt: skip
    usual = Sheet(TableKind.CSV, ())
    text = sheet_toml(usual, columns, "live.csv")
    assert text.split("\n") == [
        "[sheet]  # learned from live.csv",
        'kind = "csv"',
        "columns = [",
        f"  # A  {Surety.SURE.value}: its heading; its codes",
        '  { header = "A", fill = "{sku}" },',
        "  # B  yours: kept from your file (hidden; required)",
        '  { header = "B", fill = "mine" },',
        "  # C  gap: nothing fits (no choice for a, b, c, d, e, f)",
        '  { header = "C" },',
        "]",
        "",
    ]
    odd = replace(
        usual, separator="\t", line_end="\n", encoding="cp1252", quote_all=True, max_rows=500, first_row=3,
        form="forms/a.csv",
    )  # fmt: skip
    told = tomllib.loads(sheet_toml(odd, (), "x"))["sheet"]
    assert told == {
        "kind": "csv", "form": "forms/a.csv", "first_row": 3, "encoding": "cp1252", "quote_all": True,
        "max_rows": 500, "separator": "tab", "line_ends": "unix", "columns": [],
    }  # fmt: skip
    assert tomllib.loads(sheet_toml(replace(usual, separator=";"), (), "x"))["sheet"]["separator"] == ";"


def test_their_words_as_toml() -> None:
    one = proposal("colour")
    column = Column("A", "{colour name}", their_words="colour")
    columns = (
        LearnedColumn(column, one, words={"Navy Blue": "marine"}, wordless=("Teal",)),
        LearnedColumn(column, one, words={"second": "x"}),
        LearnedColumn(Column("B", their_words="action"), one, words={"new": "add"}),
        LearnedColumn(Column("C", their_words="size"), one, words={"S": "s"}),
        LearnedColumn(Column("D"), one),
    )
    text = words_toml(columns, ("size",))
    assert text.split("\n") == [
        "",
        "[their_words.colour]",
        '"Navy Blue" = "marine"',
        '# Teal = ""  # which of their choices is it?',
        "",
        "[their_words.action]",
        'new = "add"',
        "",
    ]
    assert words_toml(columns[3:], ("size",)) == ""
