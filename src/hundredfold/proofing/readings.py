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


class Chance(NamedTuple):
    """How likely words are read (0-1): all of them, and the main ones alone (the tallest lines).

    ``share`` is how much of the art's box the lines of words take: a crest with a ribbon has little.
    """

    whole: float
    main: float
    share: float


Chances = Mapping[Look, Chance | None]  # None: the art has no words
# The version of the step that reads looks.
MAIN_HEIGHT = 0.6  # lines at least so tall, by the tallest, are the main words


def look_of(blank: Blank, colour: BlankColour, art_px: int) -> Look:
    """How a reader sees art on this blank colour, ``art_px`` wide."""
    model = ink_model(blank, colour)
    tone = mark_tone(blank).hex if model is InkModel.ONE_TONE else ""
    return Look(colour.srgb.hex, model is InkModel.TRANSPARENT, tone, art_px)


def read_looks(facts: ProofFacts, looks: Iterable[Look]) -> dict[Look, Chance | None]:
    """The chance for each look."""
    # By tone and width, since those share the costly part.
    ordered = sorted(set(looks), key=lambda look: (look.tone, look.art_px, look))
    return {look: _chance(facts, look) for look in ordered}


def _chance(facts: ProofFacts, look: Look) -> Chance | None:
    return chance_of(facts.words_in(Srgb.parse(look.tone) if look.tone else None), look)


def chance_of(words: ReadingFacts, look: Look) -> Chance | None:
    """The chance that these words (in their tone already) are read in a look; None where there are none.

    The main words, the tallest lines, say what the goods are about; smaller lines are read on the listing's
    own page.
    """
    found = chance_read(
        words, Srgb.parse(look.blank), transparent_ink=look.transparent, art_width_px=look.art_px
    )
    if found.chance is None:
        return None
    tallest = max((line.letter_height_px for line in found.lines), default=0.0)
    main = [line.chance for line in found.lines if line.letter_height_px >= MAIN_HEIGHT * tallest]
    best = max(found.chance, sum(main) / len(main)) if main else found.chance
    share = sum(
        (right - left) * (bottom - top) for left, top, right, bottom in (one.box for one in found.lines)
    )
    return Chance(found.chance, round(best, 4), round(min(1.0, share), 3))


def chances_as_json(chances: Chances) -> bytes:
    """One row a look, sorted."""
    rows = [[*look, chance and list(chance)] for look, chance in sorted(chances.items())]
    return json.dumps(rows, separators=(",", ":")).encode()


def chances_from_json(data: bytes) -> dict[Look, Chance | None]:
    """The inverse. Raises ValueError or TypeError on another shape."""
    rows: Sequence[tuple[str, bool, str, int, list[float] | None]] = json.loads(data)
    return {Look(*row[:4]): Chance(*row[4]) if row[4] else None for row in rows}
