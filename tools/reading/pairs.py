"""Pairs of a design and a blank at a width: which are drawn, and the thumbnail a buyer would see."""

from dataclasses import dataclass

import cv2
import numpy as np
from numpy.typing import NDArray

from hundredfold.kernel.colour import contrast_ratio, from_linear, relative_luminance, to_linear
from tools.reading.designs import BLANKS, NAMES, Labelled, generator

PER_DESIGN = 4
NARROWEST, WIDEST = 60, 240  # art widths in thumbnail pixels
GRAIN = 4.0  # standard deviation of the picture's grain, 8-bit levels
QUALITY = 75  # of the JPEG a shop serves
ENCODED = from_linear(np.linspace(0, 1, 4096)).astype(np.float32) * 255
LINEAR = to_linear(np.arange(256) / 255.0).astype(np.float32)


@dataclass(frozen=True)
class Pair:
    """A design on a blank colour, printed opaque or in transparent ink, at a width in the thumbnail."""

    design: int
    place: int
    blank: str
    transparent: bool
    width_px: int
    contrast: float  # WCAG contrast of the fill, as it shows, with the blank


def shown_contrast(ink: tuple[int, int, int], blank: str, transparent: bool) -> float:
    """WCAG contrast of an ink as it shows on a blank with the bare blank."""
    base, over = LINEAR[list(BLANKS[blank])], LINEAR[list(ink)]
    shown = base * over if transparent else over
    return float(contrast_ratio(relative_luminance(base), relative_luminance(shown)))


def pairs_of(seed: int, design: Labelled, count: int = PER_DESIGN) -> list[Pair]:
    """The design's pairs: half near the contrast threshold, half near the size threshold."""
    rng = generator(seed + 1, design.number)
    found = []
    for place in range(count):
        transparent = bool(rng.random() < 0.42)
        contrasts = np.array([shown_contrast(design.ink, name, transparent) for name in NAMES])
        choice = int(rng.integers(len(NAMES)))
        if place == 0 and design.focus >= 0:
            choice, transparent = design.focus, False
        elif rng.random() < 0.45:
            nearness = np.exp(-(((np.log(contrasts) - np.log(1.22)) / 0.2) ** 2)) + 1e-6
            choice = int(rng.choice(len(NAMES), p=nearness / nearness.sum()))
        width = float(np.exp(rng.uniform(np.log(NARROWEST), np.log(WIDEST))))
        if rng.random() < 0.55:
            near = rng.uniform(3, 10) * design.rgba.shape[1] / design.letter_px
            width = near if near > NARROWEST else width
        width_px = int(np.clip(round(width), NARROWEST, WIDEST))
        blank = NAMES[choice]
        contrast = shown_contrast(design.ink, blank, transparent)
        found.append(Pair(design.number, place, blank, transparent, width_px, contrast))
    return found


def dressed(rgba: NDArray[np.uint8], blank: tuple[int, int, int], transparent: bool) -> NDArray[np.uint8]:
    """The art on the blank in linear light: ``substrate * (1 - a + a * ink)`` for dye, else over."""
    alpha = rgba[..., 3:].astype(np.float32) / 255
    ink, base = LINEAR[rgba[..., :3]], LINEAR[list(blank)]
    linear = base * (1 - alpha + alpha * ink) if transparent else base * (1 - alpha) + ink * alpha
    return ENCODED[(linear * 4095).round().astype(np.int32)].round().astype(np.uint8)


def thumbnail(
    rgba: NDArray[np.uint8], blank: str, transparent: bool, width_px: int, shift: int = 0
) -> NDArray[np.uint8]:
    """The picture as a shop shows it: area-averaged sRGB values, a plain margin; ``shift`` moves it."""
    seen = dressed(rgba, BLANKS[blank], transparent)
    height = max(1, round(rgba.shape[0] * width_px / rgba.shape[1]))
    small = cv2.resize(seen, (width_px, height), interpolation=cv2.INTER_AREA)
    margin = max(8, round(0.12 * width_px))
    picture = np.empty((height + 2 * margin, width_px + 2 * margin, 3), np.uint8)
    picture[:] = BLANKS[blank]
    top = margin + shift
    picture[top : top + height, top : top + width_px] = small
    return picture


def as_served(picture: NDArray[np.uint8], rng: np.random.Generator) -> NDArray[np.uint8]:
    """The thumbnail as a shop serves it: a photograph's grain, then JPEG.

    Without the two an engine reads letters a few 8-bit levels from their ground, which no buyer sees.
    """
    grain = cv2.GaussianBlur(rng.standard_normal(picture.shape[:2]).astype(np.float32), (0, 0), 0.6)
    noisy = picture + (grain * (GRAIN / grain.std()))[..., None]
    coded = cv2.imencode(
        ".jpg", noisy.round().clip(0, 255).astype(np.uint8)[..., ::-1], [cv2.IMWRITE_JPEG_QUALITY, QUALITY]
    )[1]
    served = cv2.imdecode(coded, cv2.IMREAD_COLOR)
    assert served is not None
    return np.ascontiguousarray(served[..., ::-1], np.uint8)
