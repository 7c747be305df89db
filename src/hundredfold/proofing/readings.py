"""The chances that a design's words are read, measured once for every look that a shop may show it in.

A look is what the reader sees: the blank's colour, how ink shows on it, and how wide the art is. Blanks that
share a look share its chance, and a changed limit asks for none again.
"""

import json
from collections.abc import Iterable, Mapping, Sequence
from typing import NamedTuple

from hundredfold.catalogue.blanks import Blank, BlankColour
from hundredfold.catalogue.ink import InkModel, ink_model, mark_tone
from hundredfold.kernel.colour import Srgb
from hundredfold.proofing.art.packing import ProofFacts
from hundredfold.proofing.reading.facts import ReadingFacts
from hundredfold.proofing.reading.predict import chance_read


class Look(NamedTuple):
    """What a reader sees of a design."""

    blank: str  # hex of the blank's colour
    transparent: bool  # ink filters the blank's colour
    tone: str  # hex of the one tone that an engraving shows, "" for the art's own colours
    art_px: int


Chances = Mapping[Look, float | None]  # None: the art has no words


def look_of(blank: Blank, colour: BlankColour, art_px: int) -> Look:
    """How a reader sees art on this blank colour, ``art_px`` wide."""
    model = ink_model(blank, colour)
    tone = mark_tone(blank).hex if model is InkModel.ONE_TONE else ""
    return Look(colour.srgb.hex, model is InkModel.TRANSPARENT, tone, art_px)


def read_looks(facts: ProofFacts, looks: Iterable[Look]) -> dict[Look, float | None]:
    """The chance for each look."""
    # By tone and width, since those share the costly part.
    ordered = sorted(set(looks), key=lambda look: (look.tone, look.art_px, look))
    return {look: _chance(facts, look) for look in ordered}


def _chance(facts: ProofFacts, look: Look) -> float | None:
    return chance_of(facts.words_in(Srgb.parse(look.tone) if look.tone else None), look)


def chance_of(words: ReadingFacts, look: Look) -> float | None:
    """The chance that these words (in their tone already) are read in a look; None where there are none."""
    blank = Srgb.parse(look.blank)
    return chance_read(words, blank, transparent_ink=look.transparent, art_width_px=look.art_px).chance


def chances_as_json(chances: Chances) -> bytes:
    """One row a look, sorted."""
    rows = [[*look, chance] for look, chance in sorted(chances.items())]
    return json.dumps(rows, separators=(",", ":")).encode()


def chances_from_json(data: bytes) -> dict[Look, float | None]:
    """The inverse. Raises ValueError or TypeError on another shape."""
    rows: Sequence[tuple[str, bool, str, int, float | None]] = json.loads(data)
    return {Look(*row[:4]): row[4] for row in rows}
