"""Each ceiling of a foreign drawing: what just fits passes; one more is told, with number and line."""

from dataclasses import replace
from typing import Any

import pytest
from lxml import etree
from test_svgcheck import HEAD, svg

from hundredfold.kernel.errors import ShopError
from hundredfold.runner.svgcheck import DEFAULT_LIMITS, SvgLimits, check_svg, svg_size


def refused(data: bytes, limits: SvgLimits = DEFAULT_LIMITS) -> ShopError:
    with pytest.raises(ShopError) as caught:
        check_svg(data, "bee.svg", limits)
    return caught.value


NESTED = svg("<g><g><g/></g></g>")
DOUBLED = svg('<defs><g id="a"><path/></g></defs><use href="#a"/><use href=" #a "/>')
FILTER = svg('<filter id="f"><feMorphology radius="9 2"/><feBlend/></filter>')


@pytest.mark.parametrize(
    ("data", "limit", "fits", "what"),
    [
        (NESTED, "max_depth", 4, "it is nested more than 3 levels deep"),
        (NESTED, "max_elements", 4, "it has more than 3 elements"),
        (NESTED, "max_bytes", len(NESTED), f"it has {len(NESTED)} bytes, more than {len(NESTED) - 1}"),
        # the drawing, defs, a with its path, and two uses that draw a with its path again
        (DOUBLED, "max_drawn", 10, "its repeated parts draw more than 9 elements"),
        (FILTER, "max_filter_steps", 2, "a filter has 2 steps, more than 1"),
        (FILTER, "max_filter_reach", 9, "a filter's radius is 9, more than 8"),
    ],
)
def test_a_ceiling_is_the_last_that_passes(data: bytes, limit: str, fits: int, what: str) -> None:
    just: Any = {limit: fits}
    less: Any = {limit: fits - 1}
    tight = replace(DEFAULT_LIMITS, **just)
    assert check_svg(data, "bee.svg", tight).width == 90
    error = refused(data, replace(DEFAULT_LIMITS, **less))
    assert (error.slug, error.what) == ("svg-too-complex", what)
    assert error.fix == "simplify the drawing, or export the design as PNG"


@pytest.mark.parametrize("key", ["radius", "stdDeviation", "order", "numOctaves"])
@pytest.mark.parametrize("number", ["300", "3e2", "1 2.5E+3", "1,250.5"])
def test_every_number_of_a_filter_that_reaches_far(key: str, number: str) -> None:
    step = "feTurbulence"
    error = refused(svg(f'<filter><{step} {key}="{number}"/></filter>'))
    assert error.what.startswith(f"a filter's {key} is ")
    assert check_svg(svg(f'<filter><{step} {key}="250 1e-9"/></filter>'), "")
    assert check_svg(svg(f'<circle {key}="{number}"/>'), "")  # a filter's words alone are looked at


def line_of(error: ShopError) -> int | None:
    assert error.where is not None
    assert error.where.file == "bee.svg"
    return error.where.line


@pytest.mark.parametrize(
    ("body", "slug", "what"),
    [
        ("<script/>", "svg-script", "it holds a script (a script element)"),
        ("<handler/>", "svg-script", "it holds a script (a handler element)"),
        ('<g onLoad="x"/>', "svg-script", "it holds a script (an onLoad handler)"),
        ("<video/>", "svg-foreign-content", "it holds a video element, which is not drawing"),
        ("<tref>x</tref>", "svg-live-text", "it holds live text"),
        ("<flowRoot><g>x</g></flowRoot>", "svg-live-text", "it holds live text"),
    ],
)
def test_what_is_refused_names_its_line(body: str, slug: str, what: str) -> None:
    error = refused(svg(f"\n\n{body}"))
    assert (error.slug, line_of(error)) == (slug, 3)
    assert error.what.startswith(what)


LONG = "x" * 61


@pytest.mark.parametrize(
    ("body", "named"),
    [
        (f'<image href="{LONG[1:]}"/>', repr(LONG[1:])),
        (f'<image href="{LONG}"/>', repr("x" * 57 + "...")),
        ('<image src=" a.png "/>', "'a.png'"),
        ('<style>a{b:url( "c.css" )}</style>', "'c.css'"),
        ("<style>@IMPORT x;</style>", "an imported style sheet"),
        ("<style>a{b:\\75 rl(d.png)}</style>", "'d.png'"),
        ("<style>a{b:u\\rl(e.png)}</style>", "'e.png'"),
        ("<style>a{b:\\FFFFFF url(f.png)}</style>", "'f.png'"),
        ('<g style="a:URL(g.png)"/>', "'g.png'"),
        ('<g fill="URL(#ok) url(h.png)"/>', "'h.png'"),
    ],
)
def test_a_link_to_the_outside_is_named(body: str, named: str) -> None:
    error = refused(svg(body))
    assert (error.slug, error.what) == (
        "svg-outside-link",
        f"it links to something outside itself ({named}), and that is never opened",
    )


def test_a_style_sheet_before_the_drawing_is_outside_however_much_stands_between() -> None:
    error = refused(svg("", '<?xml-stylesheet href="a.css"?>\n<!-- a word -->\n'))
    assert "(a style sheet)" in error.what
    assert check_svg(svg("", "<!-- a word -->\n"), "")


@pytest.mark.parametrize(
    "body", ['<use href="#"/>', '<a href=""/>', "<style>a{b:url(#x)}</style>", "<g name='onx1'/>"]
)
def test_what_stays_inside_passes(body: str) -> None:
    assert check_svg(svg(body), "")


def test_private_elements_go_and_what_stood_after_them_stays() -> None:
    body = '<x:a xmlns:x="urn:e">gone</x:a> first <g/> second <x:b xmlns:x="urn:e"/> third <?word?> fourth'
    root = etree.fromstring(check_svg(svg(body), "").markup)
    assert [etree.QName(child).localname for child in root] == ["g"]
    assert (root.text or "").split() == ["first"]
    assert (root[0].tail or "").split() == ["second", "third", "fourth"]
    two = etree.fromstring(check_svg(svg('<x:a xmlns:x="urn:e"/>one<x:b xmlns:x="urn:e"/>two'), "").markup)
    assert two.text == "onetwo"


@pytest.mark.parametrize(
    ("data", "slug", "what"),
    [
        (b"<svg", "svg-damaged", "the drawing cannot be read ("),
        (b"<g/>", "svg-damaged", "its outermost element is not an SVG drawing"),
        (svg("", "<!DOCTYPE svg [ ]>"), "svg-entities", "it declares entities or a document type of its own"),
    ],
)
def test_what_is_no_drawing(data: bytes, slug: str, what: str) -> None:
    error = refused(data)
    assert error.slug == slug
    assert error.what.startswith(what)
    assert "plain SVG" in error.fix


def sized(attributes: str) -> bytes:
    return f'<svg xmlns="http://www.w3.org/2000/svg" {attributes}/>'.encode()


@pytest.mark.parametrize(
    "attributes",
    [
        "", 'width="9"', 'height="9"', 'viewBox="0 0 9"', 'viewBox="0 0 0 9"', 'viewBox="0 0 9 0"',
        'viewBox="0 0 9 -1"', 'width="1000001" height="9"', 'width="9" height="1000001"',
        'width="9em" height="9em"', 'width="1.2.3" height="9"', 'viewBox="0 0 a 9"',
    ],
)  # fmt: skip
def test_no_usable_size(attributes: str) -> None:
    assert refused(sized(attributes)).slug == "svg-without-size"


def test_the_largest_size_and_sizes_from_one_side() -> None:
    assert svg_size(sized('width="1000000" height="9"')) == (1e6, 9)
    assert svg_size(sized('viewBox="5 5 40 10" width="80"')) == (80, 20)
    assert svg_size(sized('viewBox="5 5 40 10" height="80"')) == (320, 80)
    assert svg_size(sized('viewBox="5 5 40 10" width="9" height="7"')) == (9, 7)
    assert svg_size(sized(' viewBox=" 0 , 0 , 4 , 5 "')) == (4, 5)
    checked = check_svg(HEAD.encode() + b"</svg>", "")
    assert (checked.width, checked.height) == (90, 60)
    assert b'width="90.0" height="60.0"' in checked.markup
