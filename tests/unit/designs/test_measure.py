"""Facts on art drawn for each: one thing true at a time."""

import numpy as np
import pytest
from numpy.typing import NDArray

from hundredfold.designs.alike import exact_twins, near_twins
from hundredfold.designs.decode import Picture
from hundredfold.designs.facts import Box, DesignFacts
from hundredfold.designs.measure import facts_as_json, facts_from_json, measure
from hundredfold.workshop.steps.allsteps import MEASURE

Bytes = NDArray[np.uint8]


def facts(pixels: Bytes, *, has_alpha: bool = True) -> DesignFacts:
    return measure(Picture(pixels, "png", 8, "", 300.0, has_alpha), "d" * 64, 1234)


def sheet(height: int = 200, width: int = 160) -> Bytes:
    return np.zeros((height, width, 4), np.uint8)


def block(colour: tuple[int, int, int, int] = (200, 30, 40, 255)) -> Bytes:
    pixels = sheet()
    pixels[50:150, 40:120] = colour
    return pixels


def test_a_plain_block() -> None:
    found = facts(block())
    assert found.ink == Box(40, 50, 120, 150)
    assert found.ink_share == pytest.approx(100 * 80 / (200 * 160))
    assert (found.soft_share, found.edge_share, found.specks, found.opaque_border) == (0, 0, 0, False)
    assert [(ink.hex, ink.share) for ink in found.inks] == [("#c81e28", 1.0)]
    assert [(edge.hex, edge.share) for edge in found.outline] == [("#c81e28", 1.0)]
    assert (found.dpi, found.bits, found.file_bytes) == (300.0, 8, 1234)


def test_nothing_at_all() -> None:
    found = facts(sheet())
    assert found.ink.empty
    assert (found.ink_share, found.soft_share, found.edge_share, found.specks) == (0, 0, 0, 0)
    assert (found.inks, found.outline) == ((), ())


def test_alpha_nobody_sees_is_not_ink() -> None:
    pixels = block()
    pixels[0, 0] = (9, 9, 9, 5)
    assert facts(pixels).ink == Box(40, 50, 120, 150)
    pixels[0, 0] = (9, 9, 9, 6)
    assert facts(pixels).ink == Box(0, 0, 120, 150)


def test_the_share_of_the_edge_is_exact() -> None:
    pixels = sheet(100, 60)
    pixels[0:10, 20:50] = (1, 2, 3, 255)
    assert facts(pixels).edge_share == pytest.approx(30 / (2 * 100 + 2 * 60 - 4), abs=1e-6)


def test_specks_are_counted_and_larger_islands_are_not() -> None:
    pixels = block()
    for place in range(5):
        pixels[10, 10 + place * 6] = (0, 0, 0, 255)
    pixels[180:184, 10:14] = (0, 0, 0, 255)  # 16 pixels: not a speck
    pixels[190, 10:25] = (0, 0, 0, 255)  # 15 pixels: a speck
    assert facts(pixels).specks == 6


def test_a_rim_is_not_soft_ink_but_a_shadow_is() -> None:
    pixels = block()
    pixels[48:50, 40:120] = (200, 30, 40, 128)
    assert facts(pixels).soft_share == 0
    pixels[150:160, 40:120] = (0, 0, 0, 90)
    assert facts(pixels).soft_share == pytest.approx(800 / (8000 + 160 + 800), abs=1e-6)


def test_a_picture_without_alpha_is_ink_all_over() -> None:
    pixels = np.full((40, 30, 4), 255, np.uint8)
    pixels[10:20, 10:20, :3] = (20, 40, 160)
    found = facts(pixels, has_alpha=False)
    assert found.ink == Box(0, 0, 30, 40)
    assert (found.ink_share, found.edge_share, found.opaque_border) == (1, 1, True)
    pixels[0, 5, :3] = 0
    assert not facts(pixels, has_alpha=False).opaque_border


def test_inks_keep_the_exact_colours_and_rank_by_share() -> None:
    pixels = block()
    pixels[50:75, 40:120] = (250, 240, 20, 255)
    pixels[75:76, 40:120] = (225, 135, 30, 255)  # a blend between the two: a sliver
    assert [(ink.hex, round(ink.share, 2)) for ink in facts(pixels).inks] == [
        ("#c81e28", 0.74),
        ("#faf014", 0.25),
        ("#e1871e", 0.01),
    ]


def test_the_outline_is_what_lies_just_inside() -> None:
    pixels = block((255, 255, 255, 255))
    pixels[60:140, 50:110] = (10, 20, 30, 255)
    found = facts(pixels)
    assert found.outline[0].hex == "#ffffff"
    assert found.outline[0].share == 1.0
    assert found.inks[0].hex == "#0a141e"


def test_hairlines_have_an_outline_too() -> None:
    pixels = sheet()
    pixels[100, 20:140] = (0, 90, 0, 255)
    assert facts(pixels).outline[0].hex == "#005a00"


def test_codec_round_trip() -> None:
    found = facts(block())
    assert facts_from_json(facts_as_json(found)) == found
    with pytest.raises(TypeError):
        facts_from_json(facts_as_json(found).replace(b'"ink":{', b'"ink":3,"x":{'))


def drawn(seed: int) -> Bytes:
    rng = np.random.default_rng(seed)
    pixels = sheet(300, 240)
    for _ in range(12):
        top, left = rng.integers(20, 220), rng.integers(20, 170)
        pixels[top : top + rng.integers(10, 70), left : left + rng.integers(10, 60)] = (
            *rng.integers(0, 256, 3),
            255,
        )
    return pixels


def test_twins() -> None:
    first = drawn(1)
    moved = np.roll(first, (5, 9), axis=(0, 1))  # the same art elsewhere on its sheet
    doubled = np.kron(first, np.ones((2, 2, 1), np.uint8))
    recoloured = first.copy()
    recoloured[:, :, :3] = recoloured[:, :, [2, 0, 1]]
    all_facts = [facts(art) for art in (first, drawn(2), first.copy(), moved, doubled, recoloured, drawn(3))]
    assert exact_twins(all_facts) == ((0, 2),)
    pairs = {(twins.first, twins.second) for twins in near_twins(all_facts)}
    assert pairs == {(0, 3), (0, 4), (2, 3), (2, 4), (3, 4)}


def test_white_art_and_black_art_are_not_all_alike() -> None:
    arts = []
    for seed in (1, 2, 3):
        for ink in (0, 255):
            art = drawn(seed)
            art[:, :, :3][art[:, :, 3] > 0] = ink
            arts.append(facts(art))
    assert near_twins(arts) == ()


def test_what_is_measured_is_pinned_to_the_version() -> None:
    """Change a fact's meaning and this fails: raise the version of MEASURE and pin the new facts."""
    pixels = drawn(4)
    pixels[200:230, 5:60] = (0, 0, 0, 90)
    found = facts(pixels)
    assert MEASURE.version == (2,)
    assert facts_as_json(found).decode() == GOLDEN


# Perceptual hash and colours come through OpenCV, so the locked versions are part of the pin.
GOLDEN = (
    '{"bits":8,"digest":"dddddddddddddddddddddddddddddddddddddddddddddddddddddddddddddddd","dpi'
    '":300.0,"edge_share":0.0,"file_bytes":1234,"file_format":"png","has_alpha":true,"height_px'
    '":300,"ink":{"bottom":280,"left":5,"right":219,"top":36},"ink_share":0.218042,"inks":[{"he'
    'x":"#e182f0","share":0.195},{"hex":"#9b4860","share":0.1497},{"hex":"#ee5ebb","share":0.14'
    '23},{"hex":"#33392a","share":0.0992},{"hex":"#7edb80","share":0.083},{"hex":"#2d769b","sha'
    're":0.0767},{"hex":"#addf38","share":0.0696},{"hex":"#37cfb1","share":0.0612}],"look":"f2a'
    '66335ce2153ca855a7caad1dbac24","opaque_border":false,"outline":[{"hex":"#e182f0","share":0'
    '.1468},{"hex":"#9b4860","share":0.1435},{"hex":"#addf38","share":0.0968},{"hex":"#7edb80",'
    '"share":0.096},{"hex":"#33392a","share":0.0903},{"hex":"#2d769b","share":0.0855},{"hex":"#'
    '35aa17","share":0.0742},{"hex":"#ee5ebb","share":0.0742}],"pixel_digest":"95d8842bbefc24b0'
    '585a21ea17a9538939e02aefd587f3900fd90e0e03fc08d0","profile":"","remarks":[],"soft_share":0'
    '.095106,"specks":0,"vector":false,"width_px":240}'
)
