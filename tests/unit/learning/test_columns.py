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
        ("ttl", "title"),
        ("prc", "price"),
        ("mtrl", "material"),
        ("dscr", "story"),
        ("Farbbezeichnung", "colour"),
        ("Tassenfarbe", "colour"),
        ("Zolltarifnr.", "customs code"),
        ("P.V.P.", "price"),
        ("Précio s/IVA", "price without tax"),
        ("Anschrift verantw. Person", "responsible address"),
        ("Garment Colour", "colour"),
        ("Keywords (comma separated)", "search words"),
        ("Tags (up to 13)", "search words"),
        ("Materialzusammensetzung in %", "materials percent"),
        ("H (mm)", "height"),
        ("Maker's postal address", "maker address"),
        ("Gewicht inkl. Verpackung (g)", "weight"),
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
        (["Hauptbild", "Zusatzbild 1", "Zusatzbild 2"], ["picture 1", "picture 2", "picture 3"]),
        (["Schlagwort 1", "Schlagwort 2"], ["search word 1", "search word 2"]),
        (["Visuel 1", "Visuel 2"], ["picture 1", "picture 2"]),
        (["Punto 1", "Punto 2"], ["point 1", "point 2"]),
        (["Imagen principal", "Imágenes"], ["picture 1", "pictures"]),
    ],
)
def test_numbers_of_several_columns(headers: list[str], names: list[str]) -> None:
    found = propose([SeenColumn(at, header) for at, header in enumerate(headers)], LISTING)
    assert [name_of(one) for one in found] == names


@pytest.mark.parametrize(
    ("header", "example", "field"),
    [
        ("Code", "5012345678900", "barcode"),
        ("Zeug", "https://pics.example/1.jpg", "picture"),
        ("Price", "GBP", "currency"),
        ("X7", "31.12.2026", "date"),
        ("Design", "bee-front.png", "artwork"),
        ("Support", "Ceramic mug", "blank name"),
    ],
)
def test_examples_outweigh_a_heading_that_says_nothing_or_another_thing(
    header: str, example: str, field: str
) -> None:
    (one,) = propose([SeenColumn(0, header, examples=(example,))], LISTING)
    assert one.field == field


@pytest.mark.parametrize("header", ["Zeug", "X7", "Code"])
def test_examples_alone_are_never_sure(header: str) -> None:
    (one,) = propose([SeenColumn(0, header, examples=("5012345678900",))], LISTING)
    assert one.surety is Surety.LIKELY


def test_choices_outweigh_the_heading() -> None:
    (one,) = propose([SeenColumn(0, "Product type", allowed=("parent", "child", "single"))], LISTING)
    assert one.field == "row kind"


@pytest.mark.parametrize("header", ["ctgr", "verantw. Person", "Stock", "Prix public", "Modell"])
def test_one_sided_or_doubtful_headings_are_never_sure(header: str) -> None:
    (one,) = propose([SeenColumn(0, header)], LISTING)
    assert one.surety is Surety.LIKELY


@pytest.mark.parametrize(
    "header", ["VAT number", "Kostenstelle", "Target audience", "Notes to printer", "Views", "Custom field 3"]
)
def test_headings_of_other_things_are_gaps(header: str) -> None:
    (one,) = propose([SeenColumn(0, header)], LISTING)
    assert one.surety is Surety.GAP


def test_an_address_after_a_maker_is_the_makers() -> None:
    headers = ["Manufacturer", "Address", "E-mail", "Responsible person", "Address", "E-mail"]
    found = propose([SeenColumn(at, header) for at, header in enumerate(headers)], LISTING)
    assert [one.field for one in found] == [
        "maker", "maker address", "maker contact", "responsible name", "responsible address",
        "responsible contact",
    ]  # fmt: skip


def test_in_an_order_to_a_printer_the_price_is_a_cost() -> None:
    headers = ["Your SKU", "Print file", "Print position", "Price"]
    found = propose([SeenColumn(at, header) for at, header in enumerate(headers)], LISTING)
    assert (found[3].field, found[3].surety) == ("base cost", Surety.LIKELY)
