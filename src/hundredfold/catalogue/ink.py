"""Which ink model a blank colour is printed with, and how a mark of a given ink looks on it."""

from enum import StrEnum

import numpy as np
from numpy.typing import ArrayLike

from hundredfold.catalogue.blanks import Blank, BlankColour
from hundredfold.catalogue.processes import Material, Process
from hundredfold.kernel.colour import Floats, Srgb, linear_of
from hundredfold.kernel.ink import one_tone, opaque_ink, transparent_ink


class InkModel(StrEnum):
    """How a mark takes its colour."""

    TRANSPARENT = "transparent"  # filters the blank's own colour; there is no white
    UNDERBASE = "underbase"  # printed on opaque white, so the art keeps its own colours
    ONE_TONE = "one tone"  # engraving: one tone whatever the art's colours


# Common practice, no source: a laser through a powder coat bares the bright metal; on bare steel an annealed
# mark is dark grey.
BARED_METAL = Srgb(0xC4, 0xC5, 0xC7)
ANNEALED_MARK = Srgb(0x3C, 0x3D, 0x40)


def ink_model(blank: Blank, colour: BlankColour) -> InkModel:
    """The model for this blank in this colour. Film transfers always carry white; cloth and UV by colour."""
    if blank.process is Process.ENGRAVING:
        return InkModel.ONE_TONE
    if blank.process is Process.DTF:
        return InkModel.UNDERBASE
    if blank.process in (Process.DTG, Process.UV) and colour.underbase:
        return InkModel.UNDERBASE
    return InkModel.TRANSPARENT


def mark_tone(blank: Blank) -> Srgb:
    """The one tone an engraved mark shows on this blank's material."""
    return ANNEALED_MARK if blank.material is Material.STAINLESS_STEEL else BARED_METAL


def ink_look(blank: Blank, colour: BlankColour, ink: ArrayLike, alpha: ArrayLike = 1.0) -> Floats:
    """Linear-light look of ``ink`` (linear RGB in the last axis) at coverage ``alpha`` on the blank.

    Coverage is what anti-aliasing means by alpha.
    """
    ground = linear_of(colour.srgb)
    values = np.asarray(ink, dtype=np.float64)
    cover = np.broadcast_to(np.asarray(alpha, dtype=np.float64), values.shape[:-1])
    match ink_model(blank, colour):
        case InkModel.TRANSPARENT:
            return transparent_ink(ground, values, cover)
        case InkModel.UNDERBASE:
            return opaque_ink(ground, values, cover)
        case InkModel.ONE_TONE:
            return one_tone(ground, np.broadcast_to(linear_of(mark_tone(blank)), values.shape), cover)
