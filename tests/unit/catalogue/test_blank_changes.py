"""Any list on any blank: the edited file says exactly the new blank, and the list then changes nothing."""

from dataclasses import replace
from decimal import Decimal

from hypothesis import given
from hypothesis import strategies as st

from hundredfold.catalogue.blank_changes import edit_blank_file, update_blank
from hundredfold.catalogue.blank_toml import blank_toml
from hundredfold.catalogue.blanks import Blank, BlankColour, Body, Orientation, PrintArea
from hundredfold.catalogue.cells import Stock
from hundredfold.catalogue.forms import Form
from hundredfold.catalogue.parse_blanks import parse_blank
from hundredfold.catalogue.parsing import read_text
from hundredfold.catalogue.pricecolumns import PriceColumns
from hundredfold.catalogue.pricelist import PriceList, PriceRow
from hundredfold.catalogue.processes import Material, Process
from hundredfold.kernel.colour import Srgb
from hundredfold.kernel.errors import ShopError
from hundredfold.kernel.grid import Grid
from hundredfold.kernel.money import Money

TABLE = PriceColumns(Grid("a.csv", "", ()), 1, {}, {}, {})
COLOURS = ("White", "Navy", "Café crème", "Red", "Sky blue")
SIZES = ("", "S", "10 oz", '5"')
COSTS = st.integers(0, 9999).map(lambda pence: Money(Decimal(pence).scaleb(-2), "GBP"))
SRGB = st.builds(Srgb, *[st.integers(0, 255)] * 3)
CODES = st.sampled_from(["A", "B-1", "C 2", "d.3", 'E"4', "F'5", "", "Ü6"])


@st.composite
def price_rows(draw: st.DrawFn, sized: bool) -> list[PriceRow]:
    pairs = draw(
        st.lists(
            st.tuples(st.sampled_from(COLOURS), st.sampled_from(SIZES[1:] if sized else ("",))),
            unique=True,
            min_size=1,
            max_size=8,
        )
    )
    codes = draw(st.lists(CODES, min_size=len(pairs), max_size=len(pairs)))
    rows: list[PriceRow] = []
    for number, ((colour, size), code) in enumerate(zip(pairs, codes, strict=True), start=2):
        unique = code if code and code not in [row.partner_code for row in rows] else ""
        rows.append(
            PriceRow(
                row=number,
                table=TABLE,
                blank="GLASS",
                name="Glass",
                colour=colour,
                colour_code="",
                srgb=draw(SRGB),
                second=draw(st.none() | SRGB),
                underbase=draw(st.none() | st.booleans()),
                size=size,
                partner_code=unique,
                base_cost=draw(COSTS),
                stock=draw(st.none() | st.sampled_from(Stock)),
                postage=None,
            )
        )
    first = {row.colour: row for row in reversed(rows)}  # a list does not contradict itself about a colour
    return [
        replace(
            row,
            srgb=first[row.colour].srgb,
            second=first[row.colour].second,
            underbase=first[row.colour].underbase,
        )
        for row in rows
    ]


def starting_blank() -> Blank:
    zero = Money(Decimal(3), "GBP")
    return Blank(
        code="GLASS",
        name="Glass",
        form=Form.SHOT_GLASS,
        material=Material.COATED_GLASS,
        process=Process.SUBLIMATION,
        orientation=Orientation.ANY,
        areas=(PrintArea("wrap", 100, 100, 300),),
        colours=(BlankColour("white", "White", Srgb(255, 255, 255)),),
        variants=(),
        postage=zero,
        body=Body(diameter_mm=60.5),
    )


def applied(blank: Blank, price_list: PriceList) -> tuple[Blank | None, set[str]]:
    try:
        return update_blank(blank, price_list.rows, price_list, {}).blank, set()
    except ShopError as error:
        return None, {one.slug for one in (error, *error.others)}


@given(st.booleans().flatmap(lambda sized: st.lists(price_rows(sized), min_size=1, max_size=3)))
def test_lists_one_after_another(lists: list[list[PriceRow]]) -> None:
    blank = starting_blank()
    text = ""
    for rows in lists:
        price_list = PriceList(tuple(rows))
        updated, refused = applied(blank, price_list)
        assert refused <= {"code-taken"}
        if updated is None:
            continue
        if text:
            text = edit_blank_file(text, blank, updated)
        else:
            text = "# mine\n" + blank_toml(updated, "GBP").replace("[variants]", "[variants]  # dear ones")
        assert read_text(text, "glass.toml", lambda source: parse_blank(source, "GBP")) == updated
        assert text.startswith("# mine\n")
        assert "[variants]  # dear ones" in text
        blank = updated
        assert update_blank(blank, rows, price_list, {}).changes == ()
