"""Small main pictures for the proof sheet: the mock-up a buyer sees, from plates a third of their size."""

from dataclasses import replace
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from hundredfold.catalogue.blanks import Blank, BlankColour
from hundredfold.catalogue.processes import Process
from hundredfold.designs.facts import Box
from hundredfold.mockups.compose import Base, base_of, mock_up
from hundredfold.mockups.ink import Ink
from hundredfold.mockups.plate import Plate
from hundredfold.mockups.smaller import smaller
from hundredfold.mockups.warp import Fetch, fetch_for, seen_art
from hundredfold.placement.layout import AreaLayout
from hundredfold.placement.place import Placement
from hundredfold.workshop.steps.plates import OwnPlate, Shot, View, load_plate, view_for

Bytes = NDArray[np.uint8]

FIGURE_PX = 500


def figure(
    blank: Blank, colour: BlankColour, layout: AreaLayout, ink: Box, art: Bytes, size_px: int = FIGURE_PX
) -> Bytes:
    """The main picture, RGB, about ``size_px`` square; what the proof sheet and the page draw with.

    ``art`` (RGBA, straight alpha) is what lies in the design's box ``ink``, at any size. Raises ShopError
    ``no-plate`` or ``bad-plate``.
    """
    view = view_for(Shot(blank, layout.area, colour))
    placements = tuple(_of_art(placed, ink, art) for placed in layout.placements)
    seen = seen_art(Ink(art), placements, _fetch(view, size_px))
    return mock_up(_base(view, colour, blank.process, size_px), seen)


def _of_art(placed: Placement, ink: Box, art: Bytes) -> Placement:
    """The placement in pixels of this copy of the art."""
    x, y = art.shape[1] / ink.width, art.shape[0] / ink.height
    left, top = round((placed.crop.left - ink.left) * x), round((placed.crop.top - ink.top) * y)
    right, bottom = round((placed.crop.right - ink.left) * x), round((placed.crop.bottom - ink.top) * y)
    return replace(placed, crop=Box(left, top, max(left + 1, right), max(top + 1, bottom)))


@lru_cache(maxsize=16)
def _plate(name: str, view: str, own: OwnPlate | None, size_px: int) -> Plate:
    return smaller(load_plate(name, view, own), size_px)


@lru_cache(maxsize=12)
def _fetch(view: View, size_px: int) -> Fetch:
    return fetch_for(_plate(view.name, view.view, view.own, size_px), view.area, view.body)


@lru_cache(maxsize=12)
def _base(view: View, colour: BlankColour, process: Process, size_px: int) -> Base:
    return base_of(_plate(view.name, view.view, view.own, size_px), colour, process)
