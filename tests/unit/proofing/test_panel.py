"""The drawn picture of art on a blank: true in colour and proportion."""

from dataclasses import replace

import numpy as np
import pytest
from numpy.typing import NDArray
from proofing_subjects import CREAM, MUG, NAVY, SHIRT, WHITE

from hundredfold.catalogue.blanks import Blank, BlankColour, Body, Form
from hundredfold.designs.facts import Box
from hundredfold.placement.layout import lay_out
from hundredfold.proofing.panel import PAPER, draw_panel


def block(ink: tuple[int, int, int]) -> NDArray[np.uint8]:
    art = np.zeros((300, 300, 4), np.uint8)
    art[:] = (*ink, 255)
    return art


def middle_of(blank: Blank, colour: BlankColour, art: NDArray[np.uint8]) -> tuple[int, ...]:
    layout = lay_out(Box(0, 0, 300, 300), blank, blank.areas[0])
    panel = draw_panel(blank, colour, layout, art, 200)
    left, top, right, bottom = panel.art
    return tuple(int(v) for v in panel.picture[(top + bottom) // 2, (left + right) // 2])


def with_form(blank: Blank, form: Form) -> Blank:
    bodies = {Form.MUG: Body(82, 95), Form.TUMBLER: Body(75, 170), Form.SHOT_GLASS: Body(60, 58)}
    return replace(blank, form=form, body=bodies.get(form, Body(width_mm=450, height_mm=500)))


@pytest.mark.parametrize("form", Form)
def test_every_form_is_drawn_with_the_art_on_it(form: Form) -> None:
    shown = middle_of(with_form(MUG, form), WHITE, block((200, 30, 40)))
    np.testing.assert_allclose(shown, (200, 30, 40), atol=12)


def test_white_ink_is_the_blank_in_sublimation_and_white_on_an_underbase() -> None:
    dyed = middle_of(with_form(MUG, Form.MUG), CREAM, block((255, 255, 255)))
    np.testing.assert_allclose(dyed, CREAM.srgb, atol=12)
    printed = middle_of(with_form(SHIRT, Form.T_SHIRT), NAVY, block((255, 255, 255)))
    assert min(printed) > 240


def test_the_frame_is_paper_and_the_art_as_wide_as_told() -> None:
    blank = with_form(MUG, Form.CUSHION)
    layout = lay_out(Box(0, 0, 300, 300), blank, blank.areas[0])
    panel = draw_panel(blank, WHITE, layout, block((0, 0, 0)), 400)
    assert tuple(panel.picture[2, 2]) == PAPER
    dark = (panel.picture.max(axis=2) < 60).sum(axis=1).max()
    assert dark == pytest.approx(panel.art[2] - panel.art[0], abs=3)
    # 500 mm of cushion fill 84 % of the frame.
    assert dark == pytest.approx(layout.placements[0].width_mm / 500 * 0.84 * 400, abs=4)
