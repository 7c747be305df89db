"""The picture of the decorated blank: plate x colour x art, in linear light.

``I = C + a R`` for every pixel: C is gloss and whatever the second colour adds, R the light that falls on
the body (both fixed for a view and a colour), a the albedo there: the bare blank's or the ink's. Ink changes
the albedo, and with it the picture, in proportion: ``I = bare + R (ink through a matrix of the process)``.
"""

from collections.abc import Mapping
from dataclasses import dataclass

import cv2
import numpy as np
from numpy.typing import NDArray

from hundredfold.catalogue.blanks import BlankColour
from hundredfold.catalogue.processes import Process
from hundredfold.designs.facts import Box
from hundredfold.kernel.colour import Srgb, from_linear, linear_of
from hundredfold.mockups.ink import bands, in_words
from hundredfold.mockups.plate import Plate
from hundredfold.mockups.warp import SeenArt

Bytes = NDArray[np.uint8]
Words = NDArray[np.uint16]
Single = NDArray[np.float32]
Floats = NDArray[np.float64]

WHITEST = 0.86  # diffuse reflectance a full-white coat or underbase reaches
_BARE_METAL = 0.58  # diffuse reflectance where a laser took the coat off
_ONE = 65535 / 2  # linear light 1 in sixteen bits: 0 to 2 has room for gloss
_BAND_ROWS = 16
_STILL = ("gloss", "second_response", "second_bounce")
_LIGHT = ("response", "bounce", "cross")
_SHADE = ("shade", "glow")


def _tone(value: Floats) -> Floats:
    """A soft shoulder: linear to 0.8, then towards 1, so that highlights on white keep their shape."""
    return np.where(value < 0.8, value, 0.8 + 0.2 * (1 - np.exp(-(value - 0.8) / 0.2)))


_TONED = _tone(np.arange(65536) / _ONE).astype(np.float32)
_TONED_SRGB = np.round(from_linear(_TONED.astype(np.float64)) * 255).astype(np.uint8)
_SRGB = np.round(from_linear(np.minimum(np.arange(65536) / _ONE, 1)) * 255).astype(np.uint8)
_UNTONED = np.searchsorted(_TONED_SRGB, np.arange(256)).astype(np.uint16)  # light that is shown as each level


@dataclass(frozen=True)
class EdgePixels:
    """The pixels that goods fill only partly: places on the plate's box, and what mixes there (linear)."""

    rows: NDArray[np.intp]
    columns: NDArray[np.intp]
    share: Single
    bare: Single
    light: Single
    behind: Single


@dataclass(frozen=True)
class Base:
    """A plate in one colour: the finished bare blank, and the light that ink will take and give.

    Linear light in sixteen bits, 2 at the top, on the plate's box: ``bare`` is all that the bare blank shows,
    ``taken`` what of it ink of full cover takes away, ``white`` what full white (or bare metal) gives
    instead; None where white ink is clear. Where goods do not fill a pixel the last two are 0: ``outline``
    has those pixels.
    """

    plate: Plate
    picture: Bytes
    bare: Words
    taken: Words
    white: Words | None
    outline: EdgePixels
    process: Process
    weights: Single  # four by four: what ink (light taken and cover, as seen) adds to each channel's albedo


def albedo_of(colour: Srgb) -> Single:
    """Diffuse reflectance of a coat of this colour, linear RGB."""
    return (linear_of(colour) * WHITEST).astype(np.float32)


def still_and_light(planes: Mapping[str, Single], body: Single, second: Single) -> tuple[Single, Single]:
    """C and R of every pixel, RGB, for these albedos of body and second colour."""
    still, light = _weights(body, second)
    return (
        _transformed(_stack(planes, _STILL), still)[..., :3],
        _transformed(_stack(planes, _LIGHT), light)[..., :3],
    )


def _transformed(pixels: Single, weights: Single) -> Single:
    return np.asarray(cv2.transform(pixels, weights), np.float32)


def _weights(body: Single, second: Single) -> tuple[Single, Single]:
    """What planes of _STILL and of _LIGHT weigh in each channel; four by four, which is fast, three count."""
    still, light = np.zeros((4, 4), np.float32), np.zeros((4, 4), np.float32)
    still[:3] = np.stack([np.ones(3), second, second * second, np.zeros(3)], 1)
    light[:3] = np.stack([np.ones(3), body, second, np.zeros(3)], 1)
    return still, light


def _stack(planes: Mapping[str, Single], names: tuple[str, ...]) -> Single:
    none = np.zeros_like(planes[names[0]])
    return np.asarray(cv2.merge([*(planes.get(name, none) for name in names), none]), np.float32)


def base_of(plate: Plate, colour: BlankColour, process: Process = Process.SUBLIMATION) -> Base:
    """The bare blank in a colour, for a process; keep it for all designs of that view and colour."""
    body, second = albedo_of(colour.srgb), albedo_of(colour.second or colour.srgb)
    picture = np.full((plate.size_px, plate.size_px, 3), 255, np.uint8)
    _lay_shade(picture, plate, body)
    white = _white_of(colour, process)
    bare, taken, given = _lights(plate, body, second, white)
    outline = _outline(plate, body, second)
    goods, cover = _within(picture, plate.box), plate.planes["cover"]
    for top, bottom in bands(goods.shape[0], _BAND_ROWS):
        rows = slice(top, bottom)
        whole = (cover[rows] == 255).view(np.uint8)
        cv2.copyTo(_shown(bare[rows], _TONED_SRGB), whole, goods[rows])
    goods[outline.rows, outline.columns] = _mixed(outline.bare, outline, slice(None))
    for top, bottom in bands(goods.shape[0], _BAND_ROWS):
        rows = slice(top, bottom)
        beyond = (cover[rows] < 255).view(np.uint8)
        cv2.copyTo(cv2.LUT(goods[rows], _UNTONED), beyond, bare[rows])
        for light in (taken,) if given is None else (taken, given):
            cv2.copyTo(np.zeros_like(light[rows]), beyond, light[rows])
    return Base(plate, picture, bare, taken, given, outline, process, _ink_weights(body, white, process))


def _white_of(colour: BlankColour, process: Process) -> float | None:
    """Albedo of full white ink, or of what a laser lays bare; None where white ink shows the blank.

    Sublimation, and other inks without an underbase, only filter the blank. An underbase or a film hides it.
    """
    if process is Process.ENGRAVING:
        return _BARE_METAL
    return WHITEST if process is Process.DTF or colour.underbase else None


def _ink_weights(body: Single, white: float | None, process: Process) -> Single:
    weights = np.zeros((4, 4), np.float32)
    if process is Process.ENGRAVING:
        weights[:3, 3] = _BARE_METAL - body
    elif white is None:
        weights[range(3), range(3)] = -body
    else:
        weights[range(3), range(3)] = -white
        weights[:3, 3] = white - body
    return weights / np.float32(65535)


def _within(picture: Bytes, box: Box) -> Bytes:
    return picture[box.top : box.bottom, box.left : box.right]


def _shown(light: Words, table: Bytes) -> Bytes:
    """By a table of all sixteen bits."""
    return np.asarray(cv2.LUT(light, table), np.uint8)


def _three(light: Single) -> Words:
    """The three channels that count, in sixteen bits."""
    return np.asarray(cv2.cvtColor(in_words(light), cv2.COLOR_RGBA2RGB), np.uint16)


def _lay_shade(picture: Bytes, plate: Plate, body: Single) -> None:
    """The white table round the goods: what black ones take from its light, and what lighter ones add."""
    dark, glow = (plate.table(name) for name in _SHADE)
    tables = [_SRGB[_levels(np.minimum(1 - dark[:, None] + glow * coat, 1))].ravel() for coat in body]
    target = _within(picture, plate.shade_box)
    for top, bottom in bands(target.shape[0], _BAND_ROWS):
        rows = slice(top, bottom)
        both = plate.planes["shade"][rows].astype(np.uint16) << np.uint16(8) | plate.planes["glow"][rows]
        target[rows] = cv2.merge([cv2.LUT(both, table) for table in tables])


def _levels(linear: Single) -> Words:
    return np.asarray(np.clip(linear * np.float32(_ONE) + np.float32(0.5), 0, 65535), np.uint16)


def _rows_of(plate: Plate, names: tuple[str, ...], rows: slice) -> Mapping[str, Single]:
    """Linear light of some planes' rows; those that the plate has."""
    return {name: plate.linear(name, rows) for name in names if name in plate.planes}


def _lights(
    plate: Plate, body: Single, second: Single, white: float | None
) -> tuple[Words, Words, Words | None]:
    """``bare``, ``taken`` and ``white`` of a base, before the outline is cut out."""
    size = (*plate.planes["cover"].shape, 3)
    bare, taken = np.empty(size, np.uint16), np.empty(size, np.uint16)
    given = None if white is None else np.empty(size, np.uint16)
    still, light = (weights * np.float32(_ONE) for weights in _weights(body, second))
    coat = np.append(body, 0).astype(np.float32)[:, None]
    for top, bottom in bands(size[0], _BAND_ROWS):
        rows = slice(top, bottom)
        falls = _stack(_rows_of(plate, _LIGHT, rows), _LIGHT)
        gloss = _stack(_rows_of(plate, _STILL, rows), _STILL)
        lit = _transformed(falls, light * coat)
        taken[rows] = _three(lit)
        bare[rows] = _three(_transformed(gloss, still) + lit)
        if given is not None:
            given[rows] = _three(_transformed(falls, light * np.float32(white)))
    return bare, taken, given


def _outline(plate: Plate, body: Single, second: Single) -> EdgePixels:
    cover = plate.planes["cover"]
    rows, columns = np.nonzero((cover > 0) & (cover < 255))
    still, light = (
        np.stack([plate.spots(name, rows, columns) for name in names], 1) @ weights[:3, :3].T
        for names, weights in zip((_STILL, _LIGHT), _weights(body, second), strict=True)
    )
    share = cover[rows, columns].astype(np.float32)[:, None] / np.float32(255)
    down, across = rows + plate.box.top - plate.shade_box.top, columns + plate.box.left - plate.shade_box.left
    behind = np.ones((len(rows), 3), np.float32)
    on = (down >= 0) & (down < plate.shade_box.height) & (across >= 0) & (across < plate.shade_box.width)
    dark, glow = (plate.spots(name, down[on], across[on])[:, None] for name in _SHADE)
    behind[on] = np.minimum(1 - dark + glow * body, 1)
    return EdgePixels(rows, columns, share, still + body * light, light, behind)


def _mixed(goods: Single, outline: EdgePixels, which: slice | NDArray[np.bool_]) -> Bytes:
    """Outline pixels: toned goods and backdrop by the goods' share."""
    share = outline.share[which]
    toned = _TONED[_levels(goods)]
    linear = toned * share + outline.behind[which] * (1 - share)
    return _SRGB[_levels(linear)]


def mock_up(base: Base, seen: SeenArt) -> Bytes:
    """The finished picture, RGB, sRGB-encoded, at the plate's size; only pixels under ink are worked on."""
    picture = base.picture.copy()
    goods = _within(picture, base.plate.box)
    left, top = seen.box.left - base.plate.box.left, seen.box.top - base.plate.box.top
    for box in seen.inked:
        ink = seen.ink[box.top : box.bottom, box.left : box.right]
        part = np.s_[top + box.top : top + box.bottom, left + box.left : left + box.right]
        goods[part] = _shown(_inked(base, ink, part), _TONED_SRGB)
    _ink_outline(goods, base, seen)
    return picture


def _inked(base: Base, ink: Words, part: tuple[slice, slice]) -> Words:
    """Light of a part of the plate's box under ink."""
    absorbed = cv2.cvtColor(ink, cv2.COLOR_RGBA2RGB)
    if base.white is None:
        held = cv2.multiply(base.taken[part], absorbed, scale=1 / 65535)
        return np.asarray(cv2.subtract(base.bare[part], held), np.uint16)
    cover = cv2.cvtColor(cv2.extractChannel(ink, 3), cv2.COLOR_GRAY2RGB)
    held = cv2.multiply(base.taken[part], cover, scale=1 / 65535)
    white = cover if base.process is Process.ENGRAVING else cv2.subtract(cover, absorbed)
    given = cv2.multiply(base.white[part], white, scale=1 / 65535)
    return np.asarray(cv2.add(cv2.subtract(base.bare[part], held), given), np.uint16)


def _ink_outline(goods: Bytes, base: Base, seen: SeenArt) -> None:
    """The same where goods fill a pixel only partly."""
    outline, box, size = base.outline, base.plate.box, seen.ink.shape
    rows, columns = outline.rows + box.top - seen.box.top, outline.columns + box.left - seen.box.left
    on = (rows >= 0) & (rows < size[0]) & (columns >= 0) & (columns < size[1])
    ink = np.zeros((len(rows), 4), np.float32)
    ink[on] = seen.ink[rows[on], columns[on]]
    on = ink[:, 3] > 0
    if on.any():
        lit = outline.bare[on] + (ink[on] @ base.weights[:3].T) * outline.light[on]
        goods[outline.rows[on], outline.columns[on]] = _mixed(lit, outline, on)
