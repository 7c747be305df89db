"""Kinds of headings that lead astray: rows of values, whose number it is, parents, capitals, qualifiers."""

from collections.abc import Sequence

import pytest

from hundredfold.learning.columns import propose
from hundredfold.learning.fieldlists import LISTING, PRICE_LIST
from hundredfold.learning.headings import find_headings
from hundredfold.learning.seen import Proposal, SeenColumn, Surety
from hundredfold.learning.sheet import Seen


def told(*headers: str) -> tuple[Proposal, ...]:
    return propose([SeenColumn(at, header) for at, header in enumerate(headers)], LISTING)


def fields(*headers: str) -> list[str]:
    return [one.field or "gap" for one in told(*headers)]


def seen(rows: Sequence[Sequence[str]], file: str = "sheet.csv") -> Seen:
    cells = tuple({at: text for at, text in enumerate(row) if text} for row in rows)
    return Seen(file, "", cells, len(rows) - 1)


def test_a_row_of_values_beside_machine_names_is_not_the_header() -> None:
    keys = [
        "item_code",
        "headline",
        "brand_name",
        "tag_1",
        "tag_2",
        "photo_1",
        "price",
        "colour",
        "size",
        "stock",
    ]
    values = ["MG-1", "Owl title mug", "Tags brand", "owl gift", "mug name", "https://p.example/14-back.jpg",
              "12.50", "blue", "M", "80"]  # fmt: skip
    found = find_headings(seen([keys, values, values]), LISTING)
    assert found is not None
    assert (found.row, found.first_row) == (0, 1)
    assert [column.header for column in found.columns] == keys


def test_rows_that_say_the_same_below_are_not_the_header() -> None:
    values = ["Title mug", "Blue", "Size M", "Brand tag", "Category mugs"]
    rows = [["c1", "headline", "shade", "c4", "c5"], values, values, values]
    found = find_headings(seen(rows), LISTING)
    assert found is None or found.row == 0


def test_a_row_for_people_above_machine_names_is_still_the_header() -> None:
    people = ["Your SKU", "Listing title", "Price", "Colour"]
    found = find_headings(seen([people, ["own_sku", "list_title", "sale_price", "col_name"]]), LISTING)
    assert found is not None
    assert (found.row, found.key_row) == (0, 1)


@pytest.mark.parametrize(
    "header", ["Supplier's product number", "Lieferantenartikelnummer", "Référence fournisseur", "SUPP NO"]
)
def test_a_suppliers_number_is_the_sellers_own_where_no_other_is(header: str) -> None:
    assert fields(header, "Title", "Price")[0] == "sku"
    assert fields("SKU", header, "Title", "Price")[:2] == ["sku", "partner code"]
    assert fields(header, "Garment name", "Print file")[0] == "partner code"


def test_a_persons_own_word_for_a_suppliers_number_is_kept_and_a_price_list_has_no_sku() -> None:
    columns = [SeenColumn(0, "Supplier code"), SeenColumn(1, "Title"), SeenColumn(2, "Price")]
    assert propose(columns, LISTING, chosen={0: "partner code"})[0].field == "partner code"
    own = [SeenColumn(0, "Supplier code", examples=("K-7",)), *columns[1:]]
    assert propose(own, LISTING, {"partner code": frozenset({"K-7"})})[0].field == "partner code"
    assert propose(columns, PRICE_LIST)[0].field == "partner code"


def test_numbers_of_pieces_and_sizes_may_be_headings() -> None:
    rows = [
        ["Style code", "Name", "Colour", "1", "10", "50", "100"],
        ["A1", "Cup", "Red", "2.10", "2", "1.8", "1"],
    ]
    found = find_headings(seen(rows), PRICE_LIST)
    assert found is not None
    assert found.row == 0


@pytest.mark.parametrize(
    ("header", "field"),
    [
        ("PAR SKU", "family sku"),
        ("Oberprodukt-Nummer", "family sku"),
        ("Parent or variant", "row kind"),
        ("Padre / Variante", "row kind"),
        ("Ober-/Unterprodukt", "row kind"),
        ("V/K", "row kind"),
    ],
)
def test_words_of_parents(header: str, field: str) -> None:
    assert fields(header) == [field]


@pytest.mark.parametrize("choices", [("P", "V"), ("O", "U"), ("v", "k")])
def test_choices_of_two_letters_tell_a_rows_kind(choices: tuple[str, ...]) -> None:
    (one,) = propose([SeenColumn(0, "Level", allowed=choices)], LISTING)
    assert one.field == "row kind"


def test_a_models_code_that_the_skus_begin_with_is_the_familys() -> None:
    columns = [
        SeenColumn(0, "SKU", examples=("QF-CUP-1", "QF-CUP-2")),
        SeenColumn(1, "Model code", examples=("QF-CUP", "QF-CUP")),
        SeenColumn(2, "Title", examples=("Otter cup", "Heron cup")),
    ]
    assert [one.field for one in propose(columns, LISTING)] == ["sku", "family sku", "title"]
    other = [columns[0], SeenColumn(1, "Model code", examples=("B-77", "B-77")), columns[2]]
    assert [one.field for one in propose(other, LISTING)][1] == "blank code"


@pytest.mark.parametrize(
    ("header", "field"),
    [
        ("RSP", "price"),
        ("COMM CD", "customs code"),
        ("COO", "origin"),
        ("PK SIZE", "pack quantity"),
        ("L/T", "dispatch days"),
        ("A/U/D", "action"),
        ("LNG DESC", "story"),
        ("WDTH CM", "width"),
        ("SELL PR", "price"),
        ("LIST PR", "reference price"),
        ("LD TM", "dispatch days"),
        ("SHP CST", "postage"),
        ("MTL", "material"),
    ],
)
def test_capitals_cut_short(header: str, field: str) -> None:
    assert fields(header) == [field]


def test_cut_short_words_are_read_by_their_row() -> None:
    assert fields("SKU", "DESC SHRT", "DESC LONG", "W CM", "H CM", "D CM") == [
        "sku", "title", "story", "width", "height", "depth",
    ]  # fmt: skip
    assert fields("SKU", "Title", "DESC SHORT", "DESC LONG")[1] == "title"


@pytest.mark.parametrize(
    ("header", "field"),
    [
        ("Titel englisch", "title"),
        ("Größe laut Tabelle", "size"),
        ("Material as on the label", "material"),
        ("Couleur comme en boutique", "colour"),
        ("Kategorie lt. Liste", "category"),
        ("Handelsname", "title"),
        ("Hersteller: Firmenname", "maker"),
    ],
)
def test_a_qualifier_never_decides(header: str, field: str) -> None:
    assert fields(header) == [field]


@pytest.mark.parametrize("header", ["Print height (mm)", "Druckhöhe in cm", "Largeur du visuel (mm)"])
def test_measures_of_the_print_are_a_gap(header: str) -> None:
    assert fields(header) == ["gap"]


@pytest.mark.parametrize(
    "header",
    ["Box height (cm)", "Garnfarbe", "Photo credit", "Didascalia foto 1", "Row hash", "Alt text image 2"],
)
def test_what_belongs_to_the_box_the_machine_or_the_caption_is_a_gap(header: str) -> None:
    assert fields(header) == ["gap"]


def test_a_partners_own_name_in_a_heading_says_only_whose() -> None:
    rows = [
        ["Larkmere goods form"],
        ["Your SKU", "Larkmere aisle", "Larkmere variant code", "Larkmere ID", "Title"],
    ]
    found = find_headings(seen(rows, "larkmere.csv"), LISTING)
    assert found is not None
    assert [one.field for one in propose(found.columns, LISTING)] == [
        "sku", "category", "partner code", "", "title",
    ]  # fmt: skip


def test_only_headings_borne_out_by_values_or_choices_are_sure() -> None:
    (bare,) = propose([SeenColumn(0, "Price")], LISTING)
    (filled,) = propose([SeenColumn(0, "Price", examples=("12.50",))], LISTING)
    (listed,) = propose([SeenColumn(0, "Colour", allowed=("Red", "Blue", "Green"))], LISTING)
    assert [one.surety for one in (bare, filled, listed)] == [Surety.LIKELY, Surety.SURE, Surety.SURE]


def test_words_in_a_row_are_search_words_and_a_strange_one_is_not() -> None:
    assert [one.number for one in told("Mot 1", "Mot 2", "Mot 3") if one.field == "search word"] == [1, 2, 3]
    assert fields("Odd word") == ["gap"]


def test_numbers_are_an_index_only_in_their_series() -> None:
    numbers = [one.number for one in told("Photo 1", "Photo 2", "Photo 14")]
    assert numbers == [1, 2, 3]
    assert [one.number for one in told(*(f"Tag {at}" for at in range(1, 14)))] == list(range(1, 14))


def test_a_selling_price_in_an_order_to_a_printer_stays_one() -> None:
    assert fields("Your SKU", "Print file", "Retail price")[2] == "price"
    assert fields("SKU", "Title", "Retail EUR")[2] == "price"
