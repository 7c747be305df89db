"""Art in the colours that process inks can print: what a screen shows beyond them comes out as the nearest.

What cyan, magenta, yellow and black reach is the solid between their solids and overprints, in light (mixed
by area, as Neugebauer has it). Their values are those of ISO 12647-2:2004/Amd 1:2007 on coated stock (from
memory), taken relative to the paper and to black. A printer's own profile knows better: dye sublimation
reaches further in some blues, direct-to-garment less in most (common practice, no source).
"""

from functools import cache

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageFilter
from scipy.spatial import ConvexHull

from hundredfold.kernel.colour import Floats, from_linear, to_linear
from hundredfold.kernel.difference import lab

Bytes = NDArray[np.uint8]

# CIELAB, D50: paper, cyan, magenta, yellow, red (M + Y), green (C + Y), blue (C + M), black overprint.
_SOLIDS = (
    (95, 0, -2),
    (55, -37, -50),
    (48, 74, -3),
    (89, -5, 93),
    (47, 68, 48),
    (50, -65, 27),
    (24, 22, -46),
)
_BLACK_L = 11.0  # of four inks on top of each other
_D50 = np.array([0.9642, 1.0, 0.8249])  # ICC profile connection space
# To linear sRGB from XYZ under D50, adapted by Bradford (IEC 61966-2-1 primaries).
_TO_SRGB = np.array(
    [
        [3.1338561, -1.6168667, -0.4906146],
        [-0.9787684, 1.9161415, 0.0334540],
        [0.0719453, -0.2289914, 1.4052427],
    ]
)
_STEPS = 17  # of the table, a side
# What a colour is drawn towards, to find the nearest: greys of so much light, the solids, and these darker.
_GREYS, _HALF = np.linspace(0.0, 1.0, 9), 0.5
# Levels: what the table changes by no more is left alone, so that it rounds nothing, and so are colours as
# near to grey as that, which are printable but lie near the solid's tip at white.
_SAME, _GREY = 4, 12


def as_printed(art: Bytes) -> Bytes:
    """RGBA art (straight alpha, sRGB-encoded) with each colour beyond process inks as the nearest within."""
    colours = Image.fromarray(np.ascontiguousarray(art[..., :3]))
    printed = np.asarray(colours.filter(_table()))
    moved = np.abs(printed.astype(np.int16) - art[..., :3]).max(axis=2) > _SAME
    moved &= np.ptp(art[..., :3], axis=2) > _GREY
    made = art.copy()
    made[..., :3][moved] = printed[moved]
    return made


def nearest_printable(linear: Floats) -> Floats:
    """Colours (linear RGB, one a row) as process inks print them: those within as they are."""
    solids, normals, reach = _solid()
    greys = np.repeat(_GREYS[:, None], 3, axis=1)
    wanted = lab(linear)
    best, least = linear, np.full(len(linear), np.inf)
    for within in (*greys, *solids, *(solids * _HALF)):
        way = linear - within
        along = way @ normals.T
        room = reach - within @ normals.T
        with np.errstate(divide="ignore", invalid="ignore"):
            stop = np.where(along > 1e-9, room / along, np.inf).min(axis=1)
        tried = np.clip(within + way * np.clip(stop, 0.0, 1.0)[:, None], 0.0, 1.0)
        away = _difference(wanted, lab(tried))
        nearer = away < least
        best = np.where(nearer[:, None], tried, best)
        least = np.where(nearer, away, least)
    return np.asarray(best)


def _difference(first: Floats, second: Floats) -> Floats:
    """What a colour loses, by lightness (weighed as in CIEDE2000, which takes much longer), chroma and hue.

    Chroma weighs more than there: 0.02, of some tried, came nearest to what a coated profile chooses.
    """
    chroma = np.hypot(first[..., 1], first[..., 2])
    light, more = first[..., 0] - second[..., 0], chroma - np.hypot(second[..., 1], second[..., 2])
    hue = np.maximum(((first[..., 1:] - second[..., 1:]) ** 2).sum(-1) - more**2, 0.0)
    off = (first[..., 0] - 50) ** 2
    parts = (
        (light / (1 + 0.015 * off / np.sqrt(20 + off))) ** 2,
        (more / (1 + 0.02 * chroma)) ** 2,
        hue / (1 + 0.015 * chroma) ** 2,
    )
    return np.asarray(np.sqrt(sum(parts)))


@cache
def _solid() -> tuple[Floats, Floats, Floats]:
    """Corners of the solid of printable light (linear RGB), outward normals of its faces, and how far each
    reaches along its own."""
    solids = np.array([_light(*each) for each in _SOLIDS])
    dark = _light(_BLACK_L, 0, 0)[1]
    paper = solids[0]
    corners = np.vstack([((solids / paper - dark) / (1 - dark) * _D50) @ _TO_SRGB.T, np.zeros(3)])
    faces = np.unique(np.round(ConvexHull(corners).equations, 9), axis=0)
    return corners, faces[:, :3], -faces[:, 3]


def _light(lightness: float, a: float, b: float) -> Floats:
    """XYZ of a CIELAB colour as shares of the white (CIE 15)."""
    y = (lightness + 16) / 116
    roots = np.array([y + a / 500, y, y - b / 200])
    return np.where(roots > 6 / 29, roots**3, 3 * (6 / 29) ** 2 * (roots - 4 / 29))


@cache
def _table() -> ImageFilter.Color3DLUT:
    steps = to_linear(np.linspace(0.0, 1.0, _STEPS))
    blue, green, red = np.meshgrid(steps, steps, steps, indexing="ij")  # red runs fastest
    every = np.stack([red, green, blue], -1).reshape(-1, 3)
    return ImageFilter.Color3DLUT(_STEPS, from_linear(nearest_printable(every)).ravel().tolist())
