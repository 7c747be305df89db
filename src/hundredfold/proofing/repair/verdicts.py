"""How art fares in a look, before a repair and after it."""

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

import numpy as np

from hundredfold.kernel.colour import to_linear
from hundredfold.kernel.difference import colour_difference
from hundredfold.proofing.art.facts import EdgeWindow, TextLine
from hundredfold.proofing.art.windows import edges_of, reduced
from hundredfold.proofing.art.words import lines_read
from hundredfold.proofing.profile import Limits
from hundredfold.proofing.reading.art import SmallArt
from hundredfold.proofing.reading.facts import ReadingFacts
from hundredfold.proofing.readings import Chance, Look, chance_of
from hundredfold.proofing.repair.changes import Pixels
from hundredfold.proofing.visible import OutlineShares, stands_on
from hundredfold.proofing.wordlines import line_standings, share_lost

# What a colour whose words were fine must keep, if the repair is to serve it too; and the main words alone,
# where the small ones stay too small.
STEADY = 0.95


SLIPS = 0.02  # a chance may fall by so much and not count as worse


@dataclass(frozen=True)
class Verdict:
    """How art fares in one look."""

    reading: Chance | None
    stands: OutlineShares | None
    words_lost: bool = False  # a line of words is too near the ground to be made out

    @property
    def chance(self) -> float | None:
        """That the main words are read."""
        return self.reading.main if self.reading else None

    @property
    def every_word(self) -> float | None:
        """The chance that all words are read, the small ones too."""
        return self.reading.whole if self.reading else None

    def shows(self, limits: Limits) -> bool:
        """Its outline stands out, and so does every line of words."""
        return not self.words_lost and (self.stands is None or not self.stands.fails(limits))

    def passes(self, limits: Limits, sure: float) -> bool:
        """Its main words are read and all of it shows."""
        return (self.chance is None or self.chance >= sure) and self.shows(limits)


@dataclass
class Measured:
    """Reduced art, measured once for all looks and wishes."""

    words: ReadingFacts
    windows: Sequence[EdgeWindow]
    lines: Sequence[TextLine]
    seen: dict[Look, Verdict] = field(default_factory=dict)

    def stands_in(self, look: Look, limits: Limits) -> Verdict:
        """How its outline and its lines stand out there, unread."""
        art_lost = share_lost(self.windows, look, limits)
        lost = any(one.fails(limits, art_lost) for one in line_standings(self.lines, look, limits))
        return Verdict(None, stands_on(self.windows, look, limits), lost)

    def in_look(self, look: Look, limits: Limits) -> Verdict:
        """How it fares there."""
        if look not in self.seen:
            self.seen[look] = replace(self.stands_in(look, limits), reading=chance_of(self.words, look))
        return self.seen[look]


def measured(words: ReadingFacts, art: Pixels) -> Measured:
    """What repairs go by of straight-alpha art; ``words`` is what the reader found in it."""
    edges = edges_of(reduced(art))
    return Measured(words, edges.windows, lines_read(words, edges))


def worse(was: Verdict, now: Verdict, limits: Limits) -> bool:
    """Whether a look that was fine has lost by a change."""
    fell = any(
        before is not None and not _kept(before, after or 0.0, limits.read_doubt)
        for before, after in ((was.chance, now.chance), (was.every_word, now.every_word))
    )
    stands = now.stands is not None and was.stands is not None and now.stands.weak > was.stands.weak + SLIPS
    return fell or stands or (now.words_lost and not was.words_lost)


def _kept(before: float, after: float, doubt: float) -> bool:
    """It has hardly fallen, and what was fine stays so beyond the reader's own noise."""
    return after >= before - SLIPS and (before < doubt or after >= STEADY)


def one_ink(art: Pixels) -> bool:
    """Hardly any ink lies more than 3 CIEDE2000 from its mean: what does is lost in another ink."""
    solid = art[art[:, :, 3] > 200][:, :3]
    if not solid.size:
        return False
    light = to_linear(solid[:: max(1, len(solid) // 4000)] / 255.0)
    return bool(np.quantile(colour_difference(light, light.mean(axis=0)), 0.98) <= 3)


def straight(art: SmallArt) -> Pixels:
    """Straight-alpha RGBA of the reduced art."""
    pixels = art.pixels.astype(np.float32)
    colour = pixels[:, :, :3] * 255 / np.maximum(pixels[:, :, 3:], 1)
    return np.dstack([np.clip(np.rint(colour), 0, 255), pixels[:, :, 3]]).astype(np.uint8)


def premultiplied(pixels: Pixels) -> Pixels:
    """Premultiplied RGBA, as the reader keeps it."""
    cover = pixels[:, :, 3:].astype(np.float32) / 255
    return np.dstack([np.rint(pixels[:, :, :3] * cover), pixels[:, :, 3]]).astype(np.uint8)
