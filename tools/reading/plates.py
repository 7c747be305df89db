"""Pictures for docs/accuracy.md: the reliability curve, sheets of thumbnails."""

import cv2
import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageDraw, ImageFont

from tools.reading.dataset import Label, Pair
from tools.reading.designs import draw, generator
from tools.reading.fonts import FONTS, font_path
from tools.reading.judge import Bin
from tools.reading.pairs import as_served, thumbnail

INK, PALE, PAPER = (38, 42, 52), (205, 208, 214), (255, 255, 255)
CURVES = ((37, 99, 160), (196, 84, 40))
Picture = NDArray[np.uint8]


def face(size: int) -> ImageFont.FreeTypeFont:
    """Lato, for the pictures' own words."""
    package, file, *_ = next(font for font in FONTS if font[0] == "lato")
    return ImageFont.truetype(str(font_path(package, file)), size)


def reliability_plot(curves: dict[str, list[Bin]]) -> Image.Image:
    """Chance against share read, a dot per tenth, its area by the pairs in it."""
    side, left, top = 720, 110, 70
    image = Image.new("RGB", (left + side + 50, top + side + 110), PAPER)
    pen = ImageDraw.Draw(image)

    def at(x: float, y: float) -> tuple[float, float]:
        return left + x * side, top + (1 - y) * side

    for step in range(0, 11, 2):
        pen.line([at(step / 10, 0), at(step / 10, 1)], PALE, 2)
        pen.line([at(0, step / 10), at(1, step / 10)], PALE, 2)
        pen.text((at(step / 10, 0)[0], top + side + 14), f"{step * 10} %", INK, face(24), "ma")
        pen.text((left - 14, at(0, step / 10)[1]), f"{step * 10} %", INK, face(24), "rm")
    pen.line([at(0, 0), at(1, 1)], (150, 154, 162), 3)
    for place, ((title, bins), colour) in enumerate(zip(curves.items(), CURVES, strict=False)):
        pen.line([at(b.chance, b.read) for b in bins], colour, 4)
        most = max(b.count for b in bins)
        for b in bins:
            x, y = at(b.chance, b.read)
            r = 5 + 13 * float(np.sqrt(b.count / most))
            pen.ellipse([x - r, y - r, x + r, y + r], colour)
        pen.ellipse([left + 24, top + 22 + 40 * place, left + 42, top + 40 + 40 * place], colour)
        pen.text((left + 54, top + 31 + 40 * place), title, INK, face(26), "lm")
    pen.text((left + side / 2, top + side + 58), "chance the predictor gives", INK, face(28), "ma")
    pen.text((left - 80, 22), "share that was read", INK, face(28), "lm")
    return image


def served(seed: int, label: Label) -> Picture:
    """The thumbnail exactly as the engines got it."""
    design = draw(seed, int(label["design"]))
    clean = thumbnail(design.rgba, label["blank"], label["transparent"] == "1", int(label["width_px"]))
    return as_served(clean, generator(seed + 2, design.number * 100 + int(label["place"])))


def sheet(tiles: list[tuple[Picture, str]], across: int, size: int = 250) -> Image.Image:
    """Thumbnails in rows, each enlarged to its cell, with a line of words below."""
    down = -(-len(tiles) // across)
    image = Image.new("RGB", (across * (size + 16) + 16, down * (size + 50) + 16), (236, 238, 241))
    pen = ImageDraw.Draw(image)
    for place, (picture, words) in enumerate(tiles):
        x, y = 16 + place % across * (size + 16), 16 + place // across * (size + 50)
        scale = min(size / picture.shape[1], size / picture.shape[0])
        how = cv2.INTER_CUBIC if scale > 1 else cv2.INTER_AREA
        shown = cv2.resize(picture, None, fx=scale, fy=scale, interpolation=how)
        image.paste(
            Image.fromarray(shown), (x + (size - shown.shape[1]) // 2, y + (size - shown.shape[0]) // 2)
        )
        pen.text((x + size / 2, y + size + 6), words, INK, face(18), "ma")
    return image


def mistakes_sheet(seed: int, pairs: list[Pair], chances: NDArray[np.float64]) -> Image.Image:
    """Pairs with the chance given and the share of letters that was read."""
    return sheet(
        [
            (
                served(seed, pair.label),
                f"chance {chance:.2f}, read {pair.share:.2f}, {pair.label['width_px']} px",
            )
            for pair, chance in zip(pairs, chances, strict=True)
        ],
        across=5,
    )
