"""How a planned listing becomes rows: which, in what order, with whose files, prices, words and measures."""

from dataclasses import replace
from decimal import Decimal

import pytest
from goods import DAY, channel, design, gbp, mug, sheet, shirt, words_of

from hundredfold.catalogue.blanks import Blank, Body, SizeMeasures
from hundredfold.catalogue.channels import Channel, PictureRules
from hundredfold.catalogue.sheets import Column, Sheet, TableKind
from hundredfold.handoff.goods import GoodsFacts
from hundredfold.handoff.recording import packed_event
from hundredfold.handoff.rows import (
    ListingParts,
    PackRow,
    RowPicture,
    RowRole,
    ShopWords,
    by_listing,
    measures_of,
    rows_for,
    sku_keys,
    tells_stock,
)
from hundredfold.handoff.writing import Packed
from hundredfold.kernel.measures import Measure
from hundredfold.ledger.events import Happened
from hundredfold.ledger.keys import ListingKey, PackKey, SkuKey
from hundredfold.ledger.state import LedgerState
from hundredfold.planning.listings import Action, PlannedListing

DESIGN = replace(design(), niche="beekeeping", occasion="spring")
FAMILIES = replace(channel(), sheet=sheet(families=True), pictures=PictureRules(16, 12, 5000, 2))
COLOURS = ("white", "navy")


def planned(blank: Blank, action: Action = Action.NEW, colours: tuple[str, ...] = COLOURS) -> PlannedListing:
    key = ListingKey("north-print", DESIGN.id, blank.code)
    return PlannedListing(key, DAY, action, 4, colours, 2, "new")


def parts_of(
    blank: Blank, to: Channel, action: Action = Action.NEW, colours: tuple[str, ...] = COLOURS
) -> ListingParts:
    pairs = [(v.colour, v.size) for v in blank.variants]
    return ListingParts(
        planned(blank, action, colours), DESIGN, blank, to, words_of(DESIGN, blank, to),
        {pair: gbp(f"{n}.95") for n, pair in enumerate(pairs, start=10)},
        {pair: {"wrap": f"{'-'.join(pair)}.png"} for pair in pairs},
        {v.colour: tuple(RowPicture(role, f"{v.colour}-{role}.jpg") for role in ("main", "a", "b"))
         for v in blank.variants},
        ShopWords("Puddlewick Goods", {"origin": "GB", "barcode": "shop"}),
    )  # fmt: skip


def skus_of(blank: Blank, *, head: bool = False) -> dict[SkuKey, str]:
    pairs = [("", "")] if head else []
    pairs += [(v.colour, v.size) for v in blank.variants]
    return {
        SkuKey("north-print", DESIGN.id, blank.code, colour, size): f"S-{colour}-{size}"
        for colour, size in pairs
    }


def rows(parts: ListingParts, *existing: str, ended: tuple[str, ...] = ()) -> tuple[PackRow, ...]:
    head = parts.channel.sheet.families
    state = LedgerState(existing=frozenset(existing), ended=frozenset(ended))
    return rows_for(parts, skus_of(parts.blank, head=head), state)


def asked(found: tuple[PackRow, ...]) -> list[tuple[str, str]]:
    return [(row.sku, row.action.value) for row in found]


def test_a_new_listing_has_a_row_a_variant() -> None:
    white, navy = rows(parts_of(mug(), channel()))
    assert (white.sku, white.action, white.revision, white.listing) == (
        "S-white-", Action.NEW, 4, ListingKey("north-print", DESIGN.id, "MUG-325"),
    )  # fmt: skip
    assert (white.colour, white.size, white.price, white.role) == ("white", "", gbp("10.95"), RowRole.SINGLE)
    assert (navy.price, navy.artwork) == (gbp("11.95"), {"wrap": "navy-.png"})
    assert [picture.file for picture in navy.pictures] == ["navy-main.jpg", "navy-a.jpg"]  # two are taken
    wording = words_of(DESIGN, mug(), channel())
    assert white.fields == {
        "title": wording.title, "story": wording.story, "points": wording.points,
        "search words": wording.search_words, "shop": "Puddlewick Goods", "barcode": "shop",
        "design title": "proud beekeeper", "keywords": ("beekeeper", "honey", "gift"),
        "niche": "beekeeping", "occasion": "spring", "blank name": "ceramic mug 325 ml", "form": "mug",
        "material": mug().material.value, "process": mug().process.value, "partner code": "NP-M1W",
        "colour name": "White",
    }  # fmt: skip
    assert (white.values["origin"], white.in_stock) == ("GB", True)
    assert white.measures == measures_of(mug(), mug().variants[0])


def test_a_family_has_its_head_first_without_price_and_art() -> None:
    head, white, _ = rows(parts_of(mug(), FAMILIES))
    assert (head.sku, head.role, head.price, dict(head.artwork)) == ("S--", RowRole.HEAD, None, {})
    assert [picture.file for picture in head.pictures] == ["white-main.jpg", "white-a.jpg"]
    assert (head.fields["partner code"], head.fields["colour name"], head.in_stock) == ("", "", True)
    assert white.role is RowRole.MEMBER
    first_navy = rows(parts_of(mug(), FAMILIES, colours=("navy",)))[0]
    assert [picture.file for picture in first_navy.pictures] == ["navy-main.jpg", "navy-a.jpg"]


def test_within_a_change_a_variant_may_be_new_changed_or_ended() -> None:
    """In the order of the blank; what ends comes last."""
    change = parts_of(mug(), channel(), Action.CHANGE)
    assert asked(rows(change, "S-white-")) == [("S-white-", "change"), ("S-navy-", "new")]
    only_navy = parts_of(mug(), channel(), Action.CHANGE, ("navy",))
    assert asked(rows(only_navy, "S-white-")) == [("S-navy-", "new"), ("S-white-", "end")]
    assert asked(rows(only_navy)) == [("S-navy-", "new")]  # white never was there
    again = rows(only_navy, ended=("S-navy-",))
    assert asked(again) == [("S-navy-", "change")]  # a SKU that once was is changed, not new
    (_, ended) = rows(only_navy, "S-white-")
    assert (ended.price, dict(ended.artwork), ended.pictures) == (None, {}, ())


def test_an_end_is_a_row_for_each_that_the_channel_has() -> None:
    end = parts_of(mug(), FAMILIES, Action.END)
    assert asked(rows(end, "S--", "S-navy-")) == [("S--", "end"), ("S-navy-", "end")]
    assert rows(end) == ()
    other = SkuKey("north-print", "another", "MUG-325", "white", "")
    state = LedgerState(existing=frozenset({"S-white-", "X"}))
    assert asked(rows_for(end, {**skus_of(mug(), head=True), other: "X"}, state)) == [("S-white-", "end")]


def out_of_stock(blank: Blank, colour: str) -> Blank:
    return replace(blank, variants=tuple(replace(v, in_stock=v.colour != colour) for v in blank.variants))


def test_what_is_out_of_stock_rests_and_does_not_end() -> None:
    resting = out_of_stock(mug(), "navy")
    quiet = parts_of(resting, channel(), Action.CHANGE)
    assert asked(rows(quiet, "S-white-", "S-navy-")) == [("S-white-", "change")]
    stock = replace(channel(), sheet=sheet(columns=(*sheet().columns, Column("Stock", "{stock}"))))
    told = rows(parts_of(resting, stock, Action.CHANGE), "S-white-", "S-navy-")
    assert asked(told) == [("S-white-", "change"), ("S-navy-", "change")]
    assert [row.in_stock for row in told] == [True, False]
    assert asked(rows(parts_of(resting, stock, Action.END), "S-navy-")) == [("S-navy-", "end")]


def test_where_a_channel_is_told_its_stock() -> None:
    assert not tells_stock(channel())
    column, spare = Column("S", "{stock}"), Column("S", "{extra shop}", if_empty="{stock}")
    assert tells_stock(replace(channel(), sheet=sheet(columns=(spare,))))
    assert tells_stock(replace(channel(), more_tables=(Sheet(TableKind.CSV, (Column("A"), column)),)))


def test_the_skus_that_a_listing_needs() -> None:
    keys = sku_keys(planned(shirt(), colours=("black",)), shirt(), FAMILIES)
    assert [(key.colour, key.size) for key in keys] == [("", ""), ("black", "S"), ("black", "L")]
    assert {key.listing for key in keys} == {ListingKey("north-print", DESIGN.id, "TEE")}
    bare = sku_keys(planned(shirt(), colours=("black",)), shirt(), channel())
    assert [(key.colour, key.size) for key in bare] == [("black", "S"), ("black", "L")]
    assert sku_keys(planned(shirt(), colours=("white",)), shirt(), channel()) == ()


def mm(text: str) -> Measure:
    return Measure(Decimal(text), "mm")


def test_what_a_thing_measures_in_its_size() -> None:
    assert measures_of(mug(), mug().variants[0]) == {
        "height": mm("95"), "diameter": mm("82"), "capacity": Measure(Decimal(325), "ml"),
    }  # fmt: skip
    assert measures_of(mug(), None) == measures_of(mug(), mug().variants[0])
    sized = replace(
        shirt(),
        sizes=(SizeMeasures("S", None, 460, 690), SizeMeasures("L", None, 560, 740)),
        body=Body(width_mm=500, size="L"),
    )
    small, large = sized.variants
    assert measures_of(sized, small) == {"width": mm("460"), "height": mm("690")}
    assert measures_of(sized, large) == {"width": mm("560"), "height": mm("740")}
    assert measures_of(sized, None) == {"width": mm("500")}
    no_sizes = replace(sized, sizes=())
    assert measures_of(no_sizes, large) == {"width": mm("500")}
    assert measures_of(no_sizes, small) == {}


def test_a_size_that_holds_another_amount_says_so() -> None:
    """As its title does: a tumbler of 350 ml and one of 600 ml are one blank."""
    variants = tuple(replace(mug().variants[0], size=size) for size in ("350 ml", "600 ml"))
    tumbler = replace(
        mug(), variants=variants, sizes=(SizeMeasures("600 ml", height_mm=210, capacity_ml=600),)
    )
    small, large = (measures_of(tumbler, variant) for variant in variants)
    assert (small["capacity"], small["height"]) == (Measure(Decimal(325), "ml"), mm("95"))
    assert (large["capacity"], large["height"]) == (Measure(Decimal(600), "ml"), mm("210"))


def test_rows_are_grouped_by_listing_in_order_of_first_appearance() -> None:
    first, second = rows(parts_of(shirt(), channel(), colours=("black",)))
    other = replace(first, listing=ListingKey("north-print", "a", "TEE"))
    assert by_listing([first, other, second]) == [(first, second), (other,)]


def test_what_the_ledger_keeps_of_a_pack() -> None:
    found = rows(parts_of(mug(), channel()))
    packed = Packed("f" * 64, (), found, ())
    gone = replace(planned(shirt()), key=ListingKey("north-print", "lost", "TEE"))
    content = {planned(mug()).key: {"title": "t", "price": "9"}}
    key = PackKey("north-print", "2026-12-01")
    event = packed_event(key, packed, [gone, planned(mug())], content)
    about = {"channel": "north-print", "design": DESIGN.id, "blank": "MUG-325"}
    assert (event.happened, event.subject) == (Happened.PACKED, "north-print/2026-12-01")
    assert event.data == {
        "manifest": "f" * 64,
        "rows": [
            {**about, "sku": sku, "revision": 4, "action": "new", "trace": ""}
            for sku in ("S-white-", "S-navy-")
        ],
        "listings": [
            {
                **about, "revision": 4, "action": "new", "colours": ["white", "navy"],
                "content": {"price": "9", "title": "t"},
            }
        ],
    }  # fmt: skip
    ended = packed_event(key, packed, [planned(mug(), Action.END)], content).data["listings"]
    assert ended == [{**about, "revision": 4, "action": "end", "colours": ["white", "navy"], "content": {}}]


@pytest.mark.parametrize(
    "column",
    [
        Column("A", "{design title}"), Column("A", "{blank name}"), Column("A", "{partner code}"),
        Column("A", "{colour name}, {size}"), Column("A", "{value origin}"),
        Column("A", "{width}", unit="cm"),
        Column("A", "{shop}"), Column("A", "{niche}", if_empty="{extra shop}"), Column("A", "{language}"),
    ],
    ids=lambda column: column.fill,
)  # fmt: skip
def test_a_change_of_the_goods_is_a_change_of_their_digest(column: Column) -> None:
    def digest(
        to: Channel, *, name: str = "Puddlewick", title: str = "bees", blank: Blank | None = None
    ) -> str:
        facts = GoodsFacts(to, ShopWords(name, {"origin": name}))
        what = replace(DESIGN, title=title, niche="")
        return facts.digest(what, blank or shirt(), [("black", "S"), ("black", "L")])

    to = channel(sheet=sheet(columns=(column, Column("P", "{price}"), Column("D", "{date} {sku}"))))
    usual = digest(to)
    assert digest(to) == usual
    assert (
        digest(replace(to, sheet=sheet(columns=(column,)))) == usual
    )  # price and day are compared elsewhere
    small, large = shirt().variants
    black = shirt().colours[0]
    others = {
        digest(to, title="wasps"), digest(to, name="Another"), digest(replace(to, language="de")),
        digest(replace(to, extra={"shop": "Else"})),
        digest(to, blank=replace(shirt(), name="vest", variants=(replace(small, partner_code="9"), large),
                                 colours=(replace(black, name="Coal"),), body=Body(width_mm=9))),
    }  # fmt: skip
    assert len(others - {usual}) >= 1
    only_small = GoodsFacts(to, ShopWords("Puddlewick", {"origin": "Puddlewick"}))
    assert only_small.digest(replace(DESIGN, title="bees", niche=""), shirt(), [("black", "S")]) != usual
    beside = replace(to, sheet=sheet(columns=(Column("P", "{price}"),)), more_tables=(to.sheet,))
    assert digest(beside) != digest(replace(beside, more_tables=()))
