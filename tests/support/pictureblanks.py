"""Blanks and art for picture tests."""

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from hundredfold.catalogue.blanks import Blank, BlankColour, Body, Orientation, PrintArea
from hundredfold.catalogue.forms import Form
from hundredfold.catalogue.processes import Material, Process
from hundredfold.kernel.colour import Srgb
from hundredfold.kernel.money import Money

WHITE = BlankColour("white", "White", Srgb(247, 246, 242))
NAVY = BlankColour("navy", "Navy", Srgb(31, 44, 77), underbase=True)
TWO_TONE = BlankColour("red-inside", "Red inside", Srgb(247, 246, 242), Srgb(179, 40, 45))


def a_mug() -> Blank:
    """The 325 ml mug."""
    return Blank(
        code="MUG", name="Mug", form=Form.MUG, material=Material.COATED_CERAMIC, process=Process.SUBLIMATION,
        orientation=Orientation.ANY, areas=(PrintArea("wrap", 2480, 945, 300, safe_margin_mm=4),),
        colours=(WHITE, NAVY, TWO_TONE), variants=(), postage=Money.parse("1.00", "GBP"),
        body=Body(diameter_mm=82, height_mm=95, visible_width_mm=70, rim_clearance_mm=8), drinkware=True,
    )  # fmt: skip


def a_shirt() -> Blank:
    """The size M shirt."""
    return replace(
        a_mug(), code="SHIRT", form=Form.T_SHIRT, material=Material.COTTON, process=Process.DTG,
        areas=(PrintArea("front", 3543, 4724, 300),), body=Body(width_mm=530, height_mm=720), drinkware=False,
    )  # fmt: skip


def solid(colour: tuple[int, int, int, int], width: int = 400, height: int = 400) -> NDArray[np.uint8]:
    """One flat colour of art."""
    art = np.empty((height, width, 4), np.uint8)
    art[:] = colour
    return art
