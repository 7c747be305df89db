from dataclasses import replace
from datetime import date

import pytest
from goods import channel, mug, shirt

from hundredfold.kernel.errors import ShopError
from hundredfold.kernel.grid import Cell, Grid
from hundredfold.ledger.fold import fold
from hundredfold.ledger.keys import ListingKey, SkuKey
from hundredfold.ledger.state import LedgerState
from hundredfold.planning.adoption import AdoptableDesign, Adoption, Shelf, adopt
from hundredfold.planning.listings import Candidate
from hundredfold.planning.matching import Known, best_by_letters, best_by_words, words_of
from hundredfold.planning.month import plan_month

BEES = AdoptableDesign("K7Q2", "designs/proud-beekeeper.png", "Proud Beekeeper")
SWIM = AdoptableDesign("Z9AA", "designs/summer/sea_swimmer_01.png", "Sea Swimmer in a Hurry")
BELLS = AdoptableDesign("B3LL", "designs/Ring the Bells.svg", "Ring the Bells")
SHELF = Shelf("north", (BEES, SWIM, BELLS), (mug(), shirt()))


def told(header: tuple[str, ...], *rows: tuple[Cell, ...], shelf: Shelf = SHELF) -> Adoption:
    return adopt(Grid("live.csv", "", (header, *rows)), shelf, LedgerState())


def key(design: AdoptableDesign, blank: str, colour: str = "", size: str = "") -> SkuKey:
    return SkuKey("north", design.id, blank, colour, size)


@pytest.mark.parametrize(
    ("header", "row", "wanted"),
    [
        # by file name and codes in columns of their own
        (
            ("SKU", "Design file", "Blank", "Colour"),
            ("X-1", "proud-beekeeper.png", "MUG-325", "navy"),
            key(BEES, "MUG-325", "navy"),
        ),
        (
            ("Seller SKU", "Artwork", "Product", "Color"),
            ("X-1", "art/Proud-Beekeeper.PNG", "Ceramic mug 325 ml", "Navy"),
            key(BEES, "MUG-325", "navy"),
        ),
        # by the partner's own code
        (
            ("Ref", "Partner code", "Design name"),
            ("X-1", "00124", "ring the bells"),
            key(BELLS, "TEE", "black", "L"),
        ),
        # by the design's id and by the file's name standing in the SKU
        (("SKU", "Title"), ("MUG325-PROUDBEEKEEPER-WHITE", ""), key(BEES, "MUG-325", "white")),
        (("SKU", "Title"), ("tee_sea-swimmer-01_s", ""), key(SWIM, "TEE", "black", "S")),
        # by words in the title
        (
            ("SKU", "Title", "Size"),
            ("0007", "Sea Swimmer, in a Hurry - Gift T-Shirt", "l"),
            key(SWIM, "TEE", "black", "L"),
        ),
        (("SKU", "Heading"), ("0008", "“Ring the bells!” ceramic mug, 325 ml"), key(BELLS, "MUG-325")),
    ],
)
def test_a_row_is_told(header: tuple[str, ...], row: tuple[Cell, ...], wanted: SkuKey) -> None:
    found = told(header, row)
    assert found.findings == ()
    (event,) = found.events
    assert (event.subject, SkuKey.from_data(event.data)) == (row[0], wanted)


@pytest.mark.parametrize(
    ("pattern", "sku", "wanted"),
    [
        ("{blank}-{design}-{colour}", "mug-325-proud-beekeeper-navy", key(BEES, "MUG-325", "navy")),
        ("{any}/{design}/{blank}.{size}", "2024/Ring the Bells/TEE.L", key(BELLS, "TEE", "black", "L")),
        ("{colour}_{blank}_{design}", "white_MUG325_sea_swimmer_01", key(SWIM, "MUG-325", "white")),
        (
            r"(?P<blank>[A-Z]+)\.(?P<design>[a-z-]+)\.(?P<size>\w+)",
            "TEE.proud-beekeeper.L",
            key(BEES, "TEE", "black", "L"),
        ),
    ],
)
def test_the_seller_s_pattern(pattern: str, sku: str, wanted: SkuKey) -> None:
    found = told(("SKU",), (sku,), shelf=replace(SHELF, sku_pattern=pattern))
    assert found.findings == ()
    assert SkuKey.from_data(found.events[0].data) == wanted


@pytest.mark.parametrize(
    "pattern", ["(", "(?P<x>.)", "{blnk}-{design}", "{any}", "{design}-{design}", "plain"]
)
def test_a_pattern_that_is_none(pattern: str) -> None:
    with pytest.raises(ShopError) as caught:
        told(("SKU",), ("A",), shelf=replace(SHELF, sku_pattern=pattern))
    assert caught.value.slug == "bad-sku-pattern"


@pytest.mark.parametrize(
    ("row", "why"),
    [
        ((None, "Proud Beekeeper ceramic mug 325 ml"), "it has no SKU"),
        (("1", "Proud Beekeeper hat"), "its blank cannot be told"),
        (("1", "Wasp ceramic mug 325 ml"), "its design cannot be told"),
        (("1\n2", "Proud Beekeeper ceramic mug 325 ml"), "its SKU holds a line break or a control character"),
    ],
)
def test_a_row_that_cannot_be_told_is_named(row: tuple[Cell, ...], why: str) -> None:
    found = told(("SKU", "Title"), ("A-1", "Ring the Bells T-shirt"), row)
    assert len(found.events) == 1
    (finding,) = found.findings
    assert (finding.check, finding.code) == ("adopt/row", "not-told")
    assert finding.item.startswith("live.csv, row 3")
    assert finding.what == why


def test_two_that_would_do_are_not_guessed() -> None:
    twins = (
        AdoptableDesign("A", "designs/bees.png", "Happy Bees"),
        AdoptableDesign("B", "designs/b2.png", "Happy bee"),
    )
    found = told(("SKU", "Title"), ("1", "Happy bees T-shirt"), shelf=replace(SHELF, designs=twins))
    assert found.findings[0].what == "its design may be designs/bees.png or designs/b2.png"


def test_a_file_named_by_its_number_alone_is_not_meant_by_what_is_not_said() -> None:
    """Its title is empty, and so is a design column that a table does not have."""
    shelf = replace(SHELF, designs=(BEES, AdoptableDesign("NUM", "designs/0001.png", "")))
    found = told(("SKU", "Title"), ("1", "Proud Beekeeper T-shirt"), ("2", "Wasps T-shirt"), shelf=shelf)
    assert [SkuKey.from_data(event.data).design for event in found.events] == ["K7Q2"]
    assert [finding.what for finding in found.findings] == ["its design cannot be told"]


def test_a_name_that_two_files_have_is_not_guessed() -> None:
    twins = tuple(AdoptableDesign(part, f"designs/{part}/bees.png", "Bees") for part in ("summer", "winter"))
    shelf = replace(SHELF, designs=twins)
    header = ("SKU", "Title", "Design")
    for name in ("bees.png", "bees", "Bees", "art/bees.svg"):
        (finding,) = told(header, ("1", "Bees T-shirt", name), shelf=shelf).findings
        assert finding.what == "its design may be designs/summer/bees.png or designs/winter/bees.png"
    for name in ("designs/winter/bees.png", "winter"):
        (event,) = told(header, ("1", "Bees T-shirt", name), shelf=shelf).events
        assert event.data["design"] == "winter"


def test_all_that_is_kept_of_an_adopted_row() -> None:
    header = ("SKU", "Title", "Colour", "Size", "Listing id")
    found = told(header, ("1", "Ring the Bells T-shirt", "black", "L", "77"), ("2", "Ring the Bells T-shirt"))
    kept = {"channel": "north", "design": "B3LL", "blank": "TEE", "colour": "black", "file": "live.csv"}
    title = "Ring the Bells T-shirt"
    assert [dict(event.data) for event in found.events] == [
        {**kept, "size": "L", "identifier": "77", "title": title, "row": 2},
        {**kept, "colour": "", "size": "", "identifier": "", "title": title, "row": 3},
    ]


HEADS = ("SKU", "Blank", "Title", "Colour", "Size", "Design", "Partner code")
BELL = "Ring the Bells"


@pytest.mark.parametrize(
    ("row", "wanted"),
    [
        # colour and size by their columns, by name or code; the only one that fits where one is told
        (("1", "TEE", BELL, "Black", "s"), key(BELLS, "TEE", "black", "S")),
        (("1", "TEE", BELL, None, "L"), key(BELLS, "TEE", "black", "L")),
        (("1", "TEE", BELL, "black", None), key(BELLS, "TEE", "black")),
        (("1", "TEE", BELL), key(BELLS, "TEE")),
        (("1", "MUG325", BELL, "NAVY"), key(BELLS, "MUG-325", "navy")),
        (("1", "Ceramic mug, 325 ml", BELL), key(BELLS, "MUG-325")),
        # by the SKU's own words where no column tells
        (("tee.L.1", None, BELL), key(BELLS, "TEE", "black", "L")),
        (("mug-325/white/navy", None, BELL), key(BELLS, "MUG-325")),  # two colours tell none
        # the partner's code before all else
        (("1", "TEE", BELL, "white", "S", None, "NP-M1N"), key(BELLS, "MUG-325", "navy")),
        # the design by its column: title, stem, file, path, id, a file elsewhere under another ending
        (("1", "TEE", "x", None, "L", "Sea Swimmer in a Hurry"), key(SWIM, "TEE", "black", "L")),
        (("1", "TEE", "x", None, "L", "sea_swimmer_01"), key(SWIM, "TEE", "black", "L")),
        (("1", "TEE", "x", None, "L", "designs/summer/sea_swimmer_01.png"), key(SWIM, "TEE", "black", "L")),
        (("1", "TEE", "x", None, "L", "z9aa"), key(SWIM, "TEE", "black", "L")),
        (("1", "TEE", "x", None, "L", "art/sea_swimmer_01.jpeg"), key(SWIM, "TEE", "black", "L")),
        (("1", "TEE", "x", None, "L", "art/sea_swimmer_01.longer"), None),
        # by the SKU before the title
        (("tee-proudbeekeeper", None, BELL, None, "L"), key(BEES, "TEE", "black", "L")),
    ],
    ids=str,
)
def test_what_tells_a_row(row: tuple[Cell, ...], wanted: SkuKey | None) -> None:
    found = told(HEADS, row)
    assert [SkuKey.from_data(event.data) for event in found.events] == ([wanted] if wanted else [])


@pytest.mark.parametrize(
    ("row", "why"),
    [
        (("1", "TEE", BELL, "pink"), "TEE has no colour 'pink'"),
        (("1", "TEE", BELL, "black", "XXL"), "TEE has no size 'XXL'"),
        (("1", "hat", BELL), "its blank cannot be told"),
        (("teemug", None, BELL), "its blank cannot be told"),
        (("mug-325-tee", None, "x"), "its design cannot be told"),
        (("1", None, "T-shirt, ceramic mug 325 ml", None, None, "bells"), "its design cannot be told"),
        (
            ("sea-swimmer-01-ringthebells", "TEE", ""),
            "its design may be designs/Ring the Bells.svg or designs/summer/sea_swimmer_01.png",
        ),
    ],
    ids=str,
)
def test_why_a_row_is_not_told(row: tuple[Cell, ...], why: str) -> None:
    (finding,) = told(HEADS, row).findings
    assert (finding.what, finding.item) == (why, f"live.csv, row 2, {row[0]}")


def test_a_row_without_sku_is_named_by_its_number() -> None:
    (finding,) = told(("SKU", "Title"), (None, "Ring the Bells T-shirt")).findings
    assert finding.item == "live.csv, row 2"


def test_a_sku_of_ours_is_known_without_words() -> None:
    mine = SkuKey("north", "B3LL", "TEE", "black", "L")
    state = LedgerState(owners={"PG-1": mine}, skus={mine: "PG-1"})
    grid = Grid("live.csv", "", (("SKU",), ("PG-1",), ("PG-2",)))
    found = adopt(grid, SHELF, state)
    assert [SkuKey.from_data(event.data) for event in found.events] == [mine]
    assert len(found.findings) == 1
    live = replace(state, existing=frozenset({"PG-1"}))
    assert (adopt(grid, SHELF, live).events, adopt(grid, SHELF, live).known) == ((), 1)
    twin = adopt(Grid("live.csv", "", (HEADS, ("9", "TEE", BELL, "black", "L"))), SHELF, live)
    assert twin.findings[0].what == "PG-1 is the same design, blank, colour and size, as far as can be told"


def test_three_that_may_be_meant_are_named_and_no_more() -> None:
    many = tuple(AdoptableDesign(f"D{n}", f"designs/{n}/bees.png", "Bees") for n in range(5))
    (finding,) = told(
        HEADS, ("1", "TEE", "", None, None, "bees"), shelf=replace(SHELF, designs=many)
    ).findings
    assert finding.what == "its design may be designs/0/bees.png or designs/1/bees.png or designs/2/bees.png"


def test_a_colour_the_blank_does_not_have_is_named() -> None:
    found = told(("SKU", "Title", "Colour"), ("1", "Proud Beekeeper ceramic mug 325 ml", "pink"))
    assert found.findings[0].what == "MUG-325 has no colour 'pink'"


def test_a_sku_twice_and_rows_not_live() -> None:
    header = ("SKU", "Title", "Status")
    row = ("1", "Ring the Bells T-shirt", "active")
    found = told(header, row, row, ("2", "Ring the Bells T-shirt", "Ended"), (None, None, None))
    assert (len(found.events), found.not_live) == (1, 1)
    assert found.findings[0].what == "row 2 has the same SKU"


def test_two_skus_of_one_variant_are_pointed_out() -> None:
    header = ("SKU", "Title", "Colour")
    mug_title = "Ring the Bells ceramic mug 325 ml"
    found = told(
        header,
        ("1", mug_title, "navy"),
        ("2", mug_title, "white"),
        ("3", mug_title, "navy"),
        ("4", mug_title, ""),
    )
    assert [event.subject for event in found.events] == ["1", "2", "4"]
    assert found.findings[0].what == "1 is the same design, blank, colour and size, as far as can be told"


def test_columns_named_by_the_person() -> None:
    grid = Grid("live.csv", "", (("Thing", "What"), ("1", "Ring the Bells T-shirt")))
    with pytest.raises(ShopError) as caught:
        adopt(grid, SHELF, LedgerState())
    assert "there are: Thing, What" in caught.value.what
    assert len(adopt(grid, SHELF, LedgerState(), {"sku": "thing", "title": "what"}).events) == 1


def test_two_hundred_live_listings_are_never_planned_again() -> None:
    """Their SKUs are nothing like ours; identifiers are kept; adopting again adds nothing."""
    words = [
        f"{a}{b}"
        for a in ("amber", "briny", "coral", "dusky", "early")
        for b in ("gull", "hedge", "inlet", "jetty")
    ]
    designs = [
        AdoptableDesign(f"ID{n}", f"designs/{word}-{m}x.png", f"{word} {m}x")
        for m in range(5)
        for n, word in enumerate(words)
    ]
    designs = [replace(design, id=f"ID{n}") for n, design in enumerate(designs)]
    rows = [
        (f"OLD{n:04}", f"{design.title} gift {blank.name}", f"N-{n}")
        for n, (design, blank) in enumerate((d, b) for d in designs for b in (mug(), shirt()))
    ]
    grid = Grid("live.csv", "", (("SKU", "Title", "Listing id"), *rows))
    shelf = Shelf("north-print", designs, (mug(), shirt()))
    found = adopt(grid, shelf, LedgerState())
    assert (found.listings, found.findings) == (200, ())
    state = fold([replace(event, number=n) for n, event in enumerate(found.events, start=1)])
    assert state.identifiers["OLD0007"] == "N-7"
    again = adopt(grid, shelf, state)
    assert (again.events, again.known) == ((), 200)
    fresh = AdoptableDesign("NEW", "designs/new.png", "new")
    candidates = [
        Candidate(ListingKey("north-print", d.id, b.code), ("navy",), 1)
        for d in [*designs, fresh] for b in (mug(), shirt())
    ]  # fmt: skip
    plan = plan_month(candidates, [channel(daily_cap=99)], state, date(2026, 12, 1))
    assert {p.key.design for p in plan.listings} == {"NEW"}


def test_letters_and_words() -> None:
    known = [Known("a", ("bee",)), Known("b", ("sea-swimmer",)), Known("c", ("swimmer",))]
    assert best_by_letters("MUG_SEASWIMMER_1", known) == ["b"]
    assert best_by_letters("BEESWAX", known) == []  # three letters stand in many a word
    assert best_by_letters("mug-bee", known) == ["a"]
    assert words_of("The Bees' Café, 2 mugs") == ("bee", "cafe", "2", "mug")
    phrases = [Known("a", ("ring", "bell")), Known("b", ("bell",)), Known("c", ("cat",))]
    assert best_by_words("Ring those bells", phrases) == ["a"]
    assert best_by_words("a cat", phrases) == []
