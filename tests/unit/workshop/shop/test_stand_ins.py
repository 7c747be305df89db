"""Faces that stand in: signs that shops love come out in every starter's faces, at a like weight."""

from pathlib import Path

import pytest

from hundredfold.designs.typesetting.likeness import build_of
from hundredfold.workshop.shop.standins import stand_ins
from hundredfold.workshop.shop.typefaces import find_font


@pytest.mark.parametrize("sign", ["❤", "♥", "★", "☆", "→", "✓", "✗", "Ⅻ", "Ω", "Ж", "ש", "ع", "ह", "ก"])
@pytest.mark.parametrize("face", ["Anton", "Lobster", "Permanent Marker"])
def test_every_sign_has_a_face(sign: str, face: str) -> None:
    font = find_font(face)
    found = [font, *stand_ins(font, [sign], Path("nowhere"))]
    assert any(each.covers(sign) for each in found)


def test_of_two_weights_the_likest_stands_in() -> None:
    (heavy,) = stand_ins(find_font("Titan One"), ["❤"], Path("nowhere"))[:1]
    (light,) = stand_ins(find_font("Josefin Sans", 400), ["❤"], Path("nowhere"))[:1]
    dark, pale = build_of(heavy), build_of(light)
    assert dark is not None
    assert pale is not None
    assert heavy.covers("❤")
    assert light.covers("❤")
    assert dark.ink > pale.ink
