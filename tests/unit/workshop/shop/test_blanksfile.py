"""Filling blanks from price lists: differences are told, the seller's words stay, mistakes change nothing."""

import tomllib
from pathlib import Path

import openpyxl
import pytest

from hundredfold.catalogue.blank_changes import BlankChange, ChangeKind
from hundredfold.catalogue.blank_toml import blank_toml
from hundredfold.catalogue.parse_blanks import parse_blank
from hundredfold.catalogue.parsing import read_text
from hundredfold.kernel.errors import ShopError
from hundredfold.workshop.shop.blanksfile import Import, read_blanks_file, write_blanks
from hundredfold.workshop.shop.folder import Shop, open_shop
from hundredfold.workshop.shop.newshop import new_shop

HEAD = "Style,Product,Color,SKU,Net price,Qty,Hex,Size"
SHOT = ["SHOT-GLASS,,White,NF-SG90-WHI,2.35,9,,", "SHOT-GLASS,,Mist,NF-SG90-MIS,2.35,9,,"]
ICE = "SHOT-GLASS,,Ice,NF-SG90-ICE,2.35,9,,"


@pytest.fixture
def shop(tmp_path: Path) -> Shop:
    return new_shop(tmp_path / "shop", sample=True)


def compare(shop: Shop, *rows: str, head: str = HEAD, like: str = "") -> Import:
    path = shop.paths.root.parent / "list.csv"
    path.write_text("\n".join([head, *rows]), encoding="utf-8")
    return read_blanks_file(shop, path, like=like)


def refusal(shop: Shop, *rows: str, head: str = HEAD) -> ShopError:
    with pytest.raises(ShopError) as caught:
        compare(shop, *rows, head=head)
    return caught.value


def test_a_list_that_says_what_the_shop_says_changes_nothing(shop: Shop) -> None:
    done = compare(shop, *SHOT, ICE)
    assert (done.changes, done.unchanged, dict(done.texts)) == ((), 3, {})
    assert len(done.not_listed) == 10


def changed(item: str, what: str, was: str, now: str) -> BlankChange:
    return BlankChange(ChangeKind.CHANGED, "SHOT-GLASS", item, what, was, now)


CODE = "NF-SG90-ICE"


@pytest.mark.parametrize(
    ("old", "new", "change"),
    [
        ("2.35", "2.40", changed(CODE, "base cost", "2.35", "2.40")),
        (",9,", ",0,", BlankChange(ChangeKind.OUT, "SHOT-GLASS", CODE, now="ice 2.35")),
        (",9,", ",discontinued,", BlankChange(ChangeKind.ENDED, "SHOT-GLASS", CODE, now="ice 2.35")),
        (",9,,", ",9,#eef3f5,", changed("colour ice", "hex", "#eef3f4", "#eef3f5")),
        (CODE, "X-1", changed(CODE, "partner code", CODE, "X-1")),
        (CODE, "", None),
        ("SHOT-GLASS", "shot-glass", None),
    ],
)
def test_one_difference(shop: Shop, old: str, new: str, change: BlankChange | None) -> None:
    done = compare(shop, *SHOT, ICE.replace(old, new))
    assert done.changes == ((change,) if change else ())


def test_a_variant_missing_from_the_list_is_discontinued_and_comes_back(shop: Shop) -> None:
    done = compare(shop, *SHOT)
    assert [(change.kind, change.item) for change in done.changes] == [(ChangeKind.ENDED, "NF-SG90-ICE")]
    write_blanks(shop, done)
    again = open_shop(shop.paths.root)
    assert [variant.discontinued for variant in again.blank("SHOT-GLASS").variants] == [False, False, True]
    back = compare(again, *SHOT, ICE)
    assert [change.kind for change in back.changes] == [ChangeKind.RETURNED]


def test_comments_and_hand_edits_stay(shop: Shop) -> None:
    path = shop.paths.blanks / "shot-glass.toml"
    text = path.read_text(encoding="utf-8").replace(
        'NF-SG90-WHI = { colour = "white", base_cost = "2.35" }',
        "# everybody's choice\nNF-SG90-WHI = {  colour='white',base_cost = \"2.35\" } # from the old list",
    )
    path.write_text(text, encoding="utf-8")
    done = compare(open_shop(shop.paths.root), *SHOT, ICE.replace("2.35", "2.40"))
    (edited,) = done.texts.values()
    assert edited == text.replace(
        'NF-SG90-ICE = { colour = "ice", base_cost = "2.35" }',
        'NF-SG90-ICE = { colour = "ice", base_cost = "2.40" }',
    )


def test_reading_twice_finds_nothing_more_to_do(shop: Shop) -> None:
    rows = [*SHOT, "SHOT-GLASS,,Amber,NF-SG90-AMB,2.60,4,#c98a2b,"]
    write_blanks(shop, compare(shop, *rows))
    again = compare(open_shop(shop.paths.root), *rows)
    assert (again.changes, dict(again.texts)) == ((), {})


def test_partner_codes_may_change_places(shop: Shop) -> None:
    swapped = [SHOT[0].replace("-WHI", "-MIS"), SHOT[1].replace("-MIS", "-WHI"), ICE]
    write_blanks(shop, compare(shop, *swapped))
    again = open_shop(shop.paths.root)
    codes = {variant.colour: variant.partner_code for variant in again.blank("SHOT-GLASS").variants}
    assert codes == {"white": "NF-SG90-MIS", "mist": "NF-SG90-WHI", "ice": "NF-SG90-ICE"}


def test_a_code_passed_on_to_another_colour_is_told(shop: Shop) -> None:
    error = refusal(shop, SHOT[0].replace("-WHI", "-ICE"), SHOT[1])
    assert (error.slug, error.where.row, error.where.field) == ("code-taken", 2, "SKU")
    assert "already the code of ice 2.35" in error.what


def test_a_new_blank_like_one_there_is(shop: Shop) -> None:
    rows = ["MUG-330,Squat mug,Navy,N1,4.25,50,,", "MUG-330,Squat mug,Coral,N2,4.25,50,ff7f50,"]
    done = compare(shop, *rows, like="MUG-325")
    write_blanks(shop, done)
    blank = open_shop(shop.paths.root).blank("MUG-330")
    assert (blank.name, blank.areas, blank.body) == (
        "Squat mug",
        shop.blank("MUG-325").areas,
        shop.blank("MUG-325").body,
    )
    assert [colour.srgb.hex for colour in blank.colours] == ["#22304f", "#ff7f50"]  # the shop has a navy
    assert compare(open_shop(shop.paths.root), *rows, like="MUG-325").changes == ()


def test_a_new_blank_like_one_there_is_has_its_measures_of_the_sizes_it_shares(shop: Shop) -> None:
    rows = ["TEE-2,Light tee,White,T1,4.25,50,,L", "TEE-2,Light tee,White,T2,4.25,50,,S"]
    write_blanks(shop, compare(shop, *rows, like="T-SHIRT"))
    blank, like = open_shop(shop.paths.root).blank("TEE-2"), shop.blank("T-SHIRT")
    assert [one.size for one in blank.sizes] == ["S", "L"]
    assert (like.body.size, blank.body.size, blank.body.width_mm) == ("M", "", like.body.width_mm)


def test_each_size_has_the_measures_that_its_rows_tell(shop: Shop) -> None:
    rows = ["TB,Slim tumbler,White,T1,4,5,,350 ml,72,140", "TB,Slim tumbler,White,T2,5,5,,500 ml,,170"]
    head = f"{HEAD},Diameter mm,Body height mm,Width px,Height px,DPI"
    write_blanks(shop, compare(shop, *(f"{row},900,900,300" for row in rows), head=head, like="TUMBLER"))
    blank = open_shop(shop.paths.root).blank("TB")
    told = [(one.size, one.diameter_mm, one.height_mm) for one in blank.sizes]
    assert told == [("350 ml", 72, 140), ("500 ml", 88, 170)]
    assert (blank.body.size, blank.body.diameter_mm, blank.body.height_mm) == told[0]
    assert blank.body.visible_width_mm == shop.blank("TUMBLER").body.visible_width_mm


def test_a_new_blank_from_the_list_alone_with_areas_by_size(shop: Shop) -> None:
    head = "Blank,Name,Colour,Hex,Size,SKU,Cost,Postage,Form,Material,Process,Width px,Height px,DPI"
    rest = "6.00,3.00,T-shirt,cotton,direct-to-garment"
    rows = [
        f"TEE,Tee,Black,#111111,S,T-S,{rest},3000,4000,300",
        f"TEE,Tee,Black,#111111,M,T-M,{rest},3300,4400,300",
        f"TEE,Tee,Black,#111111,L,T-L,{rest},3300,4400,300",
    ]
    write_blanks(shop, compare(shop, *rows, head=head))
    blank = open_shop(shop.paths.root).blank("TEE")
    assert [(area.name, area.width_px, area.for_sizes) for area in blank.areas] == [
        ("front-s", 3000, ("S",)),
        ("front-m", 3300, ("M", "L")),
    ]


def test_a_new_blank_whose_material_cannot_take_its_process_is_a_finding(shop: Shop) -> None:
    head = "Blank,Colour,Hex,Cost,Postage,Form,Material,Process,Width px,Height px,DPI"
    done = compare(shop, "TEA,White,#ffffff,3,3,tea towel,cotton,sublimation,900,900,150", head=head)
    assert [finding.check for finding in done.findings] == ["catalogue/process-and-material"]


def test_what_a_new_blank_lacks_is_said_at_once(shop: Shop) -> None:
    error = refusal(shop, "MUG-330,Squat mug,Navy,N1,4.25,50,,")
    assert error.what.endswith("postage, form, material, process, width px, height px, dpi")
    assert "--like" in error.fix


@pytest.mark.parametrize(
    ("rows", "slug", "row", "field"),
    [
        ([ICE.replace("2.35", "-2.35")], "negative-amount", 2, "Net price"),
        ([ICE.replace("2.35", "2.3.5")], "bad-amount", 2, "Net price"),
        ([ICE.replace(",9,", ",soon,")], "unknown-value", 2, "Qty"),
        ([ICE.replace(",9,,", ",9,clear,")], "bad-colour", 2, "Hex"),
        ([SHOT[0], SHOT[0]], "row-twice", 3, "SKU"),
        ([SHOT[0], SHOT[0].replace("NF-SG90-WHI", "X")], "row-twice", 3, "Color"),
        ([ICE.replace("SHOT-GLASS", "")], "missing-cell", 2, "Style"),
        ([ICE.replace("SHOT-GLASS", "A/B")], "bad-code", 2, "Style"),
        ([ICE.replace("Ice", "")], "missing-cell", 2, "Color"),
        (["SHOT-GLASS,,Tangerine,T,2,9,,"], "missing-cell", 2, "Hex"),
        (["SHOT-GLASS,,White,NEW,,9,,XXL"], "missing-cell", 2, "Net price"),
        ([], "empty-list", None, ""),
    ],
)
def test_one_mistake_names_its_row_and_column(
    shop: Shop, rows: list[str], slug: str, row: int | None, field: str
) -> None:
    error = refusal(shop, *rows)
    found = next(one for one in (error, *error.others) if one.slug == slug)
    assert (found.where.file, found.where.row, found.where.field) == ("list.csv", row, field)


@pytest.mark.parametrize(
    ("head", "slug", "said"),
    [
        ("Style,Color,SKU", "missing-column", "base cost"),
        ("Color,SKU,Cost", "missing-column", "blank"),
        ("one,two,three", "missing-column", "no row of headers"),
        ("Style,Color,SKU,Cost,cost", "column-twice", 'both "Cost" and "cost"'),
    ],
)
def test_headers_that_do_not_do(shop: Shop, head: str, slug: str, said: str) -> None:
    error = refusal(shop, "a,b,c,d,e", head=head)
    assert error.slug == slug
    assert said in error.what


def test_every_mistake_is_told_and_nothing_is_written(shop: Shop) -> None:
    before = {path: path.read_bytes() for path in shop.paths.blanks.iterdir()}
    error = refusal(shop, ICE.replace("2.35", "dear"), SHOT[0].replace("2.35", "cheap"))
    assert [one.where.row for one in (error, *error.others)] == [2, 3]
    assert {path: path.read_bytes() for path in shop.paths.blanks.iterdir()} == before


def test_a_worksheet_by_name(shop: Shop, tmp_path: Path) -> None:
    book = openpyxl.Workbook()
    assert book.active is not None
    book.active.append(["just", "a", "cover"])
    sheet = book.create_sheet("Prices")
    for line in (HEAD, *SHOT, ICE.replace("2.35", "2.4")):
        sheet.append([float(cell) if cell[:1].isdigit() else cell for cell in line.split(",")])
    book.save(tmp_path / "list.xlsx")
    done = read_blanks_file(shop, tmp_path / "list.xlsx", sheet="prices")
    assert [(change.was, change.now) for change in done.changes] == [("2.35", "2.40")]
    with pytest.raises(ShopError) as caught:
        read_blanks_file(shop, tmp_path / "list.xlsx", sheet="price")
    assert (caught.value.slug, caught.value.fix) == ("unknown-sheet", 'did you mean "Prices"?')


def test_every_sample_blank_survives_being_written_and_read(shop: Shop) -> None:
    for blank in shop.blanks:
        text = blank_toml(blank, "GBP")
        assert tomllib.loads(text)["code"] == blank.code
        assert read_text(text, "blank.toml", lambda source: parse_blank(source, "GBP")) == blank
