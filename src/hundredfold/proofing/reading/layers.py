"""The layers letters may lie in: each dominant ink, everything inked, and the blank showing through."""

from dataclasses import dataclass

import cv2
import numpy as np
from numpy.typing import NDArray

from hundredfold.proofing.reading.art import SmallArt
from hundredfold.proofing.reading.lab import lab

Mask = NDArray[np.uint8]  # 0 or 1
MOST_INKS = 5
APART = 16.0  # CIE76 distance under which two inks count as one
LEAST_SHARE = 0.008  # of the inked pixels


@dataclass(frozen=True)
class Layer:
    """Where one ink, all ink, or no ink is."""

    kind: str  # "ink", "all" or "gap"
    mask: Mask


def layers_of(art: SmallArt) -> tuple[Layer, ...]:
    """The layers of reduced art, all ink first."""
    alpha = art.pixels[..., 3]
    inked = alpha >= ink_threshold(alpha)
    found = [Layer("all", inked.astype(np.uint8))]
    found += [Layer("ink", mask) for mask in inks_of(art, inked)]
    gap = enclosed(~inked)
    if gap.any():
        found.append(Layer("gap", gap))
    return tuple(found)


def ink_threshold(alpha: Mask) -> float:
    """Half of the art's own full coverage, so that art printed thin throughout is found too."""
    return max(20.0, 0.5 * float(np.quantile(alpha[alpha > 20], 0.9))) if (alpha > 20).any() else 128.0


def inks_of(art: SmallArt, inked: NDArray[np.bool_]) -> list[Mask]:
    """Masks of the dominant inks; empty when there is only one (the layer of all ink is the same)."""
    pixels = art.pixels.astype(np.float32)
    straight = pixels[..., :3] * 255 / np.maximum(pixels[..., 3:], 1)
    colours = lab(np.clip(straight, 0, 255))
    centres = dominant(colours[inked & even(colours)], int(inked.sum()))
    if len(centres) < 2:
        return []
    planes = [np.ascontiguousarray(colours[..., n]) for n in range(3)]
    distance = np.stack([sum((planes[n] - centre[n]) ** 2 for n in range(3)) for centre in centres])
    nearest = distance.argmin(0)
    return [((nearest == number) & inked).astype(np.uint8) for number in range(len(centres))]


def even(colours: NDArray[np.float32]) -> NDArray[np.bool_]:
    """Pixels whose neighbours have nearly their colour: no anti-aliased rim."""
    lightest = cv2.dilate(colours, np.ones((3, 3), np.uint8))
    darkest = cv2.erode(colours, np.ones((3, 3), np.uint8))
    spread = cv2.split(cv2.subtract(lightest, darkest))
    return np.asarray(cv2.max(cv2.max(spread[0], spread[1]), spread[2]) < 8)


def dominant(colours: NDArray[np.float32], inked: int) -> list[NDArray[np.float32]]:
    """Centres of the most common colours, most common first, by counting cells 6 L*a*b* units wide."""
    if not len(colours):
        return []
    cells = np.round(colours / 6).astype(np.int64)
    keys = (cells[:, 0] * 1000 + cells[:, 1] + 500) * 1000 + cells[:, 2] + 500
    _, first, counts = np.unique(keys, return_index=True, return_counts=True)
    centres: list[NDArray[np.float32]] = []
    for place in np.argsort(-counts, kind="stable"):
        if counts[place] < LEAST_SHARE * inked or len(centres) == MOST_INKS:
            break
        colour = cells[first[place]].astype(np.float32) * 6
        if all(np.linalg.norm(colour - other) > APART for other in centres):
            centres.append(colour)
    return centres


def enclosed(gap: NDArray[np.bool_]) -> Mask:
    """The parts of a gap that do not reach the picture's border: knocked-out letters, and counters."""
    padded = np.pad(gap.astype(np.uint8), 1, constant_values=1)
    _, labels = cv2.connectedComponents(padded, connectivity=4)
    return np.asarray(gap & (labels[1:-1, 1:-1] != labels[0, 0]), np.uint8)
