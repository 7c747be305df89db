"""Stacks: no hole where a row leaves something out, pictures that take the room that words leave."""

import re

import pytest

from hundredfold.designs.layouts.fill import Filled, fill_layout
from hundredfold.designs.layouts.layout import Layout, parse_layout
from hundredfold.designs.layouts.rows import Row
from hundredfold.kernel.errors import ShopError
from hundredfold.workshop.shop.typefaces import find_font

PICTURE = (
    b'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 100"><rect width="100" height="100"/></svg>'
)
WIDE = b'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 20"><rect width="100" height="20"/></svg>'
FRAME = '<rect id="frame" x="0" y="0" width="1000" height="2000" data-guide="yes"/>'
BAR = '<rect x="{x}" y="{y}" width="100" height="100" fill="#123456" data-stack="#frame"{more}/>'
_GROW = 'data-stack="#frame" data-grow="0.5 4"'
ART = f'<rect x="400" y="600" width="200" height="200" data-art="{{picture?}}" {_GROW}/>'
GROUP = (
    f'<g data-when="picture" {_GROW}><circle cx="500" cy="700" r="100" fill="#fedcba"/>'
    '<circle cx="500" cy="700" r="90" data-art="{picture?}"/></g>'
)


def layout(*parts: str) -> Layout:
    return parse_layout(
        (
            '<svg xmlns="http://www.w3.org/2000/svg" width="1000" height="2000" viewBox="0 0 1000 2000">'
            + "".join((FRAME, *parts))
            + "</svg>"
        ).encode(),
        "stack.svg",
    )


def fill(of: Layout, art: bytes = PICTURE, **cells: str) -> Filled:
    fonts = {key: find_font(*key) for key in of.fonts()}
    return fill_layout(of, Row("list.csv", 2, cells), fonts, {"it.svg": art})


def bar(x: int, y: int, more: str = "") -> str:
    return BAR.format(x=x, y=y, more=more)


def steps(done: Filled) -> list[float]:
    """How far down each bar was moved."""
    moved = re.findall(
        rb'<rect[^>]*fill="#123456"[^>]*?(?:transform="translate\(0 (-?[0-9.]+)\)")?/>', done.svg
    )
    return [float(step or 0) for step in moved]


def test_what_is_left_out_takes_its_gap_along() -> None:
    # Drawn at 0, 200, 1200 and 1400: gaps of 100, 900, 100. Without the third, the 900 stays, its 100 goes.
    of = layout(bar(0, 0), bar(0, 200), bar(0, 1200, ' data-when="more"'), bar(0, 1400))
    whole, short = fill(of, more="yes"), fill(of, more="")
    first, second, last = steps(short)
    assert len(steps(whole)) == 4
    assert 1400 + last - (200 + second) - 100 == pytest.approx(900 * (second - first + 100) / 100, rel=1e-5)


def test_two_that_take_turns_stand_in_one_place() -> None:
    of = layout(bar(0, 100, ' data-when="more"'), bar(500, 100, ' data-unless="more"'), bar(0, 400))
    assert steps(fill(of, more="yes")) == steps(fill(of, more=""))
    assert b'x="500"' not in fill(of, more="yes").svg
    assert b'x="500"' in fill(of, more="").svg
    assert "more" in of.optional()


@pytest.mark.parametrize("art", [ART, GROUP])
def test_a_picture_fills_the_room_that_is_left(art: str) -> None:
    # 2000 less two bars of 100 and two gaps of 100 leaves 1600: eight times. Four times is the most.
    done = fill(layout(bar(0, 400), art, bar(0, 900)), picture="it.svg")
    assert _size(done) == pytest.approx(800, rel=0.02)
    tight = layout(bar(0, 400), art, *(bar(0, 900 + 100 * k) for k in range(11)))
    # Twelve bars and two gaps leave 600.
    assert _size(fill(tight, picture="it.svg")) == pytest.approx(600, rel=0.02)


@pytest.mark.parametrize("art", [ART, GROUP])
def test_without_room_for_its_least_it_is_left_out(art: str) -> None:
    cramped = layout(bar(0, 400), art, *(bar(0, 900 + 60 * k) for k in range(17)))
    done = fill(cramped, picture="it.svg")
    assert b"#fedcba" not in done.svg
    assert done.svg.count(b"<rect") == 18
    assert not done.findings


def test_it_grows_by_its_ink_and_no_wider_than_the_frame() -> None:
    # 200 wide and 40 high in its place: five times as wide is the frame.
    done = fill(layout(bar(0, 400), ART.replace("0.5 4", "0.5 9"), bar(0, 900)), WIDE, picture="it.svg")
    assert _size(done) == pytest.approx(1000, rel=0.02)


def _size(done: Filled) -> float:
    """The width of the place, or of the plate, as drawn."""
    frame = re.search(rb'<svg x="[^"]*" y="[^"]*" width="([0-9.]+)"', done.svg)
    grown = re.search(rb"matrix\(([0-9.]+) 0 0", done.svg)
    if grown:
        return 200 * float(grown[1])
    assert frame is not None
    return float(frame[1])


@pytest.mark.parametrize(
    ("part", "said"),
    [
        (ART.replace("0.5 4", "4"), "no pair of numbers"),
        (ART.replace("0.5 4", "2 1"), "no pair of numbers"),
        (ART.replace(' data-stack="#frame"', ""), "only a picture in a stack"),
        (GROUP.replace("</g>", '<text font-family="Anton">{title}</text></g>'), "only a picture in a stack"),
    ],
)
def test_a_growth_that_cannot_be_is_told_with_its_line(part: str, said: str) -> None:
    with pytest.raises(ShopError, match=said) as told:
        layout(part)
    assert told.value.slug == "bad-layout"
    assert told.value.where.row or "stack.svg" in str(told.value)
