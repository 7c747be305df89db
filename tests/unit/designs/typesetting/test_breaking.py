"""Breaking reaches the optimum that trying every way finds, for the costs stated in the module."""

import itertools
import math
from collections.abc import Iterator

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from uniseg.linebreak import line_break_units

from hundredfold.designs.typesetting.breaking import (
    Room,
    break_level,
    break_places,
    break_ragged,
    level_block,
    lines_of,
)

WORDS = st.lists(st.text("abcdefghilmnopw", min_size=1, max_size=11), min_size=1, max_size=12)


def width(text: str) -> float:
    """Letters of different widths, and a space."""
    return sum({" ": 0.25, "i": 0.3, "l": 0.3, "m": 0.9, "w": 0.8}.get(c, 0.55) for c in text)


def height(text: str) -> float:
    return 0.95 if any(c in "gp" for c in text) else 0.72


def every_way(text: str, most: int) -> Iterator[list[str]]:
    pieces = break_places(text)
    for count in range(1, min(most, len(pieces)) + 1):
        for cuts in itertools.combinations(range(1, len(pieces)), count - 1):
            yield lines_of(pieces, [*cuts, len(pieces)])


def ragged_cost(lines: list[str], room: Room) -> float:
    return min(room.largest, room.size_by_width(max(map(width, lines))), room.size_by_height(len(lines)))


def check_ragged(words: list[str], room: Room) -> None:
    text = " ".join(words)
    size, lines = break_ragged(text, width, room)
    ways = list(every_way(text, room.most_lines or 99))
    best = max(ragged_cost(way, room) for way in ways)
    assert size == pytest.approx(best, rel=1e-9)
    limit = (room.width - room.stroke) / best * (1 + 1e-9)

    def slack(way: list[str]) -> float:
        return sum((limit - width(line)) ** 2 for line in way)

    able = [way for way in ways if ragged_cost(way, room) >= best * (1 - 1e-9)]
    least = min(map(slack, able))
    assert " ".join(lines) == text
    assert slack(lines) == pytest.approx(least, rel=1e-6, abs=1e-6)
    assert len(lines) == min(len(way) for way in able if slack(way) <= least + 1e-6)


def check_level(words: list[str], room: Room, gap: float) -> None:
    text = " ".join(words)
    block, lines = break_level(text, width, height, room, gap)
    whole = width(text)
    best_by_count: dict[int, tuple[float, list[list[str]]]] = {}
    for way in every_way(text, room.most_lines or 99):
        cost = sum(math.log(width(line) / (whole / len(way))) ** 2 for line in way)
        known = best_by_count.get(len(way), (math.inf, []))
        if cost < known[0] - 1e-9:
            best_by_count[len(way)] = (cost, [way])
        elif cost <= known[0] + 1e-9:
            known[1].append(way)
    covers = [
        (level_block([(width(t), height(t)) for t in way], room, gap), way)
        for _, ways in best_by_count.values()
        for way in ways
    ]
    ours = level_block([(width(t), height(t)) for t in lines], room, gap)
    assert block == pytest.approx(ours[0])
    # Breaks of equal cost may differ in cover; ours must be the best of its count, and no count much better.
    assert lines in [way for _, way in covers]
    assert all(
        min(cover for (_, cover), way in covers if len(way) == count) <= ours[1] * (1 + 1e-9)
        for count in {len(way) for _, way in covers}
    )


@settings(max_examples=60, deadline=None)
@given(WORDS, st.floats(50, 900), st.floats(50, 900), st.integers(0, 12))
def test_ragged_breaks_are_optimal(words: list[str], wide: float, tall: float, most: int) -> None:
    check_ragged(words, Room(wide, tall, 0.7, 0.2, 1.1, most_lines=most))


@settings(max_examples=60, deadline=None)
@given(WORDS, st.floats(50, 900), st.floats(50, 900), st.floats(0, 20))
def test_level_breaks_are_optimal(words: list[str], wide: float, tall: float, gap: float) -> None:
    check_level(words, Room(wide, tall, 0.7, 0.2, 1.1), gap)


def test_a_limit_on_size_and_an_outline_count() -> None:
    check_ragged(["plot", "pot", "repeat"], Room(300, 300, 0.7, 0.2, 1.1, largest=40.0, stroke=12.0))


def test_nothing_to_break() -> None:
    assert break_ragged("", width, Room(10, 10, 0.7, 0.2, 1.1)) == (0.0, [])
    assert break_level("", width, height, Room(10, 10, 0.7, 0.2, 1.1), 1) == (0.0, [])


@settings(max_examples=400, deadline=None)
@given(st.text(alphabet="abZ19&,. -’!", min_size=1, max_size=18))
def test_plain_words_break_as_the_tables_say(text: str) -> None:
    """UAX 14 as uniseg implements it; text of plain words takes a way of its own."""
    text = " ".join(text.split())
    assert break_places(text) == [piece for piece in line_break_units(text) if piece]


def test_ideographs_break_between_and_no_break_spaces_hold() -> None:
    """UAX 14: ID breaks on both sides, GL does not."""
    assert break_places("蜂蜜茶") == ["蜂", "蜜", "茶"]
    assert break_places("8\u00a0oz mug") == ["8\u00a0oz ", "mug"]
