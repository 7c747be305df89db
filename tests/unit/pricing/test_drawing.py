"""Prices as bars: each part as wide as it is dear, from one edge, to one scale; what is wanted is marked."""

import re
from dataclasses import replace
from decimal import Decimal
from xml.etree import ElementTree as Tree

import pytest
from goods import gbp
from test_parts import WHOLE

from hundredfold.catalogue.charges import Fees
from hundredfold.kernel.money import Money
from hundredfold.pricing.drawing import Bar, draw_bars
from hundredfold.pricing.price import Price, PriceRequest, price_at
from hundredfold.pricing.sale import Costs, Sale, Target

LEFT, ROOM, WIDTH = 250, 580, 920
SVG = "{http://www.w3.org/2000/svg}"


def at(amount: str, sale: Sale = WHOLE) -> Price:
    return price_at(PriceRequest((sale,)), gbp(amount))[0]


DEAR, CHEAP = at("20.00"), at("9.00")


def drawn(*bars: Bar, title: str = "Prices") -> Tree.Element:
    return Tree.fromstring(draw_bars(bars, title))


def rects(root: Tree.Element) -> list[tuple[float, float, float, str, str]]:
    """Of every part: left edge, width, top, fill, what is told of it."""
    found = []
    for one in root.iter(f"{SVG}rect"):
        title = one.find(f"{SVG}title")
        if title is not None:
            x, width, y = (float(one.attrib[name]) for name in ("x", "width", "y"))
            found.append((x, width, y, one.attrib["fill"], title.text or ""))
    return found


def marks(root: Tree.Element) -> list[tuple[float, float]]:
    """Where what is wanted is marked: across and down."""
    found = [re.fullmatch(r"M([\d.]+) (\d+)v34", one.attrib["d"]) for one in root.iter(f"{SVG}path")]
    return [(float(one[1]), float(one[2])) for one in found if one]


def texts(root: Tree.Element) -> list[tuple[str, str, str]]:
    return [(one.text or "", one.attrib["x"], one.attrib["y"]) for one in root.iter(f"{SVG}text")]


def test_parts_stand_side_by_side_to_one_scale() -> None:
    root = drawn(Bar("Mug", "at 20.00", DEAR), Bar("Mug", "at 9.00", CHEAP))
    scale = ROOM / 22.0  # 20.00 and 2.00 postage are the longest
    found = rects(root)
    for number, price in enumerate((DEAR, CHEAP)):
        row = [one for one in found if one[2] == 76 + 44 * number]
        assert len(row) == len(price.parts)
        place = float(LEFT)
        for (x, width, _, _, told), part in zip(row, price.parts, strict=True):
            assert told.startswith(f"{part.name} {part.amount.plain()}")
            assert x == pytest.approx(place, abs=0.02)
            assert width == pytest.approx(max(0.0, float(part.amount.amount)) * scale, abs=0.02)
            place += width if part.kind != "profit" else 0
        across, down = marks(root)[number]
        assert across == pytest.approx(place + float(price.wanted.amount) * scale, abs=0.05)
        assert down == 72 + 44 * number
    assert sum(width for _, width, y, _, _ in found if y == 76) == pytest.approx(ROOM, abs=0.1)
    assert {
        one.attrib["height"] for one in root.iter(f"{SVG}rect") if one.find(f"{SVG}title") is not None
    } == {"26"}
    assert (root.attrib["width"], root.attrib["height"], root.attrib["viewBox"]) == (
        "920",
        "180",
        "0 0 920 180",
    )
    assert [part.how for part in DEAR.parts if part.how]
    for one, part in zip(found, DEAR.parts, strict=False):
        assert one[4].endswith(f" ({part.how})" if part.how else part.amount.plain())


def test_what_a_sale_leaves_stands_at_the_end_and_too_little_is_marked() -> None:
    root = drawn(Bar("Mug", "", DEAR), Bar("Mug", "", CHEAP))
    ends = [one for one in root.iter(f"{SVG}text") if one.attrib.get("x") == "904" and one.text != "profit"]
    assert [(one.text, one.attrib["y"], one.attrib["class"]) for one in ends] == [
        (DEAR.parts[-1].amount.plain(), "94", "n" if DEAR.profit >= DEAR.wanted else "n low"),
        (CHEAP.parts[-1].amount.plain(), "138", "n low"),
    ]
    just = at("20.00", replace(WHOLE, target=Target(DEAR.profit)))
    assert just.profit == just.wanted
    assert 'class="n low"' not in draw_bars([Bar("", "", just)], "")


def test_every_kind_is_named_in_the_key_in_its_own_fill() -> None:
    root = drawn(Bar("Mug <b>", "at & under", DEAR), title='What "leaves" & <why>')
    words = texts(root)
    assert words[0] == ('What "leaves" & <why>', "16", "28")
    assert root.attrib["aria-label"] == 'What "leaves" & <why>'
    keys = [text for text, _, y in words if y == "53"]
    assert keys == [
        "blank",
        "postage",
        "fees",
        "tax",
        "adverts",
        "returns",
        "profit",
        "what is wanted",
        "profit",
    ]
    places = [int(x) for _, x, y in words if y == "53"]
    assert places[:-1] == [40 + sum(44 + 7 * len(word) for word in keys[:n]) for n in range(8)]
    boxes = [one for one in root.iter(f"{SVG}rect") if one.attrib.get("y") == "42"]
    assert [int(one.attrib["x"]) + 24 for one in boxes] == places[:7]
    fills = {part.kind: fill for part, (_, _, _, fill, _) in zip(DEAR.parts, rects(root), strict=True)}
    assert [one.attrib["fill"] for one in boxes] == [
        fills[kind] for kind in ("goods", "postage", "fees", "tax", "adverts", "returns", "profit")
    ]
    assert len(set(fills.values())) == 7
    assert [fills[kind] for kind in ("fees", "tax", "adverts")] == [
        "url(#hatch)",
        "url(#dots)",
        "url(#cross)",
    ]
    assert {one.attrib["id"] for one in root.iter(f"{SVG}pattern")} == {"hatch", "dots", "cross"}
    assert ("Mug <b>", "16", "91") in words
    assert ("at & under", "16", "107") in words
    assert draw_bars([Bar("", "", DEAR)], "").endswith("</svg>\n")


def test_each_currency_has_its_own_scale_and_a_large_target_fits() -> None:
    yen = Money(Decimal(9000), "JPY")
    costs = Costs(Money(Decimal(500), "JPY"), Money(Decimal(0), "JPY"))
    nothing = Money(Decimal(0), "JPY")
    dear = Sale(Target(yen), costs, Fees(Decimal(0), nothing, nothing))
    far = price_at(PriceRequest((dear,)), Money(Decimal(1000), "JPY"))[0]
    root = drawn(Bar("a", "", DEAR), Bar("b", "", far))
    assert max(x + width for x, width, y, _, _ in rects(root) if y == 76) == pytest.approx(
        LEFT + ROOM, abs=0.1
    )
    beside = [width for _, width, y, _, told in rects(root) if y == 120 and told.startswith("base cost")]
    assert beside == [pytest.approx(500 * ROOM / 9000, abs=0.02)]
    with pytest.raises(ValueError, match="nothing to draw"):
        draw_bars([], "")


def test_the_plain_record_of_a_price() -> None:
    told = DEAR.as_json()
    assert told["parts"] == [
        {"name": one.name, "kind": one.kind, "amount": one.amount.plain(), "how": one.how}
        for one in DEAR.parts
    ]
    assert {name: told[name] for name in ("price", "currency", "destination")} == {
        "price": "20.00", "currency": "GBP", "destination": "home",
    }  # fmt: skip
    income = Decimal("22.00") - Decimal("3.67")  # 20 % inside what is paid, to the penny
    assert DEAR.margin == DEAR.profit.amount / income
    assert DEAR.markup == DEAR.profit.amount / (income - DEAR.profit.amount)
    assert told["wanted"] == DEAR.wanted.plain() == "1.92"  # 1.00 and 5 % of 18.33
    assert (told["margin"], told["markup"]) == (
        f"{round(DEAR.margin * 100, 2).normalize():f} %", f"{round(DEAR.markup * 100, 2).normalize():f} %",
    )  # fmt: skip
    adverts = Decimal("0.25") * Decimal("1.2") + Decimal("22.00") * Decimal("0.072")
    assert DEAR.advert_break_even.amount == DEAR.profit.amount + adverts
    assert told["advert_break_even"] == DEAR.advert_break_even.plain()
    assert DEAR.coins == 2000
