"""Filling: slots hold their text, versions their colours, and every bad cell gives one clear sentence."""

import re
from collections.abc import Mapping

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from lxml import etree

from hundredfold.designs.layouts.fill import Filled, fill_layout
from hundredfold.designs.layouts.layout import Layout, parse_layout
from hundredfold.designs.layouts.rows import Row
from hundredfold.designs.typesetting.outline import Bounds
from hundredfold.kernel.errors import ShopError
from hundredfold.kernel.findings import Severity
from hundredfold.workshop.shop.starterlayouts import starter_layouts
from hundredfold.workshop.shop.typefaces import find_font

HEAD = '<svg xmlns="http://www.w3.org/2000/svg" width="304.8mm" height="381mm" viewBox="0 0 3600 4500"'
DOT = b'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 10 10"><circle cx="5" cy="5" r="5"/></svg>'


def layout(body: str, attributes: str = "") -> Layout:
    return parse_layout(f"{HEAD} {attributes}>{body}</svg>".encode(), "test.svg")


def one_text(words: str = "{trade}", **data: str) -> Layout:
    ours = "".join(f' data-{key.replace("_", "-")}="{value}"' for key, value in data.items())
    return layout(f'<text x="1800" y="2000" font-family="Anton" font-size="300"{ours}>{words}</text>')


def fill(of: Layout, art: Mapping[str, bytes] | None = None, version: str = "", **cells: str) -> Filled:
    row = Row("list.csv", 7, {key.replace("_", " "): value for key, value in cells.items()})
    return fill_layout(of, row, {key: find_font(*key) for key in of.fonts()}, art, version)


def the_ink(done: Filled) -> Bounds:
    assert done.svg, [str(finding) for finding in done.findings]
    (_, ink), *_ = done.inks
    return ink


def test_no_text_of_ours_and_no_live_text_is_left() -> None:
    done = fill(one_text("PROUD {upper trade}", fit="box", box="100 100 3000 900"), trade="beekeeper")
    assert b"<text" not in done.svg
    assert b"data-" not in done.svg.replace(b'data-made-from="list.csv"', b"")
    assert b"beekeeper" not in done.svg.lower()
    root = etree.fromstring(done.svg)
    assert (root.get("width"), root.get("viewBox")) == ("304.8mm", "0 0 3600 4500")


def test_width_is_met_exactly_with_outline() -> None:
    done = fill(
        one_text(fit="width", box="300 500 2400 1200", outline="2mm #ffffff, 1mm #000000"), trade="honey"
    )
    ink = the_ink(done)
    assert (ink.left, ink.right) == pytest.approx((300, 2700), abs=0.01)
    assert b'stroke-width="70.8661"' in done.svg  # 2 x 3 mm at 300 dpi: 2 x 35.43 units


def test_a_drawing_in_millimetres_is_as_fine_as_one_in_pixels() -> None:
    text = '<text font-family="Anton" font-size="{}" data-fit="width" data-box="0 0 {} {}">{{trade}}</text>'
    small = parse_layout(
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 10 10">{text.format(1, 8, 8)}</svg>'.encode(),
        "s",
    )
    row = Row("list.csv", 2, {"trade": "BEES"})
    done = fill_layout(small, row, {key: find_font(*key) for key in small.fonts()})
    numbers = re.findall(rb"\.([0-9]+)", done.svg)
    assert max(map(len, numbers)) >= 5


@pytest.mark.parametrize(
    ("more", "below"), [({"shadow": "3mm 3mm #000000"}, 3.0), ({"outline": "2mm #ffffff"}, 0.0)]
)
def test_outlines_and_shadows_leave_the_next_line_alone(more: dict[str, str], below: float) -> None:
    words = "world’s okayest beekeeper"
    done = fill(one_text(fit="box", box="200 900 3200 900", lines="2", case="upper", **more), trade=words)
    assert done.facts is not None
    upper, lower = (line.ink for line in done.facts.lines)
    assert upper.bottom + below * 300 / 25.4 <= lower.top
    ink = the_ink(done)
    assert ink.top >= 900 - 0.01
    assert ink.bottom <= 1800 + 0.01


def test_the_shadow_stays_in_the_box() -> None:
    ink = the_ink(
        fill(one_text(fit="width", box="300 500 2400 1200", shadow="2mm -1mm #000000"), trade="honey")
    )
    assert Bounds(300, 500, 2700, 1700).holds(ink, 0.01)
    assert (ink.left, ink.right) == pytest.approx((300, 2700), abs=0.01)


def test_tracking_opens_a_short_word_no_further_than_allowed() -> None:
    tight = the_ink(fill(one_text(fit="width", box="0 0 3600 300"), trade="PUB"))
    loose = the_ink(fill(one_text(fit="width", box="0 0 3600 300", tracking="0 0.2"), trade="PUB"))
    wide = the_ink(fill(one_text(fit="width", box="0 0 3600 300", tracking="0 20"), trade="PUB"))
    assert tight.width < loose.width < wide.width
    assert loose.height == pytest.approx(300, abs=0.01)
    assert wide.width == pytest.approx(3600, abs=1)


def test_level_lines_are_all_as_wide_as_the_block() -> None:
    of = one_text(fit="box", box="300 300 3000 3000", align="level", gap="60", case="upper")
    done = fill(of, trade="my other family has forty thousand members")
    assert done.facts is not None
    assert len(done.facts.lines) > 2
    assert done.facts.width_variation == pytest.approx(0, abs=1e-6)
    assert Bounds(300, 300, 3300, 3300).holds(the_ink(done), 0.01)


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(
    words=st.lists(st.text("ABCdefgijqyÅé'", min_size=1, max_size=9), min_size=1, max_size=9),
    fit=st.sampled_from(("width", "box", "level")),
    wide=st.integers(200, 3000),
    tall=st.integers(120, 3000),
    outline=st.sampled_from((None, "0.5mm #ffffff", "1mm #ffffff, 0.7mm #000000")),
    shadow=st.sampled_from((None, "1mm 1mm #000000", "-1mm 0.5mm #000000")),
)
def test_nothing_leaves_its_slot(
    words: list[str], fit: str, wide: int, tall: int, outline: str | None, shadow: str | None
) -> None:
    data = {"fit": "box" if fit == "level" else fit, "box": f"200 300 {wide} {tall}", "tracking": "0 0.3"}
    data |= {"align": "level"} if fit == "level" else {}
    data |= {"outline": outline} if outline else {}
    data |= {"shadow": shadow} if shadow else {}
    done = fill(one_text(**data), trade=" ".join(words))
    assert Bounds(200, 300, 200 + wide, 300 + tall).holds(the_ink(done), 0.02)


def test_words_on_a_circle_keep_to_their_ring() -> None:
    of = layout(
        '<circle id="c" cx="1800" cy="2250" r="1000"/>'
        '<g font-family="Anton" font-size="200"><text data-path="#c" data-hang="middle">{trade}</text>'
        '<text data-path="#c" data-hang="middle" data-side="under">{trade}</text></g>'
    )
    (_, over), (_, under) = fill(of, trade="BEES").inks
    assert over.centre[0] == pytest.approx(1800, abs=6)  # B and S are not mirror images
    assert over.bottom < 2250 < under.top
    # Half of the letters' height lies outside the circle, above as below.
    assert 1250 - over.top == pytest.approx(under.bottom - 3250, abs=4)


def test_one_layout_two_versions() -> None:
    of = layout(
        '<rect width="9" height="9" data-fill="ink" style="fill:#000000;opacity:1"/>'
        '<text font-family="Anton" font-size="200" data-fill="accent">{trade}</text>',
        'data-light="ink #112233, accent #aa0000" data-dark="ink #eeeeee, accent #ffaa88"',
    )
    assert of.versions == ("light", "dark")
    light, dark = fill(of, version="light", trade="BEES"), fill(of, version="dark", trade="BEES")
    assert b'fill="#112233"' in light.svg
    assert b'fill="#aa0000"' in light.svg
    assert b'fill="#eeeeee"' in dark.svg
    assert b"#000000" not in dark.svg


def test_a_row_picks_its_palette() -> None:
    of = layout('<path d="M0 0h9v9z" data-fill="ink"/>', 'data-light="ink #111111 | deep sea: ink #123456"')
    assert b"#111111" in fill(of, version="light").svg
    assert b"#123456" in fill(of, version="light", palette="Deep-Sea").svg
    (finding,) = fill(of, version="light", palette="lake").findings
    assert (finding.code, finding.severity) == ("no-palette", Severity.STOP)


def test_art_is_placed_and_recoloured() -> None:
    of = layout(
        '<rect x="100" y="200" width="300" height="400" data-art="{picture}" data-recolour="#123456"/>'
    )
    done = fill(of, {"dot.svg": DOT}, picture="dot.svg")
    assert b'x="100" y="200" width="300" height="400"' in done.svg
    # The dot's ink is as wide as the place and in its middle: 10 units on 300, 13.33 on 400.
    assert b'viewBox="0 -1.6' in done.svg
    assert b"#123456" in done.svg


def test_a_turned_shape_of_a_picture_is_part_of_its_ink() -> None:
    # A bar of 100 by 20, turned upright about the origin: 20 wide and 100 high, at the page's left.
    bar = b'<rect x="0" y="-20" width="100" height="20" transform="rotate(90)"/>'
    picture = b'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 100">' + bar + b"</svg>"
    of = layout('<rect x="100" y="200" width="300" height="400" data-art="{picture}"/>')
    done = fill(of, {"bar.svg": picture}, picture="bar.svg")
    # Its height fills the place: 100 units on 400, so the place shows 75 units across.
    views = re.findall(rb'viewBox="([^"]*)"', done.svg)
    assert [float(value) for value in views[-1].split()] == pytest.approx([-27.5, 0, 75, 100], abs=0.02)


def test_optional_slots_and_parts() -> None:
    of = layout(
        '<text font-family="Anton" font-size="200">{trade}</text>'
        '<text font-family="Anton" font-size="200" y="900">{small?}</text>'
        '<path d="M0 0L9 9" data-when="small"/>'
    )
    assert fill(of, trade="BEES", small="").svg.count(b"<path") == 1
    assert fill(of, trade="BEES", small="yes").svg.count(b"<path") == 3


def test_worn_print_is_a_mask_that_a_seed_decides() -> None:
    first, again = (fill(one_text(distress="0.3 5"), trade="BEES").svg for _ in range(2))
    other = fill(one_text(distress="0.3 6"), trade="BEES").svg
    assert b"<mask" in first
    assert first == again != other


def test_an_outline_that_fills_the_letters_is_told() -> None:
    thin = fill(one_text(outline="0.3mm #ffffff"), trade="BOOB")
    thick = fill(one_text(outline="4mm #ffffff"), trade="BOOB")
    assert thin.facts is not None
    assert thick.facts is not None
    assert (thin.facts.closed_counters, thick.facts.closed_counters) == (0, 1)


def test_overlap_is_measured() -> None:
    text = '<text font-family="Anton" font-size="300" x="500" y="{y}">{{trade}}</text>'
    apart = fill(layout(text.format(y=500) + text.format(y=1500)), trade="BEES")
    over = fill(layout(text.format(y=500) + text.format(y=500)), trade="BEES")
    assert apart.facts is not None
    assert over.facts is not None
    assert apart.facts.overlap == 0
    assert over.facts.overlap > 0.95


def test_below_the_least_height_is_a_finding_with_the_number() -> None:
    of = one_text(fit="width", box="0 0 400 300", min_x_height="3mm")
    done = fill(of, trade="a very long trade that does not fit the box at all")
    assert done.svg
    finding = next(each for each in done.findings if each.code == "too-small")
    assert finding.severity == Severity.WARN
    assert 0 < float(finding.numbers["x_height_mm"]) < 3


@pytest.mark.parametrize(
    ("cell", "code"),
    [
        ("", "empty-cell"),
        ("two\nlines", "line-break"),
        ("bee \U0001f41d", "emoji"),
        ("1\ufe0f\u20e3 bees", "emoji"),
        ("abc \u202edef", "direction-mark"),
        ("a\u0007b", "control-character"),
        ("x" * 300, "too-long"),
        ("bees ☃", "missing-glyph"),
        ("蜂", "missing-glyph"),
    ],
)
def test_a_bad_cell_stops_its_row_with_a_sentence(cell: str, code: str) -> None:
    done = fill(one_text(), trade=cell)
    assert done.svg == b""
    (finding,) = done.findings
    assert (finding.code, finding.severity) == (code, Severity.STOP)
    assert finding.item == "list.csv, row 7, with test.svg"
    assert finding.fix
    assert "trade" in finding.what or code == "missing-glyph"


def test_no_room_at_all_stops_the_row() -> None:
    done = fill(one_text(fit="box", box="0 0 100 100", outline="9mm #ffffff"), trade="BEES")
    assert (done.svg, [finding.code for finding in done.findings]) == (b"", ["no-room"])


def test_a_missing_glyph_names_character_and_font() -> None:
    (finding,) = fill(one_text(), trade="bees ☃").findings
    assert "U+2603" in finding.what
    assert "snowman" in finding.what
    assert "Anton" in finding.what


def test_a_second_font_of_the_list_steps_in() -> None:
    of = layout('<text font-family="Anton, Heebo" font-size="200">{trade}</text>')
    assert fill(of, trade="Bees שלום").svg


@pytest.mark.parametrize("art", [{}, {"dot.svg": b"no picture"}, {"dot.svg": b"<svg/>"}])
def test_a_bad_picture_stops_its_row(art: dict[str, bytes]) -> None:
    done = fill(layout('<rect width="9" height="9" data-art="{picture}"/>'), art, picture="dot.svg")
    assert (done.svg, [finding.code for finding in done.findings]) == (b"", ["bad-art"])


@pytest.mark.parametrize("name", [name for name, _ in starter_layouts()])
def test_starters_fill_the_same_way_every_time(name: str) -> None:
    of = parse_layout(dict(starter_layouts())[name], name)
    cells = {"title": "Proud beekeeper", "line": "stung and still smiling", "picture": "dot.svg"}
    cells |= {"first": "Feed", "second": "Smoke", "third": "Repeat"}
    assert of.versions == ("light", "dark")
    for version in of.versions:
        first, again = (fill(of, {"dot.svg": DOT}, version, **cells) for _ in range(2))
        assert first.svg
        assert first.svg == again.svg
        assert first.findings == ()
        assert first.facts is not None
        assert first.facts.overlap < 0.01
        page = Bounds(0, 0, of.drawing.view[2], of.drawing.view[3])
        assert all(page.holds(ink) for _, ink in first.inks)


def test_there_are_starters_of_every_kind() -> None:
    assert len(starter_layouts()) == 21


def texts_of(done: Filled) -> list[str]:
    assert done.facts is not None, [str(finding) for finding in done.findings]
    return [line.text for line in done.facts.lines]


def in_german(**data: str) -> Layout:
    ours = "".join(f' data-{key}="{value}"' for key, value in data.items())
    words = f'<text x="1800" y="2000" font-family="Anton" font-size="300"{ours}>{{trade}}</text>'
    return layout(words, 'lang="de"')


def test_words_are_broken_with_hyphens_only_where_the_layout_asks() -> None:
    box = {"fit": "box", "box": "100 100 900 2400"}
    word = "Donaudampfschifffahrt"
    assert texts_of(fill(in_german(**box), trade=word)) == [word]
    broken = texts_of(fill(in_german(hyphens="yes", **box), trade=word))
    assert len(broken) > 1
    assert all(line.endswith("-") for line in broken[:-1])
    assert "".join(broken).replace("-", "") == word


def test_a_cell_may_hold_its_own_soft_hyphens() -> None:
    box = {"fit": "box", "box": "100 100 900 2400"}
    done = fill(in_german(**box), trade="Donaudampf\u00adschifffahrt")
    assert texts_of(done) == ["Donaudampf-", "schifffahrt"]
    wide = {"fit": "width", "box": "100 100 3400 900"}
    assert the_ink(fill(in_german(**wide), trade="Donau\u00addampf")) == the_ink(
        fill(in_german(**wide), trade="Donaudampf")
    )


def test_hyphens_in_a_language_without_patterns_are_refused() -> None:
    words = (
        '<text font-family="Anton" data-hyphens="yes" data-box="0 0 900 900" data-fit="box">{trade}</text>'
    )
    with pytest.raises(ShopError, match="no rules for them") as told:
        layout(words, 'lang="xx"')
    assert told.value.slug == "bad-layout"
