"""The changes a repair may make to art: an outline, another ink, a patch behind. Pure arrays."""

from dataclasses import dataclass
from enum import StrEnum
from typing import Any

import cv2
import numpy as np
from numpy.typing import NDArray

from hundredfold.kernel.colour import Srgb
from hundredfold.proofing.reading.layers import ink_threshold

Pixels = NDArray[Any]  # height x width x RGBA, uint8, sRGB-encoded, straight alpha


class Kind(StrEnum):
    """What is changed."""

    OUTLINE = "outline"
    RECOLOUR = "recolour"  # a light or a dark version of art in one ink
    PATCH = "patch"  # a filled shape behind the art


@dataclass(frozen=True)
class Change:
    """One change. ``share`` is the width of the outline, or the margin of the patch, by the art's width."""

    kind: Kind
    ink: Srgb
    share: float = 0.0


def changed(pixels: Pixels, change: Change) -> Pixels:
    """The art with the change made. The picture grows by what an outline or a patch adds on each side."""
    if change.kind is Kind.RECOLOUR:
        return recoloured(pixels, change.ink)
    width_px = change.share * pixels.shape[1]
    if change.kind is Kind.OUTLINE:
        return outlined(pixels, change.ink, width_px)
    return patched(pixels, change.ink, width_px)


def outlined(pixels: Pixels, ink: Srgb, width_px: float) -> Pixels:
    """An outline of one ink round all art, ``width_px`` wide, with smooth rims.

    Inside a counter (a hole in the ink) it is at most half as wide as the counter's own half width, so that
    no counter that was open is closed.
    """
    room = int(np.ceil(width_px)) + 2
    grown = cv2.copyMakeBorder(pixels, room, room, room, room, cv2.BORDER_CONSTANT, value=(0, 0, 0, 0))
    bare = _bare(grown[:, :, 3])
    reach = cv2.distanceTransform(bare, cv2.DIST_L2, cv2.DIST_MASK_5)
    width = _allowed(bare, reach, width_px)
    # Half a pixel: distances are taken between the middles of pixels.
    ring = np.clip(width - reach + 1.0, 0.0, 1.0)
    # Under the rim of the ink, so that no seam shows, and not under ink that is printed thin throughout.
    return _over(grown, ink, ring * cv2.dilate(bare, np.ones((3, 3), np.uint8)))


def _bare(alpha: Pixels) -> Pixels:
    """1 where no ink is: under half of the art's own full coverage, which is thin in soft art."""
    return np.asarray((alpha < ink_threshold(alpha)).astype(np.uint8))


def _allowed(bare: Pixels, reach: NDArray[Any], width_px: float) -> NDArray[Any]:
    """The width that the outline may have at each pixel: less inside counters."""
    count, labels = cv2.connectedComponents(bare, connectivity=4, ltype=cv2.CV_32S)
    # Half a pixel less: the middle of a hole two pixels wide is one pixel from the ink.
    most = np.minimum(width_px, np.maximum(0, _deepest(reach, labels, count) / 2 - 0.5))
    most[labels[0, 0]] = width_px  # the outside
    return np.asarray(most[labels])


def patched(pixels: Pixels, ink: Srgb, margin_px: float) -> Pixels:
    """A filled shape of one ink behind the art: its outline grown by the margin, holes and bays closed."""
    room = int(np.ceil(2 * margin_px)) + 2
    grown = cv2.copyMakeBorder(pixels, room, room, room, room, cv2.BORDER_CONSTANT, value=(0, 0, 0, 0))
    bare = _bare(grown[:, :, 3])
    reach = cv2.distanceTransform(bare, cv2.DIST_L2, cv2.DIST_MASK_5)
    wide = (reach <= 2 * margin_px).view(np.uint8)
    back = cv2.distanceTransform(wide, cv2.DIST_L2, cv2.DIST_MASK_5)
    shape = _filled((back > margin_px).view(np.uint8))
    smooth = cv2.GaussianBlur(shape.astype(np.float32), (0, 0), max(0.6, margin_px / 6))
    return _over(grown, ink, np.clip((smooth - 0.5) * 2 * max(1.0, margin_px / 4) + 0.5, 0.0, 1.0))


def _filled(shape: Pixels) -> Pixels:
    outside = shape.copy()
    cv2.floodFill(outside, None, (0, 0), 2)
    return np.asarray((outside != 2).astype(np.uint8))


def recoloured(pixels: Pixels, ink: Srgb) -> Pixels:
    """All ink in one colour; coverage stays."""
    fresh = pixels.copy()
    fresh[:, :, :3] = np.where(pixels[:, :, 3:] > 0, np.array(ink, np.uint8), 0)
    return fresh


def _over(art: Pixels, ink: Srgb, cover: NDArray[Any]) -> Pixels:
    """The art over a layer of one ink with this coverage (0-1), composed as straight alpha."""
    top = art[:, :, 3].astype(np.float32) / 255
    under = cover.astype(np.float32) * (1 - top)
    alpha = top + under
    colour = art[:, :, :3] * top[..., np.newaxis] + np.array(ink, np.float32) * under[..., np.newaxis]
    colour /= np.maximum(alpha, 1e-6)[..., np.newaxis]
    return np.dstack([np.rint(colour), np.rint(alpha * 255)]).astype(np.uint8)


def _deepest(reach: NDArray[Any], labels: Any, count: int) -> NDArray[np.float64]:
    """The largest distance from the ink in each bare region."""
    deepest = np.zeros(count)
    np.maximum.at(deepest, labels.ravel(), reach.ravel())
    return deepest


def open_counters(pixels: Pixels, smallest_px: float) -> int:
    """How many holes in the ink are at least ``smallest_px`` wide."""
    framed = cv2.copyMakeBorder(pixels[:, :, 3], 1, 1, 1, 1, cv2.BORDER_CONSTANT, value=0)
    bare = _bare(framed)
    reach = cv2.distanceTransform(bare, cv2.DIST_L2, cv2.DIST_MASK_5)
    count, labels = cv2.connectedComponents(bare, connectivity=4, ltype=cv2.CV_32S)
    deepest = _deepest(reach, labels, count)
    deepest[labels[0, 0]] = 0
    return int((2 * deepest >= smallest_px).sum())
