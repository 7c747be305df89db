"""Fonts are refused when broken or forbidden, and measured as their tables say."""

import contextlib
from io import BytesIO

import fontpkg
import pytest
from fontTools.ttLib import TTFont

from hundredfold.designs.typesetting.curves import arc
from hundredfold.designs.typesetting.fitting import fit_curve
from hundredfold.designs.typesetting.fonts import load_font, weight_range
from hundredfold.designs.typesetting.outline import Outline
from hundredfold.designs.typesetting.setting import set_on_curve
from hundredfold.designs.typesetting.shaping import shape
from hundredfold.kernel.errors import ShopError
from hundredfold.workshop.shop.typefaces import find_font, font_names


def with_flags(flags: int) -> bytes:
    font = TTFont(fontpkg.path("Anton"))
    font["OS/2"].fsType = flags
    out = BytesIO()
    font.save(out)
    return out.getvalue()


@pytest.mark.parametrize("flags", [0x0002, 0x0200, 0x0202])
def test_a_font_that_forbids_embedding_is_refused(flags: int) -> None:
    """OpenType OS/2 fsType: bit 1 restricted licence, bit 9 bitmaps only."""
    with pytest.raises(ShopError) as caught:
        load_font(with_flags(flags), "mine.ttf")
    assert caught.value.slug == "font-embedding"
    assert str(flags) in caught.value.what


@pytest.mark.parametrize("flags", [0x0000, 0x0004, 0x0008, 0x0006, 0x0100])
def test_a_font_that_allows_it_is_read(flags: int) -> None:
    """The least restrictive of bits 1 to 3 holds where several are set."""
    assert load_font(with_flags(flags), "mine.ttf").cap_height > 0.5


@pytest.mark.parametrize(
    "data", [b"", b"no font", b"wOFF....", b"wOF2....", b"\x00\x01\x00\x00" + b"\x00" * 40]
)
def test_what_is_no_font_is_refused(data: bytes) -> None:
    with pytest.raises(ShopError) as caught:
        load_font(data, "mine.ttf")
    assert caught.value.slug == "bad-font"


def test_a_cut_font_is_refused() -> None:
    whole = fontpkg.path("Anton").read_bytes()
    for length in (2000, len(whole) // 2, len(whole) - 500):
        with contextlib.suppress(ShopError):
            load_font(whole[:length], "mine.ttf")
    with pytest.raises(ShopError, match="not a font"):
        load_font(whole[:2000], "mine.ttf")


def test_axes_are_set_and_their_limits_told() -> None:
    data = fontpkg.path("Oswald").read_bytes()
    assert weight_range(data, "o") == (200, 700)
    light, bold = (load_font(data, "o", {"wght": weight}) for weight in (200, 700))
    assert shape("H", [light]).ink.width < shape("H", [bold]).ink.width
    with pytest.raises(ShopError, match="wght 900") as caught:
        load_font(data, "o", {"wght": 900})
    assert "200 to 700" in caught.value.fix


def test_heights_are_those_of_the_tables() -> None:
    data = fontpkg.path("Josefin Sans").read_bytes()
    table = TTFont(BytesIO(data))["OS/2"]
    font = load_font(data, "j")
    assert font.cap_height * font.units_per_em == pytest.approx(table.sCapHeight, abs=12)
    assert font.x_height * font.units_per_em == pytest.approx(table.sxHeight, abs=12)


@pytest.mark.parametrize(
    ("name", "joins"), [("Pacifico", True), ("Lobster", True), ("Anton", False), ("Caveat", False)]
)
def test_joined_hands_are_known_by_their_letters(name: str, joins: bool) -> None:
    assert find_font(name).joins is joins


def contours(outline: Outline) -> int:
    return outline.verbs.count(b"M")


def test_joined_letters_bend_and_others_turn() -> None:
    """A bent line has only curves; a turned letter keeps its straight stems."""
    curve = arc(0, 0, 500, -170, 160)
    script, block = shape("name", [find_font("Pacifico")]), shape("NAME", [find_font("Anton")])
    bent = set_on_curve(script, fit_curve(script, curve, 300), curve)
    turned = set_on_curve(block, fit_curve(block, curve, 300), curve)
    assert b"L" not in bent.verbs
    assert b"L" in turned.verbs
    assert contours(bent) == contours(script.outline)


def test_turned_letters_keep_their_shape() -> None:
    """A letter on a curve is the letter moved and turned: its area does not change."""
    curve, line = arc(0, 0, 400, -170, 160), shape("O", [find_font("Anton")])
    box = set_on_curve(line, 100, curve).bounds()
    assert box is not None
    assert box.width == pytest.approx(line.ink.width * 100, rel=1e-3)  # at the top it is not turned at all
    assert box.top == pytest.approx(-400 - line.ink.bottom * 100, rel=1e-3)


def test_unknown_fonts_are_named_with_what_there_is() -> None:
    with pytest.raises(ShopError) as caught:
        find_font("No Such Face")
    assert "Anton" in caught.value.fix
    assert "Anton" in font_names()
