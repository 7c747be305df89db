"""The inks on both sides of the art's edges, as a viewer takes them in at one glance."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any

import cv2
import numpy as np
from numpy.typing import NDArray

from hundredfold.proofing.art.facts import EdgeWindow

Bytes = NDArray[Any]  # uint8; OpenCV promises no more
LONGEST_PX = 600  # the art is looked at with its longer side at this many pixels
REACH_PX = 30  # how far inside the art a viewer takes in: a twentieth of that
_LEVELS = 16  # colours are told apart in steps of 16 a channel
_AT_ONCE = 64
_KEPT = 24
_KEPT_OF_LINE = 8
_FLAT = 24  # levels: pixels whose neighbours differ more lie on an inner edge and show no ink of their own

_OF_PIXEL = 0.3  # a small pixel with so much of a letter in it is of the letter: strokes may be thin
_CROSS = cv2.getStructuringElement(cv2.MORPH_CROSS, (3, 3))
_BLOCK = np.ones((3, 3), np.uint8)
_NO_LOW, _NO_HIGH = 0xFFFF, 0  # ranks run from 1 to 4096


@dataclass(frozen=True)
class Small:
    """Art averaged down: straight sRGB-encoded colour, and alpha 0-255. ``scale`` is small over full size."""

    colour: Bytes
    alpha: Bytes
    scale: float


def reduced(art: Bytes, longest: int = LONGEST_PX) -> Small:
    """Average the art (height x width x RGBA, straight alpha) down, colour weighted by alpha."""
    scale = min(1.0, longest / max(art.shape[:2]))
    size = (max(1, round(art.shape[1] * scale)), max(1, round(art.shape[0] * scale)))
    whole = np.empty(art.shape, np.uint8)
    for top in range(0, art.shape[0], _AT_ONCE):  # rows that the processor holds near
        rows = art[top : top + _AT_ONCE]
        cover = cv2.cvtColor(cv2.extractChannel(rows, 3), cv2.COLOR_GRAY2RGBA)
        cv2.multiply(rows, cover, dst=whole[top : top + _AT_ONCE], scale=1 / 255)
    small = cv2.resize(whole, size, interpolation=cv2.INTER_AREA)
    alpha = cv2.extractChannel(small, 3)
    colour = small[:, :, :3].copy()
    soft = (alpha > 0) & (alpha < 255)  # elsewhere it is straight already
    straight = colour[soft].astype(np.float32) * 255 / alpha[soft][:, np.newaxis]
    colour[soft] = np.clip(straight + 0.5, 0, 255)
    return Small(colour, alpha, scale)


@dataclass(frozen=True)
class Edges:
    """Where small art ends at the bare blank, and the darkest and lightest ink near each solid pixel."""

    outline: NDArray[np.bool_]
    bare: NDArray[np.bool_]  # within two pixels of no ink: the art's border is bare outside
    dark: Bytes
    light: Bytes
    length_px: float  # of the outline, in full-size pixels

    @property
    def windows(self) -> tuple[EdgeWindow, ...]:
        """The inks near the outline, commonest first."""
        return _commonest(self.dark[self.outline], self.light[self.outline], _KEPT) if self.length_px else ()

    def along(self, mask: Bytes) -> tuple[EdgeWindow, ...]:
        """The inks where these letters (not 0) end at the bare blank; shares are of all their outline.

        The letters may be ink, or the blank that shows through it.
        """
        height, width = self.outline.shape
        share = cv2.resize(mask.astype(np.float32), (width, height), interpolation=cv2.INTER_AREA)
        letters = np.pad((share > _OF_PIXEL).view(np.uint8), 1)
        rim = (letters > cv2.erode(letters, _CROSS))[1:-1, 1:-1]
        here = self.outline & (cv2.dilate(letters, _BLOCK)[1:-1, 1:-1] > 0)
        if not here.any():
            return ()
        bare = float((rim & self.bare).sum() / rim.sum())
        kept = _commonest(self.dark[here], self.light[here], _KEPT_OF_LINE)
        return tuple(replace(one, share=round(one.share * bare, 5)) for one in kept)


def edges_of(small: Small) -> Edges:
    """The outline of the art and the inks along it."""
    solid = (small.alpha > 127).view(np.uint8)
    framed = cv2.copyMakeBorder(solid, 1, 1, 1, 1, cv2.BORDER_CONSTANT, value=0)
    outline = (framed > cv2.erode(framed, _CROSS))[1:-1, 1:-1]
    bare = cv2.dilate(1 - framed, np.ones((5, 5), np.uint8))[1:-1, 1:-1] > 0
    if not solid.any():  # ink that is thin throughout
        return Edges(outline, bare, small.colour, small.colour, 0.0)
    dark, light = _extremes(small.colour, solid > 0, _flat(small.colour, framed))
    return Edges(outline, bare, dark, light, int(outline.sum()) / small.scale)


def _flat(colour: Bytes, framed: Bytes) -> NDArray[np.bool_]:
    """Solid pixels well inside one ink; all solid pixels where the art is too thin to have any."""
    core = cv2.erode(framed, _BLOCK)[1:-1, 1:-1] > 0
    spread = cv2.split(cv2.morphologyEx(colour, cv2.MORPH_GRADIENT, _BLOCK))
    return np.asarray(core & (cv2.max(cv2.max(spread[0], spread[1]), spread[2]) <= _FLAT))


def _extremes(colour: Bytes, solid: NDArray[np.bool_], flat: NDArray[np.bool_]) -> tuple[Bytes, Bytes]:
    """For each solid pixel the darkest and the lightest flat colour in reach through solid ink.

    Colours are coarsened and ranked by luma; the ranks spread by grey morphology, one step at a time and
    never across a gap, so that a neighbour's colour is not taken for one's own.
    """
    key = _keys(colour)
    rank_of, table = _ranked(key, colour, solid, flat)
    rank = rank_of[key]
    low = _spread(np.where(flat, rank, _NO_LOW), solid, cv2.erode, _NO_LOW)
    high = _spread(np.where(flat, rank, _NO_HIGH), solid, cv2.dilate, _NO_HIGH)
    # Lines too thin to hold a flat pixel show what they have.
    low, high = np.where(low < _NO_LOW, low, rank), np.where(high > _NO_HIGH, high, rank)
    return table[low], table[high]


def _keys(colour: Bytes) -> NDArray[Any]:
    coarse = (colour // _LEVELS).astype(np.int32)
    return (coarse[..., 0] * _LEVELS + coarse[..., 1]) * _LEVELS + coarse[..., 2]


def _ranked(
    key: NDArray[Any], colour: Bytes, solid: NDArray[np.bool_], flat: NDArray[np.bool_]
) -> tuple[NDArray[Any], Bytes]:
    """The rank by luma of each coarse colour, and each rank's mean colour, of flat pixels if it has any."""
    keys, place = np.unique(key[solid], return_inverse=True)
    weight = np.where(flat[solid], 1.0, 1e-6)
    count = np.bincount(place, weight, keys.size)
    inks = colour[solid]
    sums = [np.bincount(place, weight * inks[:, index], keys.size) for index in range(3)]
    mean = np.stack(sums, axis=1) / count[:, np.newaxis]
    order = np.argsort(mean @ np.array([0.2126, 0.7152, 0.0722]), kind="stable")
    rank_of = np.ones(_LEVELS**3, np.uint16)
    rank_of[keys[order]] = np.arange(1, keys.size + 1)
    table = np.concatenate([mean[order[:1]], mean[order]])  # no rank is 0
    return rank_of, table.round().astype(np.uint8)


def _spread(
    rank: NDArray[Any], solid: NDArray[np.bool_], morph: Callable[..., Any], nothing: int
) -> NDArray[Any]:
    bare = np.flatnonzero(~solid)
    rank = rank.astype(np.uint16)
    for _ in range(REACH_PX):
        rank = morph(rank, _BLOCK)
        rank.ravel()[bare] = nothing
    return rank


def _commonest(dark: Bytes, light: Bytes, most: int) -> tuple[EdgeWindow, ...]:
    pairs, counts = np.unique(np.hstack([dark, light]), axis=0, return_counts=True)
    order = np.argsort(-counts, kind="stable")[:most]
    total = counts[order].sum()
    return tuple(
        EdgeWindow(_hex(pairs[index, :3]), _hex(pairs[index, 3:]), round(float(counts[index] / total), 5))
        for index in order
    )


def _hex(colour: Bytes) -> str:
    return f"#{colour[0]:02x}{colour[1]:02x}{colour[2]:02x}"
