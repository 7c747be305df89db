"""The few colours that make up a lot of pixels, in a fixed order."""

import cv2
import numpy as np
from numpy.typing import NDArray

Bytes = NDArray[np.uint8]

MOST_SAMPLES = 200_000
# CIE 1976 distance in CIELAB under which two colours count as one ink. Common practice, no source.
SAME_INK = 14.0
LEAST_SHARE = 0.01
MOST_INKS = 8
_OWN_MODE = 0.2  # a colour with this share of its cluster is an ink somebody chose; else the mean stands


def dominant(colours: Bytes) -> tuple[tuple[str, float], ...]:
    """``(hex, share)`` of N x 3 sRGB-encoded colours, largest share first; groups under 1 % are left out."""
    if not len(colours):
        return ()
    step = -(-len(colours) // MOST_SAMPLES)
    words = colours[::step].astype(np.uint32) @ np.array([65536, 256, 1], np.uint32)
    exact, counts = np.unique(words, return_counts=True)
    total = counts.sum()
    ranked = sorted(
        (
            (_representative(exact[g], counts[g]), float(counts[g].sum() / total))
            for g in _grouped(exact, counts)
        ),
        key=lambda ink: (-ink[1], ink[0]),
    )
    return tuple((ink, round(share, 4)) for ink, share in ranked[:MOST_INKS])


def _grouped(exact: NDArray[np.uint32], counts: NDArray[np.intp]) -> list[NDArray[np.intp]]:
    """Positions of colours by ink, of inks of LEAST_SHARE or more.

    Heaviest bin first, each taking in what lies within SAME_INK of it.
    """
    rgb = np.stack([exact >> 16 & 255, exact >> 8 & 255, exact & 255], axis=1)
    bins, member = np.unique((rgb >> 3) @ np.array([1024, 32, 1]), return_inverse=True)
    weight = np.bincount(member, counts, len(bins))
    means = np.stack([np.bincount(member, counts * rgb[:, i], len(bins)) / weight for i in range(3)], axis=1)
    lab = cv2.cvtColor((means[np.newaxis] / 255).astype(np.float32), cv2.COLOR_RGB2Lab)[0]
    planes = np.ascontiguousarray(lab.T)
    owner = np.full(len(bins), -1)
    free, total = np.arange(len(bins)), counts.sum()
    for centre in np.lexsort((bins, -weight)):
        if owner[centre] >= 0:
            continue
        if weight[free].sum() / total < LEAST_SHARE:
            break  # all that is left would not make an ink
        apart = sum((plane[free] - plane[centre]) ** 2 for plane in planes)
        near = np.sqrt(apart) <= SAME_INK
        owner[free[near]] = centre
        free = free[~near]
    taken = owner >= 0
    shares = np.bincount(owner[taken], weight[taken], len(bins)) / total
    of_colour = owner[member]
    return [np.flatnonzero(of_colour == centre) for centre in np.flatnonzero(shares >= LEAST_SHARE)]


def _representative(exact: NDArray[np.uint32], counts: NDArray[np.intp]) -> str:
    heaviest = int(np.argmax(counts))
    if counts[heaviest] >= _OWN_MODE * counts.sum():
        return f"#{int(exact[heaviest]):06x}"
    parts = [int(np.average(exact >> shift & 255, weights=counts) + 0.5) for shift in (16, 8, 0)]
    return "#" + "".join(f"{part:02x}" for part in parts)
