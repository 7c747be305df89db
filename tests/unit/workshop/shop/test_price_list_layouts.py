"""Price lists as partners lay them out: worksheets, sizes across, prices by number, five languages."""

import tomllib
from collections.abc import Mapping, Sequence
from decimal import Decimal
from pathlib import Path
from typing import Any

import openpyxl
import pytest

from hundredfold.catalogue.suitability import blank_findings
from hundredfold.handoff.rows import measures_of
from hundredfold.kernel.errors import ShopError
from hundredfold.workshop.shop.blanksfile import Import, read_blanks_file, write_blanks
from hundredfold.workshop.shop.folder import Shop, open_shop
from hundredfold.workshop.shop.newshop import new_shop


@pytest.fixture
def shop(tmp_path: Path) -> Shop:
    return new_shop(tmp_path / "shop", sample=True)


def book(folder: Path, sheets: Mapping[str, Sequence[list[Any]]]) -> Path:
    made = openpyxl.Workbook()
    for name, rows in sheets.items():
        page = made.create_sheet(name)
        for row in rows:
            page.append(list(row))
    del made["Sheet"]
    made.save(folder / "list.xlsx")
    return folder / "list.xlsx"


def listed(folder: Path, *lines: str) -> Path:
    path = folder / "list.csv"
    path.write_text("\n".join(lines), encoding="utf-8")
    return path


def added(shop: Shop, path: Path, **how: object) -> tuple[Shop, Import]:
    done = read_blanks_file(shop, path, **how)  # type: ignore[arg-type]
    write_blanks(shop, done)
    return open_shop(shop.paths.root), done


def costs(shop: Shop, code: str) -> dict[tuple[str, str], str]:
    return {(v.colour, v.size): str(v.base_cost) for v in shop.blank(code).variants}


def test_a_welcome_page_first_and_several_worksheets(shop: Shop, tmp_path: Path) -> None:
    head = ["Artikelnummer", "Modellnummer", "Farbe", "EK-Preis netto", "Bestand"]
    path = book(
        tmp_path,
        {
            "Willkommen": [["Guten Tag!"], [], ["Alle Preise verstehen sich netto, ab Werk."]],
            "Tassen": [["Preisliste 2027"], [], head, ["K1", "KRUG", "White", 3.1, "auf Lager"]],
            "Becher": [head, ["B1", "BECHER", "White", 4, "ausverkauft"], ["B2", "BECHER", "Navy", 4.2, 7]],
            "Versand": [["Land", "Preis"], ["DE", 4.9]],
        },
    )
    now, done = added(shop, path, like="MUG-325")
    assert costs(now, "KRUG") == {("white", ""): "3.10 GBP"}
    assert costs(now, "BECHER") == {("white", ""): "4.00 GBP", ("navy", ""): "4.20 GBP"}
    assert [variant.in_stock for variant in now.blank("BECHER").variants] == [False, True]
    assert {change.blank for change in done.changes} == {"KRUG", "BECHER"}


def test_a_worksheet_without_a_column_for_the_blank_is_one_by_its_name(shop: Shop, tmp_path: Path) -> None:
    rows: list[list[Any]] = [["Colour", "SKU", "Cost"], ["White", "A1", 3]]
    now, _ = added(shop, book(tmp_path, {"Big mug": rows}), like="MUG-325")
    assert (now.blank("BIG-MUG").name, costs(now, "BIG-MUG")) == ("Big mug", {("white", ""): "3.00 GBP"})


@pytest.mark.parametrize(
    "head",
    [
        "Style code;Colour;Size;SKU;Cost price;In stock",
        "Modellnummer;Farbe;Größe;Art.-Nr.;EK-Preis;Verfügbar",
        "Code modèle;Coloris;Taille;Réf.;Prix d'achat HT;Disponibilité",
        "Código de modelo;Color;Talla;Referencia;Precio de coste;Existencias",
        "Codice modello;Colore;Taglia;Cod. articolo;Costo unitario;Giacenza",
        "mdl_cd;clr;sz;art_no;base cost;stk_qty",
    ],
)
def test_headings_in_five_languages_and_short(shop: Shop, tmp_path: Path, head: str) -> None:
    now, _ = added(shop, listed(tmp_path, head, "TEE-2;White;S;T1;4,25;9"), like="T-SHIRT")
    (variant,) = now.blank("TEE-2").variants
    told = (variant.colour, variant.size, variant.partner_code, str(variant.base_cost), variant.in_stock)
    assert told == ("white", "S", "T1", "4.25 GBP", True)


def test_sizes_across(shop: Shop, tmp_path: Path) -> None:
    rows = ["Style,Colour,S,M,XL", "TEE-2,White,4.10,4.10,4.90", "TEE-2,Black,4.60,-,"]
    now, _ = added(shop, listed(tmp_path, *rows), like="T-SHIRT")
    assert costs(now, "TEE-2") == {
        ("white", "S"): "4.10 GBP", ("white", "M"): "4.10 GBP", ("white", "XL"): "4.90 GBP",
        ("black", "S"): "4.60 GBP",
    }  # fmt: skip


def test_a_wrong_cell_of_a_size_column_is_named(shop: Shop, tmp_path: Path) -> None:
    rows = ["Style,Colour,S,M", "TEE-2,White,4.10,4.20", "TEE-2,Black,1.2.3,4.60"]
    with pytest.raises(ShopError) as caught:
        added(shop, listed(tmp_path, *rows), like="T-SHIRT")
    assert (caught.value.slug, str(caught.value.where)) == ("bad-amount", "list.csv, row 3, S")


def test_one_code_for_several_sizes_is_told(shop: Shop, tmp_path: Path) -> None:
    path = listed(tmp_path, "Style,Colour,SKU,S,M", "TEE-2,White,T9,4.10,4.20")
    now, done = added(shop, path, like="T-SHIRT")
    assert [variant.partner_code for variant in now.blank("TEE-2").variants] == ["T9-S", "T9-M"]
    assert "codes by size were made up" in " ".join(done.notes)


@pytest.mark.parametrize(
    ("pieces", "cost"), [(1, "4.10"), (9, "4.10"), (10, "3.80"), (49, "3.80"), (70, "3.50")]
)
@pytest.mark.parametrize("bands", ["1-9,10-49,50+", "1,10,50", "ab 1 Stk.,ab 10 Stk.,ab 50 Stk."])
def test_prices_by_number(shop: Shop, tmp_path: Path, bands: str, pieces: int, cost: str) -> None:
    path = listed(tmp_path, f"Style,Colour,SKU,{bands}", "KRUG,White,K1,4.10,3.80,3.50")
    now, done = added(shop, path, like="MUG-325", pieces=pieces)
    assert costs(now, "KRUG") == {("white", ""): f"{cost} GBP"}
    assert f"for {pieces} at once" in " ".join(done.notes)


@pytest.mark.parametrize(
    ("head", "row"),
    [
        ("Style;Colour;Cost", "KRUG;White;€4.10"),
        ("Style;Colour;Cost", "KRUG;White;4,10 EUR"),
        ("Style;Colour;Cost EUR", "KRUG;White;4,10"),
        ("Style;Colour;Preis (€)", "KRUG;White;4,10"),
        ("Style;Colour;Cost;Currency", "KRUG;White;4,10;EUR"),
    ],
)
def test_a_new_blank_is_kept_in_the_currency_its_list_states(
    shop: Shop, tmp_path: Path, head: str, row: str
) -> None:
    path = listed(tmp_path, f"{head};Postage;Form;Material;Process;Width px;Height px;DPI",
                  f"{row};3;Tasse;Keramik;Sublimationsdruck;2480;945;300")  # fmt: skip
    (text,) = read_blanks_file(shop, path).texts.values()
    krug = tomllib.loads(text)
    assert (krug["currency"], krug["postage"], krug["form"]) == ("EUR", "3.00", "mug")
    assert [one["base_cost"] for one in krug["variants"].values()] == ["4.10"]


@pytest.mark.parametrize("cell", ["€2.35", "2.35 EUR", "EUR 2.35", "$2.35"])
def test_a_known_blank_takes_no_other_currency(shop: Shop, tmp_path: Path, cell: str) -> None:
    with pytest.raises(ShopError) as caught:
        added(shop, listed(tmp_path, "Style,Colour,Cost", f"SHOT-GLASS,White,{cell}"))
    assert (caught.value.slug, str(caught.value.where)) == ("bad-amount", "list.csv, row 2, Cost")
    assert "not in GBP" in caught.value.what


def test_a_seller_says_which_column_is_what(shop: Shop, tmp_path: Path) -> None:
    path = listed(tmp_path, "Style,Shade no.,Ours,Theirs", "KRUG,White,9.99,4.10")
    words = {"base cost": "Theirs", "colour": "shade no."}
    now, done = added(shop, path, like="MUG-325", columns=words)
    assert costs(now, "KRUG") == {("white", ""): "4.10 GBP"}
    assert done.unused == ("Ours",)


@pytest.mark.parametrize(
    ("words", "slug", "hint"),
    [
        ({"base cost": "Thiers"}, "no-such-column", 'did you mean "Theirs"?'),
        ({"base costs": "Theirs"}, "bad-column", 'did you mean "base cost"?'),
    ],
)
def test_a_word_that_fits_no_column(
    shop: Shop, tmp_path: Path, words: dict[str, str], slug: str, hint: str
) -> None:
    path = listed(tmp_path, "Style,Colour,Cost,Theirs", "KRUG,White,9.99,4.10")
    with pytest.raises(ShopError) as caught:
        added(shop, path, columns=words)
    assert (caught.value.slug, caught.value.fix) == (slug, hint)


def test_measures_are_read_in_their_units(shop: Shop, tmp_path: Path) -> None:
    # 1 in = 25.4 mm and 1 US fl oz = 29.5735 ml: NIST Handbook 44, appendix C.
    path = listed(
        tmp_path, "Style;Colour;Cost;Durchmesser (cm);Height;Capacity (oz)", "KRUG;White;4;8,2;4 in;11"
    )
    now, _ = added(shop, path, like="MUG-325")
    body = now.blank("KRUG").body
    assert (body.diameter_mm, body.height_mm) == (82, 101.6)
    assert body.capacity_ml == pytest.approx(325.309, abs=0.001)


def test_borrowed_measures_are_named_and_told_to_no_buyer(shop: Shop, tmp_path: Path) -> None:
    like = shop.blank("MUG-325")
    path = listed(tmp_path, "Style,Colour,Cost,Height mm", "KRUG,White,4,101")
    now, done = added(shop, path, like="MUG-325")
    krug = now.blank("KRUG")
    assert krug.body.height_mm == 101
    assert krug.body.diameter_mm == like.body.diameter_mm
    assert "diameter_mm" in krug.borrowed
    assert "height_mm" not in krug.borrowed
    told = measures_of(krug, krug.variants[0])
    assert [(name, one.amount) for name, one in told.items()] == [("height", Decimal("101.0"))]
    (finding,) = [one for one in blank_findings(krug) if one.check == "catalogue/borrowed-measures"]
    assert "diameter_mm" in finding.what
    assert finding in done.findings
    assert 'borrowed = ["diameter_mm"' in (now.paths.blanks / "krug.toml").read_text(encoding="utf-8")


def test_a_blank_that_the_list_measures_borrows_nothing(shop: Shop, tmp_path: Path) -> None:
    head = "Style,Colour,Cost,Width px,Height px,DPI,Postage,Form,Material,Process,Diameter mm,Height mm"
    path = listed(tmp_path, head, "KRUG,White,4,2480,945,300,3,mug,coated ceramic,sublimation,82,95")
    now, _ = added(shop, path)
    assert now.blank("KRUG").borrowed == ()


def test_headings_between_the_rows_are_passed_over_and_told(shop: Shop, tmp_path: Path) -> None:
    path = listed(tmp_path, "Style,Colour,Cost", "Mugs,,", "KRUG,White,4", ",,", "Prices without tax,,")
    now, done = added(shop, path, like="MUG-325")
    assert costs(now, "KRUG") == {("white", ""): "4.00 GBP"}
    assert done.notes == ("row 2, 5: one cell only, taken for a heading or a remark",)


def test_the_same_goods_on_two_worksheets_are_told_by_worksheet(shop: Shop, tmp_path: Path) -> None:
    rows: list[list[Any]] = [["Style", "Colour", "SKU", "Cost"], ["KRUG", "White", "K1", 4]]
    path = book(tmp_path, {"UK": rows, "Export": rows})
    with pytest.raises(ShopError) as caught:
        added(shop, path, like="MUG-325")
    assert str(caught.value.where) == 'list.xlsx, worksheet "Export", row 2, SKU'
    assert "--sheet" in caught.value.fix
    now, _ = added(shop, path, like="MUG-325", sheet="uk")
    assert costs(now, "KRUG") == {("white", ""): "4.00 GBP"}
