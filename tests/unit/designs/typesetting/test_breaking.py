"""Breaking reaches the optimum that trying every way finds, for the costs stated in the module."""

import itertools
import math
from collections.abc import Iterator

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from uniseg.linebreak import line_break_units

from hundredfold.designs.typesetting import breaking, levelling
from hundredfold.designs.typesetting.breaking import Room, break_places, break_ragged, lines_of
from hundredfold.designs.typesetting.levelling import LevelLine, MeasuredLine, break_level, level_block
from hundredfold.designs.typesetting.smallwords import is_small

ANY = st.text("abcdefghilmnopw", min_size=1, max_size=11)
SMALL = st.sampled_from(["the", "of", "in", "a", "and", "&", "to"])
MARKED = st.text("abcdefghilmnopw", min_size=1, max_size=6).map(lambda word: word + ",")
WORDS = st.lists(st.one_of(ANY, ANY, SMALL, MARKED), min_size=1, max_size=8)


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


def ragged_size(lines: list[str], room: Room) -> float:
    return min(room.largest, room.size_by_width(max(map(width, lines))), room.size_by_height(len(lines)))


def last_word(line: str) -> str:
    return line.split()[-1]


def ragged_cost(lines: list[str], room: Room, best: float, words: int) -> float:
    """The cost as the module states it, a line at a time."""
    widest = max(map(width, lines))
    cost = breaking.SIZE * math.log(best / ragged_size(lines, room))
    for index, line in enumerate(lines):
        cost += breaking.EVEN * (1 - width(line) / widest) ** 2
        if index + 1 == len(lines):
            if index and words > 2 and " " not in line and width(line) < widest / 2:
                cost += breaking.STRANDED
            continue
        if all(is_small(word, "en") for word in line.split()):
            cost += breaking.LINKING
        elif is_small(last_word(line), "en"):
            cost += breaking.DANGLING
        if line[-1] in ",;:.!?":
            cost -= breaking.PAUSE
    return cost


def check_ragged(words: list[str], room: Room) -> None:
    text = " ".join(words)
    size, lines = break_ragged(text, width, room)
    ways = list(every_way(text, room.most_lines or 99))
    best = max(ragged_size(way, room) for way in ways)
    costs = [ragged_cost(way, room, best, len(words)) for way in ways]
    assert " ".join(lines) == text
    assert size == pytest.approx(ragged_size(lines, room), rel=1e-9)
    ours = ragged_cost(lines, room, best, len(words))
    assert ours == pytest.approx(min(costs), abs=1e-7)
    assert len(lines) == min(
        len(way) for way, cost in zip(ways, costs, strict=True) if cost <= min(costs) + 1e-12
    )


def every_marked_way(text: str, most: int) -> Iterator[list[LevelLine]]:
    """Every way to break, with every choice of catch lines: all small words between two that are not."""
    for lines in every_way(text, 99):
        words = [[is_small(word, "en") for word in line.split()] for line in lines]
        can = [
            all(small)
            and index + 1 < len(lines)
            and not (index and words[index - 1][-1])
            and not words[index + 1][0]
            for index, small in enumerate(words)
        ]
        for marks in itertools.product(*[(False, True) if each else (False,) for each in can]):
            if sum(marks) <= 3 and 0 < len(lines) - sum(marks) <= most:
                yield [LevelLine(line, mark) for line, mark in zip(lines, marks, strict=True)]


def level_cost(lines: list[LevelLine], whole: float) -> float:
    full = sum(not line.catch for line in lines)
    cost = 0.0
    for index, line in enumerate(lines):
        if line.catch:
            cost += levelling.CATCHING
            continue
        cost += levelling.EVEN * math.log(width(line.text) * full / whole) ** 2
        small = [is_small(word, "en") for word in line.text.split()]
        cost += levelling.SHOUTING * all(small)
        if index + 1 < len(lines):
            cost += levelling.DANGLING * (small[-1] and not all(small))
            cost -= breaking.PAUSE * (line.text[-1] in ",;:.!?")
    return cost


def check_level(words: list[str], room: Room, gap: float) -> None:
    text = " ".join(words)
    block, lines = break_level(text, width, height, room, gap)
    whole = width(text)
    by_count: dict[tuple[int, int], tuple[float, list[list[LevelLine]]]] = {}
    for way in every_marked_way(text, room.most_lines or 99):
        low = sum(line.catch for line in way)
        key, cost = (len(way) - low, low), level_cost(way, whole)
        known = by_count.get(key, (math.inf, []))
        if cost < known[0] - 1e-9:
            by_count[key] = (cost, [way])
        elif cost <= known[0] + 1e-9:
            known[1].append(way)

    def cover(way: list[LevelLine]) -> float:
        return level_block([MeasuredLine(width(t.text), height(t.text), t.catch) for t in way], room, gap)[1]

    largest = max(cover(way) for _, ways in by_count.values() for way in ways)
    totals = [
        (cost + levelling.COVER * math.log(largest / cover(way)), way)
        for cost, ways in by_count.values()
        for way in ways
    ]
    low = sum(line.catch for line in lines)
    assert lines in by_count[len(lines) - low, low][1], "the cheapest of its own number of lines"
    ours = level_cost(lines, whole) + levelling.COVER * math.log(largest / cover(lines))
    # Ways of one number that cost the same may differ in cover; no other number may beat all of ours.
    assert all(
        max(total for total, way in totals if way in ways) >= ours - 1e-7 or lines in ways
        for _, ways in by_count.values()
    )
    measured = [MeasuredLine(width(t.text), height(t.text), t.catch) for t in lines]
    assert block == pytest.approx(level_block(measured, room, gap)[0])


@settings(max_examples=60, deadline=None)
@given(WORDS, st.floats(50, 900), st.floats(50, 900), st.integers(0, 12))
def test_ragged_breaks_are_optimal(words: list[str], wide: float, tall: float, most: int) -> None:
    check_ragged(words, Room(wide, tall, 0.7, 0.2, 1.1, most_lines=most))


@settings(max_examples=60, deadline=None)
@given(WORDS, st.floats(300, 900), st.floats(300, 900), st.floats(0, 20))
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


@pytest.mark.parametrize(
    ("words", "expected"),
    [
        ("Queen of the hive", ["QUEEN", "of the", "HIVE"]),
        ("Honey and the bee", ["HONEY", "and the", "BEE"]),
    ],
)
def test_small_words_stand_low_between_the_lines(words: str, expected: list[str]) -> None:
    _, lines = break_level(words, width, height, Room(3100, 2800, 0.7, 0.2, 1.1), 60)
    assert [line.text if line.catch else line.text.upper() for line in lines] == expected


@settings(max_examples=60, deadline=None)
@given(st.lists(st.one_of(ANY, SMALL), min_size=2, max_size=8), st.floats(200, 900), st.floats(200, 900))
def test_no_line_of_small_words_is_the_largest(words: list[str], wide: float, tall: float) -> None:
    if all(is_small(word, "en") for word in words):
        return
    text = " ".join(words)
    _, lines = break_level(text, width, height, Room(wide, tall, 0.7, 0.2, 1.1), 5)
    full = [line.text for line in lines if not line.catch]
    largest = min(full, key=width)
    assert not all(is_small(word, "en") for word in largest.split())
