"""Every example line of docs/channels.md gives what the page says it gives."""

import re
from dataclasses import replace
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest
from goods import channel, gbp

from hundredfold.catalogue.parse_sheets import read_sheet
from hundredfold.catalogue.parsing import read_text
from hundredfold.handoff.fields import FIELDS, RowContext, getter
from hundredfold.handoff.rows import PackRow, RowPicture, RowRole
from hundredfold.handoff.sheets import Filler
from hundredfold.kernel.measures import Measure
from hundredfold.ledger.keys import ListingKey
from hundredfold.planning.listings import Action

PAGE = (Path(__file__).parents[3] / "docs" / "channels.md").read_text(encoding="utf-8")
EXAMPLES = re.findall(r"^\| ([^|]+) \| `(\{ .+ \})` \| (`.*`) \|$", PAGE, re.MULTILINE)
ROW = PackRow(
    action=Action.NEW,
    revision=1,
    sku="PG-1",
    listing=ListingKey("north-print", "D1", "TEE"),
    colour="navy",
    size="M",
    price=gbp("1234.50"),
    pictures=(RowPicture("main", "a.jpg"), RowPicture("more", "b.jpg")),
    role=RowRole.MEMBER,
    fields={
        "title": "Proud Beekeeper Shirt", "story": "Bees & honey, for all who keep them.",
        "points": ("Made to order", "Soft cotton"), "search words": ("bee", "apiary", "gift"),
        "colour name": "Navy", "occasion": "", "partner code": "NF-US-7", "barcode": "5012345678900",
    },
    values={
        "origin": "GB", "weight": "180 g", "reference price": "1500.00", "maker": "Puddlewick Goods",
        "maker address": "1 Mill Lane", "materials": "100% cotton",
    },
    measures={"width": Measure(Decimal(520), "mm")},
)  # fmt: skip
TO = replace(
    channel(),
    stock=50,
    their_words={
        "colour": {"Navy": "Marine", "White": "Weiss"},
        "colour family": {"navy": "Blau"},
        "category": {"TEE": "Clothing > Shirts"},
        "action": {"new": "Create"},
        "level": {"head": "Parent", "member": "Child"},
    },
)
RATES = {("GBP", "EUR"): Decimal("1.25")}


@pytest.mark.parametrize(("need", "line", "gives"), EXAMPLES, ids=[need for need, _, _ in EXAMPLES])
def test_an_example(need: str, line: str, gives: str) -> None:
    sheet = read_text(f'kind = "csv"\ncolumns = [{line}]', "page", lambda source: read_sheet(source.table))
    context = RowContext(ROW, TO, date(2026, 12, 1), "PG-0", RATES, Decimal("0.2"))
    cells = Filler(TO, sheet).row(context)
    assert [cell.wrong for cell in cells] == [""] * len(cells)
    assert [cell.text for cell in cells] == re.findall(r"`(.*?)`", gives)


def test_the_page_has_all_its_examples() -> None:
    assert len(EXAMPLES) >= 36


def test_every_field_can_be_asked_for() -> None:
    for name, _ in FIELDS:
        plain = name.replace("NAME", "x").replace("AREA", "front").replace("CUR", "EUR")
        plain = re.sub(r" N$", " 1", plain)
        assert getter(plain, {"x": "word"}) is not None, name
