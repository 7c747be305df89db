"""Drawings that must be refused with one sentence, and honest ones that must pass."""

import base64
import io

import pytest
from PIL import Image

from hundredfold.kernel.errors import ShopError
from hundredfold.runner.svgcheck import SvgLimits, check_svg, svg_size

HEAD = (
    '<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" viewBox="0 0 90 60">'
)


def svg(body: str, before: str = "") -> bytes:
    return f"{before}{HEAD}{body}</svg>".encode()


def embedded(kind: str = "png", size: tuple[int, int] = (4, 4)) -> str:
    out = io.BytesIO()
    Image.new("RGB", size, (9, 9, 9)).save(out, kind.upper())
    return f"data:image/{kind};base64,{base64.b64encode(out.getvalue()).decode()}"


def use_bomb(levels: int = 9, width: int = 10) -> str:
    parts = ['<g id="a0"><path d="M0 0h9v9z"/></g>']
    for level in range(1, levels + 1):
        uses = f'<use xlink:href="#a{level - 1}"/>' * width
        parts.append(f'<g id="a{level}">{uses}</g>')
    return f"<defs>{''.join(parts)}</defs><use href='#a{levels}'/>"


REFUSED = [
    ("svg-entities", svg("&e;", '<!DOCTYPE svg [<!ENTITY e SYSTEM "file:///etc/passwd">]>')),
    ("svg-entities", svg("&b;", '<!DOCTYPE svg [<!ENTITY a "ha"><!ENTITY b "&a;&a;&a;&a;">]>')),
    ("svg-entities", svg("", '<!DOCTYPE svg [<!ATTLIST svg onload CDATA "alert(1)">]>')),
    (
        "svg-entities",
        '<!DOCTYPE svg [<!ENTITY e "x">]><svg xmlns="http://www.w3.org/2000/svg"/>'.encode("utf-16"),
    ),
    ("svg-script", svg("<script>alert(1)</script>")),
    ("svg-script", svg('<rect onclick="go()" width="9" height="9"/>')),
    (
        "svg-foreign-content",
        svg("<foreignObject><b xmlns='http://www.w3.org/1999/xhtml'>x</b></foreignObject>"),
    ),
    ("svg-outside-link", svg('<xi:include xmlns:xi="http://www.w3.org/2001/XInclude" href="next.svg"/>')),
    ("svg-outside-link", svg('<image href="neighbour.png" width="9" height="9"/>')),
    ("svg-outside-link", svg('<image xlink:href="file:///etc/hostname" width="9" height="9"/>')),
    ("svg-outside-link", svg('<image href="http://192.0.2.1/x.png" width="9" height="9"/>')),
    ("svg-outside-link", svg('<use href="other.svg#part"/>')),
    ("svg-outside-link", svg('<rect fill="url(other.svg#paint)" width="9" height="9"/>')),
    ("svg-outside-link", svg('<rect style="fill:u\\72l(other.svg#paint)" width="9" height="9"/>')),
    ("svg-outside-link", svg("<style>@import 'http://192.0.2.1/a.css';</style>")),
    ("svg-outside-link", svg("<style>@font-face{src:url(font.woff)}</style>")),
    ("svg-outside-link", svg('<rect xml:base="http://192.0.2.1/" width="9" height="9"/>')),
    ("svg-outside-link", svg("", '<?xml-stylesheet href="a.css"?>')),
    ("svg-outside-link", svg('<image href="data:image/svg+xml;base64,PHN2Zy8+" width="9" height="9"/>')),
    ("svg-outside-link", svg('<image href="data:text/html,hello" width="9" height="9"/>')),
    ("svg-live-text", svg('<text x="5" y="20">BEE KIND</text>')),
    ("svg-live-text", svg('<text><tspan>BEE</tspan><textPath href="#p">KIND</textPath></text>')),
    ("svg-too-complex", svg(use_bomb())),
    ("svg-too-complex", svg('<g id="a"><use href="#b"/></g><g id="b"><use href="#a"/></g>')),
    ("svg-too-complex", svg('<g id="me"><use href="#me"/></g>')),
    ("svg-too-complex", svg("<g>" * 220 + "</g>" * 220)),
    ("svg-too-complex", svg('<filter id="f"><feMorphology radius="9999"/></filter>')),
    ("svg-too-complex", svg('<filter id="f"><feGaussianBlur stdDeviation="1 1e9"/></filter>')),
    ("svg-too-complex", svg("<filter id='f'>" + "<feTurbulence/>" * 61 + "</filter>")),
    ("svg-damaged", b"<svg xmlns='http://www.w3.org/2000/svg'><g></svg>"),
    ("svg-damaged", b"<svg viewBox='0 0 9 9'/>"),
    ("svg-damaged", svg('<image href="data:image/png;base64,!!!" width="9" height="9"/>')),
    ("svg-without-size", b"<svg xmlns='http://www.w3.org/2000/svg'/>"),
    ("svg-without-size", b"<svg xmlns='http://www.w3.org/2000/svg' width='100%' height='100%'/>"),
    ("svg-without-size", b"<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 0 9'/>"),
]


@pytest.mark.parametrize(("slug", "data"), REFUSED, ids=lambda value: value if isinstance(value, str) else "")
def test_refused_with_one_sentence(slug: str, data: bytes) -> None:
    with pytest.raises(ShopError) as caught:
        check_svg(data, "bad.svg")
    assert caught.value.slug == slug
    assert caught.value.where.file == "bad.svg"
    assert "\n" not in caught.value.what
    assert caught.value.fix


def test_a_picture_bomb_inside_is_refused() -> None:
    small = SvgLimits(pictures=SvgLimits().pictures.__class__(max_pixels=100))
    body = f'<image href="{embedded(size=(20, 20))}" width="9" height="9"/>'
    assert check_svg(svg(body), "a.svg")
    with pytest.raises(ShopError) as caught:
        check_svg(svg(body), "a.svg", small)
    assert caught.value.slug == "art-too-large"
    assert "picture inside" in str(caught.value)


HONEST = [
    '<rect width="9" height="9" fill="url(#g)"/><linearGradient id="g"><stop offset="0"/></linearGradient>',
    '<style>.a{fill:url(#g)}</style><rect class="a" width="9" height="9"/>',
    f'<image xlink:href="{embedded("png")}" width="9" height="9"/>',
    f'<image href="{embedded("jpeg")}" width="9" height="9"/>',
    f'<image href="{embedded("webp")}" width="9" height="9"/>',
    "<text>  </text>",
    '<metadata><rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#"><x rdf:resource="http://192.0.2.1/"/>'
    "</rdf:RDF></metadata>",
    '<x:grid xmlns:x="urn:editor" href="http://192.0.2.1/"/>',
    use_bomb(levels=3),
    '<use href="#missing"/>',
]


@pytest.mark.parametrize("body", HONEST)
def test_honest_drawings_pass(body: str) -> None:
    document_type = (
        '<?xml version="1.0"?><!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" '
        '"http://www.w3.org/Graphics/SVG/1.1/DTD/svg11.dtd">'
    )
    checked = check_svg(svg(body, document_type), "good.svg")
    assert (checked.width, checked.height) == (90, 60)
    assert b"DOCTYPE" not in checked.markup
    assert b'urn:editor" href' not in checked.markup


@pytest.mark.parametrize(
    ("attributes", "size"),
    [
        ('width="300" height="200"', (300, 200)),
        ('width="10in" height="5in"', (960, 480)),
        ('width="25.4mm" height="2.54cm"', (96, 96)),
        ('width="72pt" height="6pc"', (96, 96)),
        ('viewBox="0 0 90 60"', (90, 60)),
        ('viewBox="0,0,90,60" width="100%" height="100%"', (90, 60)),
        ('viewBox="0 0 90 60" width="45"', (45, 30)),
        ('viewBox="0 0 90 60" height="30px"', (45, 30)),
    ],
)
def test_size_in_css_pixels(attributes: str, size: tuple[float, float]) -> None:
    """Absolute lengths of CSS Values and Units 3, section 6.2: 1in = 2.54cm = 25.4mm = 72pt = 6pc = 96px."""
    found = svg_size(f'<svg xmlns="http://www.w3.org/2000/svg" {attributes}/>'.encode())
    assert found == pytest.approx(size)
