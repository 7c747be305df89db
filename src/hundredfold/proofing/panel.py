"""A small drawn picture of art on a blank, true in colour and proportion: what a proof is read from."""

from dataclasses import dataclass
from functools import lru_cache
from math import pi
from typing import Any

import cv2
import numpy as np
from numpy.typing import NDArray

from hundredfold.catalogue.blanks import Blank, BlankColour
from hundredfold.catalogue.ink import ink_look
from hundredfold.kernel.colour import Srgb, from_linear, linear_of, to_linear
from hundredfold.placement.layout import Layout
from hundredfold.proofing.silhouettes import Outline, outline_of

Pixels = NDArray[Any]
PAPER = Srgb(0xF3, 0xEF, 0xE7)
_FINER = 2  # drawn at twice the size, then averaged


@dataclass(frozen=True)
class Panel:
    """The picture, sRGB-encoded RGB, and where on it the art lies (left, top, right, bottom)."""

    picture: Pixels
    art: tuple[int, int, int, int]


def draw_panel(
    blank: Blank, colour: BlankColour, layout: Layout, art: Pixels, size_px: int, ground: Srgb = PAPER
) -> Panel:
    """Art (RGBA, uint8, straight alpha, cut to its ink) on a blank, seen from the front, size_px square.

    On a round body the art turns away at its sides. Colours follow the process's ink model in linear light.
    """
    size = size_px * _FINER
    shape = outline_of(blank)
    scale = size / shape.frame_mm
    bare = _bare(blank, size)
    body, second = _flat(colour.srgb), _flat(colour.second or colour.srgb)
    laid, box = _laid(blank, layout, shape, art, size, scale)
    lit = np.broadcast_to(body, (size, size, 3)).copy()
    # ink_look knows one ground only; where the art is bare the body shows.
    inked = laid[..., 3] > 0
    marks = laid[inked]
    lit[inked] = ink_look(blank, colour, to_linear(marks[:, :3] / 255.0), marks[:, 3] / 255.0)
    picture = _flat(ground) * bare.ground
    for mask, paint in ((bare.behind, second * np.float32(0.86)), (bare.body, lit * bare.shade)):
        picture = picture * (1 - mask) + paint * mask
    small = cv2.resize(picture * bare.lines, (size_px, size_px), interpolation=cv2.INTER_AREA)
    shown = np.rint(from_linear(np.clip(small, 0, 1)) * 255).astype(np.uint8)
    left, top, right, bottom = (round(value / _FINER) for value in box)
    return Panel(shown, (left, top, right, bottom))


@dataclass(frozen=True, eq=False)
class _Bare:
    """What a drawing of a blank is made of whatever its colour and its art: size x size x 1, 0-1."""

    ground: Pixels  # light on what it stands on, its shadow taken off
    behind: Pixels
    body: Pixels
    shade: Pixels
    lines: Pixels  # light that the fine lines leave


@lru_cache(maxsize=24)
def _bare(blank: Blank, size: int) -> _Bare:
    shape = outline_of(blank)
    scale = size / shape.frame_mm
    lines = np.ones((size, size))
    for line in shape.lines:
        lines = lines * (1 - 0.16 * _stroke(line, size, scale))
    parts = (
        1 - 0.28 * _shadow(shape, size, scale),
        _mask(shape.behind, size, scale),
        _mask((shape.body,), size, scale),
        _shade(shape, size, scale),
        lines,
    )
    return _Bare(*(part.astype(np.float32)[..., np.newaxis] for part in parts))


def _flat(colour: Srgb) -> Pixels:
    return np.asarray(linear_of(colour), np.float32)


def _laid(
    blank: Blank, layout: Layout, shape: Outline, art: Pixels, size: int, scale: float
) -> tuple[Pixels, tuple[int, int, int, int]]:
    """The art warped onto the face, RGBA the size of the picture; patterns show one tile in the middle."""
    place = layout.placements[0]
    width, height = place.width_mm, place.height_mm
    middle_x, middle_y = shape.face
    y, x = np.mgrid[0:size, 0:size].astype(np.float32)
    x_mm, y_mm = x / scale - middle_x, y / scale - middle_y
    if blank.body.diameter_mm is not None:
        radius = blank.body.diameter_mm / 2 * shape.widening(y / scale)
        inside = np.abs(x_mm) < radius
        x_mm = np.where(inside, radius * np.arcsin(np.clip(x_mm / radius, -1, 1)), 1e6)
    # Pixels of the art: INTER_AREA is not to be had in remap, so the art is brought near its size first.
    near = _near(art, max(1, round(width * scale)))
    u = (x_mm / width + 0.5) * near.shape[1] - 0.5
    v = (y_mm / height + 0.5) * near.shape[0] - 0.5
    across, down = u.astype(np.float32), v.astype(np.float32)
    laid = cv2.remap(near, across, down, cv2.INTER_LINEAR, borderMode=cv2.BORDER_CONSTANT, borderValue=0)
    colour = laid[..., :3] * 255 / np.maximum(laid[..., 3:], 1e-3)
    shown_mm = _seen(width, blank.body.diameter_mm)
    half = shown_mm / 2
    box = (middle_x - half, middle_y - height / 2, middle_x + half, middle_y + height / 2)
    left, top, right, bottom = (round(value * scale) for value in box)
    return np.dstack([np.clip(colour, 0, 255), laid[..., 3]]), (left, top, right, bottom)


def _seen(width: float, diameter: float | None) -> float:
    if diameter is None:
        return width
    return diameter * float(np.sin(min(width / diameter, pi / 2)))


def _near(art: Pixels, width: int) -> Pixels:
    """Premultiplied art, averaged down to about this width."""
    whole = art.astype(np.float32)
    whole[..., :3] *= whole[..., 3:] / 255
    if width >= art.shape[1]:
        return whole
    size = (width, max(1, round(art.shape[0] * width / art.shape[1])))
    return np.asarray(cv2.resize(whole, size, interpolation=cv2.INTER_AREA))


def _mask(polygons: tuple[Pixels, ...], size: int, scale: float) -> Pixels:
    mask = np.zeros((size, size), np.uint8)
    for polygon in polygons:
        cv2.fillPoly(mask, [np.rint(polygon * scale * 16).astype(np.int32)], 255, cv2.LINE_AA, 4)
    return mask.astype(np.float64) / 255


def _stroke(line: Pixels, size: int, scale: float) -> Pixels:
    mask = np.zeros((size, size), np.uint8)
    points = np.rint(line * scale * 16).astype(np.int32)
    cv2.polylines(mask, [points], False, 255, max(1, round(size / 240)), cv2.LINE_AA, 4)
    return mask.astype(np.float64) / 255


def _shade(shape: Outline, size: int, scale: float) -> Pixels:
    """How much light each place gets: a round body falls off at its sides, cloth hardly at all."""
    x = np.arange(size) / scale - shape.face[0]
    side = np.clip(np.abs(x) / (shape.width_mm / 2), 0, 1)
    across = 1 - (0.34 if shape.round else 0.05) * side**2.4
    gleam = 0.05 * np.exp(-(((x / (shape.width_mm / 2)) + 0.5) ** 2) / 0.02) if shape.round else 0.0
    down = np.linspace(1.0, 0.96, size)
    return down[:, np.newaxis] * (across + gleam)[np.newaxis, :]


def _shadow(shape: Outline, size: int, scale: float) -> Pixels:
    """The soft shadow on the table, or round cloth that lies flat."""
    if shape.round:
        mask = np.zeros((size, size), np.uint8)
        centre = (round(shape.face[0] * scale), round(shape.floor_mm * scale))
        axes = (round(0.52 * shape.width_mm * scale), round(0.07 * shape.width_mm * scale))
        cv2.ellipse(mask, centre, axes, 0, 0, 360, 255, -1, cv2.LINE_AA)
        blur = 0.035 * size
    else:
        mask = (_mask((shape.body,), size, scale) * 255).astype(np.uint8)
        mask = np.roll(mask, round(0.012 * size), axis=0)
        blur = 0.018 * size
    return cv2.GaussianBlur(mask, (0, 0), blur).astype(np.float64) / 255
