"""Art for the reading tests, drawn at test time in one of the fonts the program ships with."""

from functools import cache
from importlib.util import find_spec
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageDraw, ImageFont

Colour = tuple[int, int, int]
NAVY: Colour = (27, 37, 64)
WHITE: Colour = (255, 255, 255)
BLACK: Colour = (20, 20, 20)
DEEP: Colour = (30, 41, 70)  # a navy blank close to the navy ink


@cache
def face(size: int) -> ImageFont.FreeTypeFont:
    """Oswald at a pixel size."""
    spec = find_spec("fontpkg_oswald")
    assert spec is not None
    assert spec.origin is not None
    return ImageFont.truetype(str(Path(spec.origin).parent / "files" / "Oswald[wght].ttf"), size)


def lettered(
    lines: tuple[str, ...], ink: Colour, size: int = 150, ring: Colour | None = None
) -> NDArray[np.uint8]:
    """Lines of text, one below another, as straight RGBA; ``ring`` outlines them 8 px thick."""
    image = Image.new("RGBA", (200 + size * max(map(len, lines)) // 2, 60 + (size * 3 // 2) * len(lines)))
    draw = ImageDraw.Draw(image)
    for place, line in enumerate(lines):
        at = (40, 10 + place * size * 3 // 2)
        draw.text(
            at,
            line,
            (*ink, 255),
            face(size),
            stroke_width=8 if ring else 0,
            stroke_fill=(*(ring or ink), 255),
        )
    return np.asarray(image)


def disc(ink: Colour, size: int = 400) -> NDArray[np.uint8]:
    """A filled circle: art without text."""
    y, x = np.mgrid[0:size, 0:size] - (size - 1) / 2
    art = np.zeros((size, size, 4), np.uint8)
    art[np.hypot(x, y) < size * 0.45] = (*ink, 255)
    return art
