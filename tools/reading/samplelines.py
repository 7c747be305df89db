"""Are words that the check calls lost read by a machine after all? On every line of a shop's own designs.

``python -m tools.reading.samplelines SHOP`` puts each line of words that ends at the bare blank on every
colour of the shop's blanks with less than 3.2:1, shows it 240 px wide as a shop would, and reads it. What the
line says is what the same engine reads of it in black on white. Needs the development group ``reading``.
"""

import sys
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import cv2
import numpy as np
from numpy.typing import NDArray

from hundredfold.designs.facts import Box
from hundredfold.designs.measure import measure
from hundredfold.kernel.colour import Srgb
from hundredfold.proofing.art.facts import TextLine
from hundredfold.proofing.art.packing import ProofFacts, measure_for_proof, unpack
from hundredfold.proofing.profile import STANDARD
from hundredfold.proofing.readings import Look, look_of
from hundredfold.proofing.repair.verdicts import straight
from hundredfold.proofing.wordlines import line_standings
from hundredfold.workshop.shop.folder import open_shop
from hundredfold.workshop.steps.artwork import read_picture
from hundredfold.workshop.steps.readingtrees import reading_trees
from tools.reading.pairs import as_served, dressed
from tools.reading.spelling import letters, share_found
from tools.reading.truth import LEGIBLE, UNREADABLE, by_rapid

WIDTH_PX = 240
MOST_CONTRAST = 3.2  # what has more is read
PLAIN = Look("#ffffff", False, "#000000", 0)
LARGE_PX = 9  # letters so tall are not lost for their size
LEAST_LETTERS = 4


@dataclass(frozen=True)
class Case:
    """A line on a colour: what the check says of it, and how much of it is read."""

    lost: bool
    faint: bool
    tall: float
    read: float


def cases(shop: Path) -> Iterator[Case]:
    """Every line of every design on every look of the shop's blanks."""
    rng = np.random.default_rng(1)
    blanks = open_shop(shop).blanks
    looks = sorted({look_of(blank, colour, 0) for blank in blanks for colour in blank.colours})
    for file in sorted((shop / "designs").iterdir()):
        data = file.read_bytes()
        picture = read_picture(data, file.name)
        ink = measure(picture, "", len(data)).ink
        facts = unpack(measure_for_proof(picture.pixels, ink, reading_trees()), reading_trees())
        for line in facts.art.lines:
            if line.windows and line.sure >= STANDARD.limits.sure_words:
                yield from _of_line(facts, ink, line, looks, rng)


def _of_line(
    facts: ProofFacts, ink: Box, line: TextLine, looks: list[Look], rng: np.random.Generator
) -> Iterator[Case]:
    text = by_rapid(_cut(facts, ink, line, PLAIN, rng))[0]
    if len(letters(text)) < LEAST_LETTERS:
        return
    tall = line.letter_px * WIDTH_PX / ink.width
    for look in looks:
        stands = line_standings([line], look, STANDARD.limits)[0]
        if not look.tone and stands.contrast < MOST_CONTRAST:
            read = share_found(text, by_rapid(_cut(facts, ink, line, look, rng))[0])
            yield Case(stands.fails(STANDARD.limits, 0), stands.faint(STANDARD.limits), tall, read)


def _cut(
    facts: ProofFacts, ink: Box, line: TextLine, look: Look, rng: np.random.Generator
) -> NDArray[np.uint8]:
    """The line and a margin round it, on the look's ground, as a shop shows it."""
    assert facts.words.art is not None
    art = straight(facts.words.art)
    if look.tone:
        art[..., :3] = Srgb.parse(look.tone)
    room = 20 * art.shape[1] // WIDTH_PX
    art = cv2.copyMakeBorder(art, room, room, room, room, cv2.BORDER_CONSTANT, value=(0, 0, 0, 0))
    shown = dressed(np.asarray(art, np.uint8), Srgb.parse(look.blank), look.transparent)
    scale = WIDTH_PX / (art.shape[1] - 2 * room)
    small = cv2.resize(shown, None, fx=scale, fy=scale, interpolation=cv2.INTER_AREA)
    box = np.array([line.left - ink.left, line.top - ink.top, line.right - ink.left, line.bottom - ink.top])
    left, top, right, bottom = box * WIDTH_PX / ink.width + 20
    margin = max(6.0, 0.25 * (bottom - top))
    rows = slice(max(0, round(top - margin)), round(bottom + margin))
    return as_served(np.asarray(small[rows, max(0, round(left - margin)) : round(right + margin)]), rng)


def told(title: str, found: list[Case]) -> str:
    """One row of the table."""
    read = sum(one.read >= LEGIBLE for one in found)
    failed = sum(one.read < UNREADABLE for one in found)
    return f"{title:24}{len(found):6}{read:6}{len(found) - read - failed:9}{failed:10}"


def main() -> None:
    """Print how many lines are read, by what the check says of them."""
    found = list(cases(Path(sys.argv[1])))
    for title, some in (
        ("all", found),
        ("letters of 9 px or more", [c for c in found if c.tall >= LARGE_PX]),
    ):
        print(f"{title}\n{'':24}{'lines':>6}{'read':>6}{'between':>9}{'not read':>10}")
        print(told("lost", [one for one in some if one.lost]))
        print(told("faint", [one for one in some if one.faint and not one.lost]))
        print(told("neither", [one for one in some if not one.lost and not one.faint]))


if __name__ == "__main__":
    main()
