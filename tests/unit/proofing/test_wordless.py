"""What only may be words stops nothing; faint words that are read all the same are not reported."""

from dataclasses import replace

import pytest
from proofing_subjects import CREAM, MUG, art_facts, facts, placed

from hundredfold.catalogue.blanks import BlankColour
from hundredfold.proofing.art.facts import TextLine
from hundredfold.proofing.runchecks import judge
from hundredfold.proofing.subjects import Evidence, Reading

WHITE = MUG.colours[0]
GRAIN = TextLine(400, 400, 900, 420, 12.0, 9)  # 0.6 mm tall, found by its shape alone


def kinds(line: TextLine, reading: Reading, colour: BlankColour = WHITE, ink: str = "#1b2a4e") -> list[str]:
    art = replace(art_facts(ink), lines=(line,))
    design = facts(ink=ink)
    found = judge(
        "a.png", design, MUG, colour, placed(design, MUG), evidence=Evidence(art=art, reading=reading)
    )
    return [f"{one.check}:{one.code} {one.severity.word}" for one in found]


@pytest.mark.parametrize("chance", [0.02, 0.4])
def test_grain_taken_for_words_stops_nothing(chance: float) -> None:
    """Patterns and photographs were called unreadable, their "largest words 0.4 mm tall"."""
    assert not [one for one in kinds(GRAIN, Reading(chance, 120)) if one.endswith(" stop")]
    words = replace(GRAIN, sure=0.95)
    assert [one for one in kinds(words, Reading(0.02, 120)) if one.endswith(" stop")]


def test_large_faint_words_that_are_read_are_no_warning() -> None:
    large = TextLine(400, 400, 3400, 900, 400.0, 9, 0.99)
    ink, read, unread = "#c9b98f", Reading(0.97, 120), Reading(0.5, 120)  # pale gold on cream
    weak = "blank/outline-contrast:weak warn"
    assert weak in kinds(large, unread, CREAM, ink)
    assert weak not in kinds(large, read, CREAM, ink)
