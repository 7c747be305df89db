"""How wide art is in a picture, by the plate and by the pixels; small pictures."""

from dataclasses import replace
from pathlib import Path

import cv2
import numpy as np
import pytest
from numpy.typing import NDArray

import hundredfold
from hundredfold.catalogue.blanks import Blank
from hundredfold.designs.facts import Box
from hundredfold.placement.layout import AreaLayout, lay_out, usual_wish
from hundredfold.proofing.thumb import art_share
from hundredfold.workshop.proof.figures import FIGURE_PX, figure
from hundredfold.workshop.proof.picturedareas import sights_of
from hundredfold.workshop.shop.folder import open_shop
from hundredfold.workshop.steps.plates import Pictures, Shot

Bytes = NDArray[np.uint8]
BLANKS = open_shop(Path(hundredfold.__file__).parent / "sample").blanks
SHAPES = [(600, 600), (1200, 400), (400, 800)]


def pictured(blank: Blank, layout: AreaLayout, art: Bytes) -> Bytes:
    lightest = max(blank.colours, key=lambda colour: sum(colour.srgb))
    return Pictures(art).picture(Shot(blank, layout.area, lightest), layout.placements)


def laid(blank: Blank, art: Bytes) -> AreaLayout:
    return lay_out(Box(0, 0, art.shape[1], art.shape[0]), blank, blank.areas[0], usual_wish(blank))


def black(width: int, height: int) -> Bytes:
    art = np.zeros((height, width, 4), np.uint8)
    art[..., 3] = 255
    return art


def measured(blank: Blank, layout: AreaLayout, art: Bytes) -> float:
    """The share of the frame's width that is inked, in the middle row of the inked ones."""
    with_art, bare = (pictured(blank, layout, ink).astype(int) for ink in (art, np.zeros_like(art)))
    inked = np.abs(with_art - bare).max(2) > 25
    rows = np.flatnonzero(inked.any(1))
    return float(inked[(rows[0] + rows[-1]) // 2].mean())


@pytest.mark.parametrize("blank", BLANKS, ids=lambda blank: blank.code)
def test_art_is_as_wide_as_in_its_main_picture(blank: Blank) -> None:
    sights = sights_of([blank])
    for shape in SHAPES:
        art = black(*shape)
        layout = laid(blank, art)
        share = art_share(blank, layout, sights[blank.code, replace(layout.area, for_sizes=())])
        assert share == pytest.approx(measured(blank, layout, art), rel=0.03)
        assert share > 0.1, "a main picture shows what is printed"


def test_a_taller_frame_of_straps_makes_the_art_smaller() -> None:
    (tote,) = (blank for blank in BLANKS if blank.code == "TOTE-BAG")
    layout = laid(tote, black(600, 600))
    assert tote.body.width_mm is not None
    without = layout.placements[0].width_mm * 0.84 / max(tote.body.width_mm, tote.body.height_mm or 0)
    for sight in (None, next(iter(sights_of([tote]).values()))):
        assert art_share(tote, layout, sight) < 0.9 * without


def motif() -> Bytes:
    art = np.zeros((480, 480, 4), np.uint8)
    cv2.circle(art, (240, 240), 235, (200, 60, 40, 255), -1)
    cv2.rectangle(art, (120, 200), (360, 280), (250, 250, 250, 255), -1)
    return art


@pytest.mark.parametrize("blank", BLANKS, ids=lambda blank: blank.code)
def test_a_small_picture_is_the_large_one_reduced(blank: Blank) -> None:
    art = motif()
    layout = lay_out(Box(100, 200, 4900, 5000), blank, blank.areas[0], usual_wish(blank))
    small = figure(blank, blank.colours[-1], layout, Box(100, 200, 4900, 5000), art)
    assert FIGURE_PX <= small.shape[0] == small.shape[1] < 2 * FIGURE_PX
    shot = Shot(blank, layout.area, blank.colours[-1])
    whole = tuple(replace(placed, crop=Box(0, 0, 480, 480)) for placed in layout.placements)
    large = Pictures(art).picture(shot, whole)
    reduced = cv2.resize(large, (small.shape[1], small.shape[0]), interpolation=cv2.INTER_AREA)
    apart = np.abs(reduced.astype(int) - small)
    assert apart.mean() < 0.4
    assert np.percentile(apart, 99.5) < 20
