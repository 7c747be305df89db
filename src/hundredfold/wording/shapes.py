"""Shapes of titles: ``{says} {blank} | {gift} | {measure}``, a head and segments that may be left out."""

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from math import gcd

_SLOT = re.compile(r"\{(\w+)\}")
_GOODS = frozenset(("blank", "short"))  # a title that says what it is on may not lose that
# What the art says is settled first; what stands around it must not say the same word again.
_ORDER = (
    *("says", "quoted", "first", "last", "brief", "blank", "short", "when", "kind", "for", "gift"),
    *("measure", "holds"),
)
SLOTS = frozenset(_ORDER)
_STRIDES = {name: 2 * place + 1 for place, name in enumerate(_ORDER)}
_TRIES = 6  # other phrases for a segment that would not fit with its first


@dataclass(frozen=True)
class Phrase:
    """Words for a slot, as written inside and at the front of a title, with what they say and come from."""

    text: str
    front: str
    colon: str  # after a colon
    keys: frozenset[str]
    source: str


@dataclass(frozen=True)
class Head:
    """The first segment of a title, with the phrase of each slot."""

    text: str
    choice: Mapping[str, Phrase]


@dataclass(frozen=True)
class Title:
    """A title and the phrases it was made of."""

    text: str
    phrases: tuple[Phrase, ...]
    keys: frozenset[str] = frozenset()
    slots: frozenset[str] = frozenset()


@dataclass(frozen=True)
class _Segment:
    slots: tuple[str, ...]  # in the order they are settled
    pieces: tuple[tuple[str, str, bool], ...]  # the text before a slot, the slot, whether a colon leads to it
    end: str
    goods: bool


def unknown_slots(shape: str) -> tuple[str, ...]:
    """The slots of a shape that there are not."""
    return tuple(name for name in _SLOT.findall(shape) if name not in SLOTS)


@lru_cache(maxsize=1024)
def _segments(shape: str) -> tuple[_Segment, ...]:
    return tuple(_segment(part.strip()) for part in shape.split("|") if part.strip())


def _segment(text: str) -> _Segment:
    *found, end = _SLOT.split(text)
    pairs = zip(found[::2], found[1::2], strict=True)
    pieces = tuple((before, name, before.rstrip().endswith(":")) for before, name in pairs)
    names = tuple(sorted((name for _, name, _ in pieces), key=_ORDER.index))
    return _Segment(names, pieces, end, not _GOODS.isdisjoint(names))


def render(
    shape: str, slots: Mapping[str, Sequence[Phrase]], fits: Callable[[str], bool], turn: int
) -> Title | None:
    """A title of this shape that fits, with as many of its segments as fit; None when its head does not.

    ``turn`` says with which of a slot's phrases to begin. No phrase repeats a word of another.
    """
    head = head_of(shape, slots, fits, turn)
    return None if head is None else whole_of(shape, head, slots, fits, turn)


def head_of(
    shape: str, slots: Mapping[str, Sequence[Phrase]], fits: Callable[[str], bool], turn: int
) -> Head | None:
    """The first segment of a title; None where the design has no words for it or they do not fit."""
    segment = _segments(shape)[0]
    choice = _choose(segment.slots, slots, frozenset(), turn)
    if choice is None:
        return None
    text = _filled(segment, choice, front=True)
    return Head(text, choice) if fits(text) else None


def heads_of(shape: str, slots: Mapping[str, Sequence[Phrase]]) -> int:
    """How many turns give a shape another head, before they come round again."""
    counts = [len(slots.get(name, ())) for name in _segments(shape)[0].slots]
    return max(counts, default=1) if all(counts) else 0


def whole_of(
    shape: str, head: Head, slots: Mapping[str, Sequence[Phrase]], fits: Callable[[str], bool], turn: int
) -> Title | None:
    """The title that begins with this head; None when what it stands on does not fit."""
    title = _joined(head.text, Title("", ()), head.choice)
    for segment in _segments(shape)[1:]:
        longer = next(_longer(title, segment, slots, fits, turn), None)
        if longer is None and segment.goods:
            return None
        title = longer or title
    return title


def _longer(
    title: Title,
    segment: _Segment,
    slots: Mapping[str, Sequence[Phrase]],
    fits: Callable[[str], bool],
    turn: int,
) -> Iterator[Title]:
    """The title with this segment after it, with the first phrases that fit."""
    most = max((len(slots.get(name, ())) for name in segment.slots), default=0)
    for step in range(min(most, _TRIES)):
        choice = _choose(segment.slots, slots, title.keys, turn + step)
        if choice is None:
            return
        text = f"{title.text}, {_filled(segment, choice, front=False)}"
        if fits(text):
            yield _joined(text, title, choice)


def _joined(text: str, before: Title, choice: Mapping[str, Phrase]) -> Title:
    keys = before.keys.union(*(phrase.keys for phrase in choice.values()))
    return Title(text, (*before.phrases, *choice.values()), keys, before.slots.union(choice))


def _choose(
    names: Sequence[str], slots: Mapping[str, Sequence[Phrase]], said: frozenset[str], turn: int
) -> dict[str, Phrase] | None:
    choice: dict[str, Phrase] = {}
    for name in names:
        phrases = slots.get(name)
        if not phrases:
            return None
        count = len(phrases)
        stride = _STRIDES[name]  # so that slots do not turn together
        start = turn * (stride if gcd(stride, count) == 1 else 1)
        for step in range(count):
            phrase = phrases[(start + step) % count]
            if phrase.keys.isdisjoint(said):
                choice[name] = phrase
                said = said | phrase.keys
                break
        else:
            return None
    return choice


def _filled(segment: _Segment, choice: Mapping[str, Phrase], front: bool) -> str:
    parts: list[str] = []
    for before, name, colon in segment.pieces:
        phrase = choice[name]
        written = phrase.colon if colon else phrase.text
        parts += [before, phrase.front if front and not parts and not before else written]
    return "".join((*parts, segment.end))
