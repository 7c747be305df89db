"""Shapes of titles: ``{says} {blank} | {gift} | {measure}``, a head and segments that may be left out."""

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

_SLOT = re.compile(r"\{(\w+)\}")
_GOODS = frozenset(("blank", "short"))  # a title that says what it is on may not lose that
# What the art says is settled first; what stands around it must not say the same word again.
_ORDER = (
    *("says", "quoted", "first", "last", "brief", "blank", "short", "when", "kind", "for", "gift"),
    *("measure", "holds"),
)
SLOTS = frozenset(_ORDER)
_STRIDES = {name: 2 * place + 1 for place, name in enumerate(_ORDER)}


@dataclass(frozen=True)
class Phrase:
    """Words for a slot, as written inside and at the front of a title, with what they say and come from."""

    text: str
    front: str
    colon: str  # after a colon
    keys: frozenset[str]
    source: str


@dataclass(frozen=True)
class Title:
    """A finished title and the phrases it was made of."""

    text: str
    phrases: tuple[Phrase, ...]


@dataclass(frozen=True)
class _Segment:
    text: str
    slots: tuple[str, ...]  # in the order they are settled


def unknown_slots(shape: str) -> tuple[str, ...]:
    """The slots of a shape that there are not."""
    return tuple(name for name in _SLOT.findall(shape) if name not in SLOTS)


@lru_cache(maxsize=1024)
def _segments(shape: str) -> tuple[_Segment, ...]:
    parts = (part.strip() for part in shape.split("|"))
    return tuple(
        _Segment(part, tuple(sorted(_SLOT.findall(part), key=_ORDER.index))) for part in parts if part
    )


def render(
    shape: str, slots: Mapping[str, Sequence[Phrase]], fits: Callable[[str], bool], turn: int
) -> Title | None:
    """A title of this shape that fits, with as many of its segments as fit; None when its head does not.

    ``turn`` says with which of a slot's phrases to begin. No phrase repeats a word of another.
    """
    segments = _segments(shape)
    text, keys, used = "", frozenset[str](), list[Phrase]()
    for place, segment in enumerate(segments):
        choice = _choose(segment.slots, slots, keys, turn)
        front = place == 0
        if choice is None:
            if front or not _GOODS.isdisjoint(segment.slots):
                return None
            continue
        part = _filled(segment.text, choice, front)
        longer = part if front else f"{text}, {part}"
        needed = front or not _GOODS.isdisjoint(segment.slots)
        if fits(longer):
            text = longer
            used += choice.values()
            keys = keys.union(*(phrase.keys for phrase in choice.values()))
        elif needed:
            return None
    return Title(text, tuple(used))


def _choose(
    names: Sequence[str], slots: Mapping[str, Sequence[Phrase]], said: frozenset[str], turn: int
) -> dict[str, Phrase] | None:
    choice: dict[str, Phrase] = {}
    for name in names:
        phrases = slots.get(name, ())
        count = len(phrases)
        start = turn * _STRIDES[name]  # so that slots do not turn together
        for step in range(count):
            phrase = phrases[(start + step) % count]
            if not phrase.keys & said:
                choice[name] = phrase
                said = said | phrase.keys
                break
        else:
            return None
    return choice


def _filled(text: str, choice: Mapping[str, Phrase], front: bool) -> str:
    def put(match: re.Match[str]) -> str:
        phrase = choice[match[1]]
        if front and match.start() == 0:
            return phrase.front
        return phrase.colon if text[: match.start()].rstrip().endswith(":") else phrase.text

    return _SLOT.sub(put, text)
