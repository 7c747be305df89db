"""Broken lines of text that runs both ways keep the order the whole text gives them (UAX 9, L1 and L2)."""

import pytest

from hundredfold.designs.layouts.layout import parse_layout
from hundredfold.designs.layouts.setter import Setter
from hundredfold.designs.typesetting.shaping import shape
from hundredfold.kernel.errors import Where
from hundredfold.workshop.shop.typefaces import find_font

LAYOUT = (
    b'<svg xmlns="http://www.w3.org/2000/svg" width="50mm" height="40mm" viewBox="0 0 500 400" lang="he">'
    b'<text font-family="Heebo" font-size="80" data-fit="box" data-box="20 20 460 300">{trade}</text></svg>'
)


def setter() -> Setter:
    (slot,) = parse_layout(LAYOUT, "test.svg").texts
    return Setter(slot, [find_font("Heebo", slot.weight)], "he", Where())


def seen(setter: Setter, text: str, lines: list[str]) -> list[str]:
    """Each line's letters from left to right, as they stand."""
    shaped = setter._in_order(text, lines)
    return [
        "".join(line.text[g.cluster] for g in sorted(line.glyphs, key=lambda g: g.x)).strip()
        for line in shaped
    ]


# By UAX 9: the paragraph is right-to-left (P2, P3), Hebrew level 1, the number and the Latin word level 2
# (I2), the space between them level 1 (N2); L2 then reverses each line as a whole and its level-2 runs back.
@pytest.mark.parametrize(
    ("lines", "expected"),
    [
        (["מועדון 42 Bees"], ["Bees 42 ןודעומ"]),
        (["מועדון", "42 Bees"], ["ןודעומ", "Bees 42"]),
        (["מועדון 42", "Bees"], ["42 ןודעומ", "Bees"]),
    ],
)
def test_a_number_and_a_latin_word_after_hebrew(lines: list[str], expected: list[str]) -> None:
    assert seen(setter(), "מועדון 42 Bees", lines) == expected


def test_by_itself_the_line_would_read_otherwise() -> None:
    """What the paragraph's direction changes: alone, “42 Bees” runs from left to right."""
    alone = shape("42 Bees", [find_font("Heebo", 400)], language="he")
    assert "".join(alone.text[g.cluster] for g in sorted(alone.glyphs, key=lambda g: g.x)) == "42 Bees"


def test_a_soft_hyphen_elsewhere_does_not_spoil_the_order() -> None:
    text = "מועדון 42 Bee\u00adkeepers"
    assert seen(setter(), text, ["מועדון", "42 Beekeepers"]) == ["ןודעומ", "Beekeepers 42"]
