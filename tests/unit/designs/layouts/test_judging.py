"""What came out ugly is told: each finding of ``words/row`` on the smallest layout that gives it."""

from dataclasses import replace
from pathlib import Path

from hundredfold.designs.layouts.fill import fill_layout
from hundredfold.designs.layouts.judging import Judged, judge
from hundredfold.designs.layouts.layout import Layout, parse_layout
from hundredfold.designs.layouts.quality import LineFacts, SetFacts
from hundredfold.designs.layouts.rows import Row
from hundredfold.designs.layouts.settext import SetText
from hundredfold.designs.layouts.slots import Edge, TextSlot
from hundredfold.designs.typesetting.outline import EMPTY, Bounds
from hundredfold.workshop.shop.paths import ShopPaths
from hundredfold.workshop.shop.typefaces import find_font
from hundredfold.workshop.typeset.typesetting import Pair, judge_pair
from hundredfold.workshop.typeset.wordlists import WordList

HEAD = '<svg xmlns="http://www.w3.org/2000/svg" width="304.8mm" height="381mm" viewBox="0 0 3600 4500">'
GOOD = '<text x="1800" y="2000" font-family="Anton" font-size="300" text-anchor="middle">{title}</text>'


def layout(body: str) -> Layout:
    return parse_layout(f"{HEAD}{body}</svg>".encode(), "test.svg")


def codes(body: str, title: str = "honey bees", line: str = "in the hive") -> set[str]:
    of = layout(body)
    fonts = {key: find_font(*key) for key in of.fonts()}
    spares = {("Anton", 400): (find_font("Noto Sans", 800),)}
    done = fill_layout(of, Row("list.csv", 2, {"title": title, "line": line}), fonts, spares=spares)
    return {finding.code for finding in done.findings}


def text(words: str, size: int = 300, **data: str) -> str:
    ours = "".join(f' data-{key.replace("_", "-")}="{value}"' for key, value in data.items())
    return GOOD.replace("{title}", words).replace('"300"', f'"{size}"{ours}')


def test_a_good_row_gives_nothing() -> None:
    assert codes(GOOD) == set()


def test_where_words_lie() -> None:
    assert codes(GOOD.replace('x="1800"', 'x="-400"').replace("middle", "start")) == {"off-page"}
    assert codes(GOOD + text("{line}")) == {"overlap"}
    assert codes('<path d="M200 1900H3400" stroke="#000" stroke-width="30" fill="none"/>' + GOOD) == {
        "crosses"
    }
    assert codes('<rect x="100" y="100" width="3400" height="4300" fill="#fff"/>' + GOOD) == set()


def test_sizes() -> None:
    assert "over-shrunk" in codes(text("{title}", fit="width", box="0 0 150 100"))
    large = text("{line}", 200, fit="box", box="100 2500 3400 1800", align="level")
    assert "hierarchy" in codes(text("{title}", 400, fit="width", box="100 100 700 200") + large)
    items = text("{title}", fit="box", box="100 100 900 400") + text(
        "{line}", fit="box", box="100 900 3000 900"
    )
    assert "uneven-list" in codes(items, "a very long thing to do today", "dig")


def test_a_face_that_stands_in_is_told() -> None:
    assert codes(GOOD, "Καλημέρα") == {"other-face"}


def line_facts(words: str, size: float = 40.0, width: float = 200.0) -> LineFacts:
    return LineFacts("{title}", words, size, size / 2, 1.0, width, Bounds(0, 0, 1, 1), 1.0)


def judged(slot: TextSlot, done: SetText) -> set[str]:
    facts = SetFacts(done.lines, 10.0, 0.1, 1.0, 1, 0.0, 0.0, 0.0, 9)
    it = Judged((0, 0, 3600, 4500), 0.0847, "en", [(slot, done)], facts, [], [])
    return {one.code for one in judge(it)}


def test_lines_of_a_block() -> None:
    (slot,) = layout(GOOD).texts
    plain = SetText(EMPTY, None, (line_facts("honey bees"), line_facts("and honey")), 0.1, (0, 4))
    assert judged(slot, plain) == set()
    shout = replace(plain, lines=(line_facts("of the", 90.0), line_facts("hive")))
    assert judged(slot, shout) == {"small-words-shout"}
    alone = replace(plain, lines=(line_facts("honey and bees"), line_facts("hat", width=40.0)))
    assert judged(slot, alone) == {"stranded-word"}
    assert judged(slot, replace(plain, width_variation=0.6)) == {"ragged"}
    assert judged(slot, replace(plain, touching=(("M", "M"),))) == {"letters-touch"}
    edged = replace(slot, edges=(Edge(2.0, slot.fill),))
    assert judged(edged, replace(plain, counters=(3, 4))) == {"closed-letters"}


def test_styling_that_is_not_kept_is_told_before_any_row(tmp_path: Path) -> None:
    data = f"{HEAD}{GOOD}</svg>".replace("<text ", '<text rotate="10 20" ').encode()
    pair = Pair(parse_layout(data, "test.svg"), data, WordList("list.csv", ("title",), ()), ())
    (finding,) = judge_pair(ShopPaths(tmp_path), pair)
    assert (finding.code, finding.item) == ("not-kept", "test.svg, line 1")
