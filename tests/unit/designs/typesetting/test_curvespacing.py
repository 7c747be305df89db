"""Letters on a curve: gaps as in the flat line, measured on the drawn outlines by code of its own."""

import itertools

import numpy as np
import pytest

from hundredfold.designs.typesetting.curves import Curve, arc, from_path_data
from hundredfold.designs.typesetting.outline import Outline
from hundredfold.designs.typesetting.setting import set_on_curve, touching_pairs
from hundredfold.designs.typesetting.shaping import shape
from hundredfold.workshop.shop.typefaces import find_font

OVER, UNDER = arc(0, 0, 1345, -180, 180), arc(0, 0, 1345, 180, -180)
TITLES = ("PROUD BEEKEEPER", "MERMAID IN A HAT", "LAZY TAVERN AWAY", "WINTER SWIMMER")


def dense(outline: Outline) -> np.ndarray:
    """Points along the outline, a thousandth of its size apart or less."""
    points = []
    for contour in outline.flat:
        ends = np.roll(contour, -1, axis=0)
        for a, b in zip(contour, ends, strict=True):
            count = max(2, int(np.hypot(*(b - a)) / 2))
            points.append(a + (b - a) * np.linspace(0, 1, count)[:, None])
    return np.concatenate(points)


def gaps(outlines: list[Outline]) -> list[float]:
    drawn = [dense(outline) for outline in outlines if not outline.empty]
    return [
        float(np.sqrt(((a[:, None] - b[None]) ** 2).sum(axis=2).min())) for a, b in itertools.pairwise(drawn)
    ]


@pytest.mark.parametrize("curve", [OVER, UNDER])
@pytest.mark.parametrize("title", TITLES)
def test_gaps_on_an_arc_are_those_of_the_flat_line(title: str, curve: Curve) -> None:
    size = 300.0
    font = find_font("Alfa Slab One")
    line = shape(title, [font])
    flat = gaps([glyph.outline().affine(size, 0, 0, -size, 0, 0) for glyph in line.glyphs])
    whole = set_on_curve(line, size, curve)
    letters, verb, point = [], 0, 0
    for glyph in line.glyphs:
        shape_of = glyph.outline()
        verbs, points = verb + len(shape_of.verbs), point + len(shape_of.points)
        letters.append(Outline(whole.verbs[verb:verbs], whole.points[point:points]))
        verb, point = verbs, points
    curved = gaps(letters)
    assert len(curved) == len(flat)
    for here, there in zip(curved, flat, strict=True):
        assert here > 0.02 * size
        assert here == pytest.approx(max(there, 0.03 * size), abs=0.03 * size)


def test_letters_that_touch_on_a_tight_bend_are_told_by_name() -> None:
    tight = from_path_data("M0 0C0 60 100 60 100 0C100 -60 200 -60 200 0")
    line = shape("MMMMMMMM", [find_font("Alfa Slab One")])
    assert ("M", "M") in touching_pairs(line, 90.0, tight)
    assert touching_pairs(line, 90.0, OVER) == ()
