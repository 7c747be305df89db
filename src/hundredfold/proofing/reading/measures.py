"""What is left of a row of letters at thumbnail size: its size, and its contrast with what surrounds it."""

from dataclasses import dataclass

import cv2
import numpy as np
from numpy.typing import NDArray

from hundredfold.proofing.reading.art import Floats, SmallArt
from hundredfold.proofing.reading.lines import LetterRow


@dataclass(frozen=True)
class Sized:
    """A row at a thumbnail's width: weights of letters and surroundings, and what the size says."""

    window: tuple[slice, slice]
    letters: Floats  # 0-1, share of a thumbnail pixel inside the letters
    ground: Floats  # 0-1, share of a thumbnail pixel round the letters
    near: Floats  # 0-1, the same within a thumbnail pixel or half a stroke
    size: tuple[float, ...]  # SIZE_NAMES
    shape: tuple[float, ...]  # SHAPE_NAMES


def sized(art: SmallArt, row: LetterRow, width_px: int) -> Sized:
    """The row at the width; lengths in the result are thumbnail pixels, most as natural logarithms."""
    scale = width_px / art.width
    reach = round(min(max(1.3 * row.stroke, 1.3 / scale), 0.6 * row.letter_height + 1.3 / scale))
    pad = reach + 1
    full = np.zeros((art.pixels.shape[0] + 2 * pad, art.width + 2 * pad), np.uint8)
    left, top, right, bottom = (value + pad for value in row.box)
    full[top:bottom, left:right] = row.mask
    near = slice(top - pad, bottom + pad), slice(left - pad, right + pad)
    around, close = np.zeros_like(full), np.zeros_like(full)
    around[near] = cv2.dilate(full[near], disc(reach)) - full[near]
    close[near] = (
        cv2.dilate(full[near], disc(min(reach, round(max(0.9 / scale, 0.4 * row.stroke))))) - full[near]
    )
    inner = slice(pad, -pad), slice(pad, -pad)
    height = max(1, round(art.pixels.shape[0] * width_px / art.width))
    planes = [shrunk(plane[inner], width_px, height) for plane in (full, around, close)]
    any_of = planes[0] + planes[1] > 0.02
    rows, columns = np.flatnonzero(any_of.any(1)), np.flatnonzero(any_of.any(0))
    window = slice(int(rows[0]), int(rows[-1]) + 1), slice(int(columns[0]), int(columns[-1]) + 1)
    letters, ground, closest = (plane[window] for plane in planes)
    return Sized(window, letters, ground, closest, size_of(row, letters, ground, scale), shape_of(row))


def disc(reach: int) -> NDArray[np.uint8]:
    """A round brush."""
    return np.asarray(cv2.getStructuringElement(cv2.MORPH_ELLIPSE, (2 * reach + 1, 2 * reach + 1)), np.uint8)


def shrunk(mask: NDArray[np.uint8], width: int, height: int) -> Floats:
    """Area average of a mask of zeros and ones."""
    how = cv2.INTER_AREA if width < mask.shape[1] else cv2.INTER_LINEAR
    return np.asarray(cv2.resize(mask.astype(np.float32), (width, height), interpolation=how), np.float32)


def size_of(row: LetterRow, letters: Floats, ground: Floats, scale: float) -> tuple[float, ...]:
    """SIZE_NAMES: log letter height, log stroke, log letter count, purity of letters and ground, spread."""
    both = letters + ground > 0.05
    return (
        float(np.log(row.letter_height * scale)),
        float(np.log(row.stroke * scale)),
        float(np.log(row.width / row.letter_height + 0.5)),
        mean_of(letters, letters),
        mean_of(ground, ground),
        float(letters[both].std()),
    )


def shape_of(row: LetterRow) -> tuple[float, ...]:
    """SHAPE_NAMES: what does not change with the thumbnail's width."""
    return (
        float(np.log(row.parts)), row.stroke_spread, row.gap, row.fill, float(np.log(row.edge)), row.level,
        row.bounded, float(np.log(row.stroke / row.letter_height)),
    )  # fmt: skip


def mean_of(values: Floats, weights: Floats) -> float:
    """Weighted mean."""
    return float((values * weights).sum() / max(float(weights.sum()), 1e-6))


def coloured(view: Sized, picture: Floats) -> tuple[float, ...]:
    """COLOUR_NAMES of a row in a thumbnail given as L*a*b*: how far letters stand out from their ground."""
    seen = picture[view.window].reshape(-1, 3)
    ink, ground = view.letters.reshape(-1), view.ground.reshape(-1)
    ink_mean, ground_mean = centre(seen, ink), centre(seen, ground)
    apart = ink_mean - ground_mean
    beside = ink_mean - centre(seen, view.near.reshape(-1))
    difference = float(np.linalg.norm(apart))
    lightness = abs(float(apart[0]))
    here = ink + ground > 0.05
    weight = (ink + ground)[here]
    along = seen[here, 0] if lightness > 0.5 * difference else seen[here] @ (apart / max(difference, 1e-6))
    match, slope, noise = fitted(ink[here], along, weight)
    ground_noise = float(np.sqrt(mean_of((seen[:, 0] - ground_mean[0]) ** 2, ground**2)))
    light, dark = luminance(max(ink_mean[0], ground_mean[0])), luminance(min(ink_mean[0], ground_mean[0]))
    detail = (
        float(np.abs(np.diff(picture[view.window][..., 0], axis=1)).mean())
        if view.letters.shape[1] > 1
        else 0.0
    )
    return (
        float(np.log(lightness + 1)), float(np.log(difference + 1)),
        float(np.log((light + 0.05) / (dark + 0.05))),
        float(np.log(abs(float(beside[0])) + 1)), float(np.log(float(np.linalg.norm(beside)) + 1)), match,
        float(np.log(abs(slope) * float(ink[here].std()) + 0.5)), float(np.log(noise + 1)),
        float(np.log(ground_noise + 1)), float(np.log(detail + 0.3)),
    )  # fmt: skip


def centre(seen: Floats, weight: Floats) -> Floats:
    """Mean colour, the purest pixels counting most."""
    square = weight**2
    return np.asarray(square @ seen / max(float(square.sum()), 1e-6), np.float32)


def luminance(lightness: float) -> float:
    """Relative luminance of L* (CIE 1976)."""
    return float(((lightness + 16) / 116) ** 3 if lightness > 8 else lightness / 903.3)


def fitted(ink: Floats, seen: Floats, weight: Floats) -> tuple[float, float, float]:
    """Correlation, slope and residual of the picture against the letters' shape, weighted."""
    total = float(weight.sum())
    ink_mean, seen_mean = float(weight @ ink) / total, float(weight @ seen) / total
    spread = float(weight @ (ink - ink_mean) ** 2) / total
    both = float(weight @ ((ink - ink_mean) * (seen - seen_mean))) / total
    variance = float(weight @ (seen - seen_mean) ** 2) / total
    slope = both / max(spread, 1e-6)
    match = abs(both) / np.sqrt(max(spread * variance, 1e-6))
    return float(match), slope, float(np.sqrt(max(variance - slope * both, 0.0)))
