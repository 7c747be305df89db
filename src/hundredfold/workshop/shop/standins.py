"""Faces that stand in where a layout's face lacks a word's letters: whole words, at a like weight and
width."""

from collections.abc import Iterable, Iterator
from functools import lru_cache
from pathlib import Path

from hundredfold.designs.typesetting.fonts import Font
from hundredfold.designs.typesetting.likeness import build_of
from hundredfold.kernel.errors import ShopError
from hundredfold.workshop.shop.typefaces import find_font, own_fonts

# Families that come with the program and have many letters, and what is peculiar to each.
_FAMILIES = (
    "Noto Sans",  # Latin, Greek and Cyrillic, as the next three
    "Noto Serif",
    "Roboto Slab",
    "Roboto Condensed",
    "Heebo",  # Hebrew
    "Noto Sans Arabic",
    "Noto Sans Devanagari",
    "Noto Sans Thai",
    "Inter",  # hearts, stars, arrows, ticks
)
_WEIGHTS = (400, 600, 800, 900)


def stand_ins(font: Font, words: Iterable[str], folder: Path) -> tuple[Font, ...]:
    """Faces for the words that ``font`` cannot set, the likest first; fonts of the shop's folder come
    last."""
    lost = [word for word in words if not font.covers(word)]
    if not lost:
        return ()
    found: list[tuple[float, Font]] = []
    for family in _FAMILIES:
        able = [face for face in _faces(family) if any(_helps(face, font, word) for word in lost)]
        rated = [(_unlike(face, font), face) for face in able]
        if rated:
            found.append(min(rated, key=lambda pair: pair[0]))
    found.sort(key=lambda pair: pair[0])
    own = (face for face in _own(folder) if any(_helps(face, font, word) for word in lost))
    return (*(face for _, face in found), *own)


def _helps(face: Font, font: Font, word: str) -> bool:
    return any(face.covers(char) and not font.covers(char) for char in word)


def _unlike(face: Font, font: Font) -> float:
    here, there = build_of(face), build_of(font)
    return here.unlike(there) if here is not None and there is not None else 9.0


@lru_cache(maxsize=16)
def _faces(family: str) -> tuple[Font, ...]:
    return tuple(find_font(family, weight) for weight in _WEIGHTS)


def _own(folder: Path) -> Iterator[Font]:
    for name in own_fonts(folder):
        try:
            yield find_font(name, 700, folder)
        except ShopError:
            continue  # a font that cannot be used is told where a layout asks for it
