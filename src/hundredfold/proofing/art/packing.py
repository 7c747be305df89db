"""Everything proofing keeps of a design, as the bytes of one build step."""

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from hundredfold.designs.facts import Box
from hundredfold.kernel.colour import Srgb
from hundredfold.proofing.art.facts import ArtFacts, art_facts_as_json, art_facts_from_json
from hundredfold.proofing.art.measuring import Bytes, measure_art
from hundredfold.proofing.reading.art import SmallArt
from hundredfold.proofing.reading.facts import (
    ReadingFacts,
    facts_for_reading,
    packed_facts,
    unpacked_art,
    unpacked_facts,
)
from hundredfold.proofing.reading.trees import ReadingTrees


@dataclass(frozen=True)
class ProofFacts:
    """Deep facts and what the reading needs. Two-tone art is read from ``words``, engraved art in one
    tone."""

    art: ArtFacts
    words: ReadingFacts

    @cached_property
    def _toned(self) -> dict[Srgb, ReadingFacts]:
        return {}

    def words_in(self, tone: Srgb | None) -> ReadingFacts:
        """The reading's facts in the art's colours, or all ink in one tone."""
        if tone is None or self.words.art is None:
            return self.words
        if tone not in self._toned:
            pixels = self.words.art.pixels.copy()
            cover = pixels[:, :, 3:].astype(np.float32) / 255
            pixels[:, :, :3] = np.rint(np.array(tone, np.float32) * cover)
            self._toned[tone] = self.words.changed_to(SmallArt(pixels))
        return self._toned[tone]


def measure_for_proof(pixels: Bytes, ink: Box, trees: ReadingTrees) -> bytes:
    """Measure art (height x width x RGBA, uint8, upright sRGB, straight alpha) and pack what was found."""
    words = facts_for_reading(np.ascontiguousarray(pixels), trees)
    return art_facts_as_json(measure_art(pixels, ink, words)) + b"\n" + packed_facts(words)


def unpack_art(data: bytes) -> ArtFacts:
    """The deep facts alone: judging needs no more. Raises as ``unpack``."""
    return art_facts_from_json(data.partition(b"\n")[0])


def unpack_small(data: bytes) -> SmallArt | None:
    """The reduced art alone, for drawing; None where nothing is inked. Raises as ``unpack``."""
    return unpacked_art(data.partition(b"\n")[2])


def unpack(data: bytes, trees: ReadingTrees) -> ProofFacts:
    """The inverse. Raises ValueError, KeyError or TypeError on other bytes."""
    facts, _, words = data.partition(b"\n")
    return ProofFacts(art_facts_from_json(facts), unpacked_facts(words, trees))
