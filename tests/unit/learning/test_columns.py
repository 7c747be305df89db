"""Columns are told by header words in five languages, by choices, examples and what the shop has."""

from pathlib import Path

import pytest

from hundredfold.learning.columns import propose
from hundredfold.learning.fieldlists import LISTING
from hundredfold.learning.seen import Proposal, SeenColumn, Surety

SHEETS = Path(__file__).with_name("sheets.txt")


def labelled() -> list[tuple[str, list[SeenColumn], list[str]]]:
    found: list[tuple[str, list[SeenColumn], list[str]]] = []
    for line in SHEETS.read_text(encoding="utf-8").splitlines():
        if line.startswith("== "):
            found.append((line[3:], [], []))
        elif "|" in line and not line.startswith("#"):
            header, truth, example = (part.strip() for part in f"{line} ".split("|"))
            listed = tuple(each.strip() for each in example[1:-1].split(";")) if example[:1] == "{" else ()
            columns = found[-1][1]
            examples = (example,) if example and not listed else ()
            columns.append(SeenColumn(len(columns), header, allowed=listed, examples=examples))
            found[-1][2].append(truth.replace("main picture", "picture 1"))
    return found


def name_of(one: Proposal) -> str:
    return f"{one.field} {one.number}" if one.number else one.field or "gap"


def test_twelve_sheets_are_read() -> None:
    knowable = right = sure_wrong = columns = 0
    for _, seen, truths in labelled():
        for one, truth in zip(propose(seen, LISTING), truths, strict=True):
            same = name_of(one) == truth
            columns += 1
            knowable += truth != "gap"
            right += same and truth != "gap"
            sure_wrong += not same and one.surety is Surety.SURE
    assert columns >= 250
    assert right / knowable >= 0.95
    assert sure_wrong / columns <= 0.01


@pytest.mark.parametrize(
    ("header", "field"),
    [
        ("Verkaufspreis inkl. MwSt.", "price"),
        ("Prix de vente conseillé TTC", "reference price"),
        ("Precio sin IVA", "price without tax"),
        ("Groesse", "size"),
        ("item_sku", "sku"),
        ("Codice a barre", "barcode"),
        ("MwSt.-Satz", "tax rate"),
        ("Hersteller-Artikelnummer", "partner code"),
    ],
)
def test_one_header(header: str, field: str) -> None:
    (one,) = propose([SeenColumn(0, header)], LISTING)
    assert one.field == field


def test_what_nobody_can_tell_is_a_gap_with_a_reason() -> None:
    (one,) = propose([SeenColumn(0, "Internal cost centre")], LISTING)
    assert (one.surety, one.field) == (Surety.GAP, "")
    assert one.why


def test_choices_tell_a_column_without_a_heading() -> None:
    (one,) = propose([SeenColumn(3, "", allowed=("add", "amend", "remove"))], LISTING)
    assert one.field == "action"
    assert "add, amend, remove" in one.why[0]


def test_the_shops_own_values_tell_a_column_with_an_odd_heading() -> None:
    column = SeenColumn(0, "Stall item", examples=("PG-1", "PG-2"))
    (one,) = propose([column], LISTING, {"sku": frozenset({"PG-1", "PG-2", "PG-3"})})
    assert (one.field, one.surety) == ("sku", Surety.SURE)
    assert "one of yours" in " ".join(one.why)


def test_an_example_against_the_header_makes_it_unsure() -> None:
    (one,) = propose([SeenColumn(0, "Price", examples=("see list", "ask us"))], LISTING)
    assert one.surety is not Surety.SURE


def test_two_columns_of_one_field_are_not_both_filled() -> None:
    first, second = propose([SeenColumn(0, "SKU"), SeenColumn(1, "SKU")], LISTING)
    assert (first.field, second.field) == ("sku", "")
    assert "another column" in second.why[0]


def test_a_persons_own_choice_is_kept_and_its_field_given_to_nothing_else() -> None:
    columns = [SeenColumn(0, "Title"), SeenColumn(1, "Heading")]
    first, second = propose(columns, LISTING, chosen={1: "title"})
    assert (first.field, second.field, second.why) == ("", "title", ("you said so",))


@pytest.mark.parametrize(
    ("headers", "names"),
    [
        (["Tag", "Tag", "Tag"], ["search word 1", "search word 2", "search word 3"]),
        (["Tags"], ["search words"]),
        (["Main image", "Other image 1", "Other image 2"], ["picture 1", "picture 2", "picture 3"]),
        (["Image 1", "More images"], ["picture 1", "pictures"]),
        (["Bild 1", "Bild 2"], ["picture 1", "picture 2"]),
    ],
)
def test_numbers_of_several_columns(headers: list[str], names: list[str]) -> None:
    found = propose([SeenColumn(at, header) for at, header in enumerate(headers)], LISTING)
    assert [name_of(one) for one in found] == names
