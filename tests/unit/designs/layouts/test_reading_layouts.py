"""Reading layouts: what drawing programs write is understood, and mistakes are named with their place."""

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from hundredfold.designs.layouts.attributes import ATTRIBUTES
from hundredfold.designs.layouts.elements import attributes, elements
from hundredfold.designs.layouts.fill import fill_layout
from hundredfold.designs.layouts.layout import Layout, parse_layout
from hundredfold.designs.layouts.pattern import HELPERS, column_key, filled, parse_pattern
from hundredfold.designs.layouts.rows import Row
from hundredfold.designs.layouts.transforms import compose, inverse, parse_transform
from hundredfold.designs.typesetting.outline import Bounds
from hundredfold.kernel.errors import ShopError
from hundredfold.workshop.shop.starterlayouts import starter_layouts
from hundredfold.workshop.shop.typefaces import find_font

HEAD = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 100"'


def read(body: str, attributes: str = "") -> Layout:
    return parse_layout(f"{HEAD} {attributes}>\n{body}\n</svg>".encode(), "test.svg")


def refusal(body: str, attributes: str = "") -> ShopError:
    with pytest.raises(ShopError) as caught:
        read(body, attributes)
    assert caught.value.fix
    return caught.value


def test_style_comes_from_rules_inline_and_parents() -> None:
    of = read(
        "<style>.a{font-family:'Anton';fill:#ff0000} #b{font-size:30px}</style>"
        '<g font-weight="bold"><text id="b" class="a" style="letter-spacing:0.1em">{trade}</text></g>'
    )
    (text,) = of.texts
    assert (text.fonts, text.weight, text.size, text.fill) == (("Anton",), 700, 30, "#ff0000")
    assert text.tracking == (0.1, 0.1)


def test_lines_saved_as_spans_become_texts_of_their_own() -> None:
    of = read(
        '<text font-family="Anton" font-size="10"><tspan x="5" y="20">{first}</tspan>'
        '<tspan x="5" dy="1.2em">{second}</tspan></text>'
    )
    assert [(text.label, text.x) for text in of.texts] == [("{first}", 5), ("{second}", 5)]
    assert of.columns() == ("first", "second")


def test_a_text_path_and_a_box_by_name_follow_their_transforms() -> None:
    of = read(
        '<g transform="translate(10 20)">'
        '<rect id="r" width="30" height="40"/><path id="p" d="M0 0L50 0"/></g>'
        '<g font-family="Anton" font-size="10">'
        '<text transform="scale(2)" data-fit="box" data-box="#r">{a b}</text>'
        '<text><textPath href="#p">{c}</textPath></text></g>'
    )
    boxed, along = of.texts
    assert boxed.box == Bounds(5, 10, 20, 30)
    assert along.fit == "path"
    assert along.curve is not None
    assert along.curve.pieces[0, 0].tolist() == [10, 20]


def test_millimetres_come_from_the_width() -> None:
    of = read(
        '<g transform="scale(2)"><text font-family="Anton">{a}</text></g>', 'width="50mm" height="50mm"'
    )
    assert of.texts[0].mm_per_unit == pytest.approx(1.0)


@pytest.mark.parametrize(
    ("body", "slug", "words"),
    [
        ('<text font-family="Anton">{trade</text>', "bad-slot", "pair"),
        ('<text font-family="Anton">{}</text>', "bad-slot", "no name"),
        ("<text>{trade}</text>", "bad-layout", "names no font"),
        ('<text font-family="Anton" data-fitt="box">{a}</text>', "bad-layout", "data-fitt"),
        ('<text font-family="Anton" data-fit="bx">{a}</text>', "bad-layout", '"bx"'),
        ('<text font-family="Anton" data-fit="box">{a}</text>', "bad-layout", "needs a box"),
        ('<text font-family="Anton" data-box="#no">{a}</text>', "bad-layout", "#no"),
        ('<text font-family="Anton" data-outline="2 red">{a}</text>', "bad-layout", "outline"),
        ('<text font-family="Anton" data-min-x-height="2">{a}</text>', "bad-layout", "length"),
        ('<text font-family="Anton" data-tracking="0.2 0.1">{a}</text>', "bad-layout", "range"),
        ('<text font-family="Anton" data-fill="ink">{a}</text>', "bad-layout", "role"),
        ('<text font-family="Anton" data-box="0 0 1e400 9">{a}</text>', "bad-layout", "rectangle"),
        ('<text font-family="Anton" font-size="0">{a}</text>', "bad-layout", "size"),
        ('<image href="../secret.png" width="9" height="9"/>', "bad-layout", "another file"),
        ('<path id="p" d=""/><text font-family="Anton" data-path="#p">{a}</text>', "bad-path", "length"),
    ],
)
def test_mistakes_are_named_with_their_line(body: str, slug: str, words: str) -> None:
    error = refusal(body)
    assert (error.slug, error.where.file) == (slug, "test.svg") or slug == "bad-path"
    assert words in error.what
    if slug == "bad-layout":
        assert error.where.line == 2


def test_broken_and_foreign_files() -> None:
    for data, words in ((b"<svg", "not sound"), (b"<html/>", "not an SVG"), (b"", "not sound")):
        with pytest.raises(ShopError) as caught:
            parse_layout(data, "x.svg")
        assert words in caught.value.what


def test_scripts_and_handlers_are_left_out() -> None:
    of = read('<script>alert(1)</script><rect onclick="x()" width="9" height="9"/>')
    text = "".join(f"{e.tag}{attributes(e)}" for e in elements(of.drawing.root))
    assert "script" not in text
    assert "onclick" not in text


def test_versions_must_name_the_same_roles() -> None:
    error = refusal("<g/>", 'data-light="ink #111111" data-dark="paper #eeeeee"')
    assert "ink, paper" in error.what
    error = refusal("<g/>", 'data-light="ink #111111 | sea: ink #222222" data-dark="ink #eeeeee"')
    assert "sea" in error.what


def test_english_helpers_need_english() -> None:
    assert refusal('<text font-family="Anton">{a trade}</text>', 'xml:lang="de"').slug == "bad-slot"
    read('<text font-family="Anton">{upper trade}</text>', 'xml:lang="de"')


@pytest.mark.parametrize(
    ("pattern", "expected"),
    [
        ("MY OTHER CAR IS {a vehicle}", "MY OTHER CAR IS an 8 foot barrow"),
        ("{a title trade}", "a Bell Ringer"),
        ("{upper plural trade}!", "BELL RINGERS!"),
        ("{list crops}", "peas, beans and leeks"),
        ("{either crops}", "peas, beans or leeks"),
        ("{counted hives hive}", "8 hives"),
        ("{First Name}'s mug", "Zoë's mug"),
        ("{nothing?} left", "left"),
    ],
)
def test_helpers(pattern: str, expected: str) -> None:
    cells = {"vehicle": "8 foot barrow", "trade": "bell ringer", "crops": "peas; beans;leeks", "nothing": ""}
    cells |= {"hives": "8", "hive": "hive", "first name": "Zoë"}
    assert filled(parse_pattern(pattern), cells, "en") == expected


def test_transforms() -> None:
    """SVG 1.1, 7.4 and 7.6: nested transforms multiply from the left; the inverse undoes them."""
    m = parse_transform("translate(50,90) rotate(-45) translate(130,160)")
    assert m == pytest.approx((0.7071, -0.7071, 0.7071, 0.7071, 255.06, 111.21), abs=0.01)
    assert compose(m, inverse(m)) == pytest.approx((1, 0, 0, 1, 0, 0), abs=1e-9)
    assert parse_transform("") == (1, 0, 0, 1, 0, 0)
    assert parse_transform("rotate(90 10 0)") == pytest.approx((0, 1, -1, 0, 10, -10), abs=1e-9)


def test_every_attribute_and_helper_says_what_it_does() -> None:
    assert all(len(words) > 12 for words in (*ATTRIBUTES.values(), *HELPERS.values()))


PIECES = st.sampled_from(
    ["", "0", "-5", "1e400", "1e9", "nan", "#x", '"', "level", "12mm", "{a}", "{", "%", "M0 0"]
)
SPOILING = st.lists(st.tuples(st.floats(0, 0.999), st.integers(0, 12), PIECES), min_size=1, max_size=4)


@settings(max_examples=80, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.sampled_from(starter_layouts()), SPOILING)
def test_a_spoilt_layout_gives_a_sentence_and_never_a_crash(
    starter: tuple[str, bytes], spoiling: list[tuple[float, int, str]]
) -> None:
    name, data = starter
    for place, length, piece in spoiling:
        at = int(place * len(data))
        data = data[:at] + piece.encode() + data[at + length :]
    try:
        of = parse_layout(data, name)
        fonts = {key: find_font(*key) for key in of.fonts()}
    except ShopError:
        return
    row = Row("list.csv", 2, {column_key(column): "some words" for column in of.columns()})
    fill_layout(
        of, row, fonts, {"some words": b"<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 9 9'/>"}
    )
