"""Titles: the first of a design's shapes that fits and that no other listing of the channel begins like."""

import hashlib
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import partial
from itertools import chain

from hundredfold.wording.sameness import OPENING, opening
from hundredfold.wording.shapes import Head, Phrase, Title, head_of, heads_of, render, whole_of

# For titles with less room than any shape needs, in every language; "brief" is part of what the art says.
NARROW = (
    "{says} {short}",
    "{quoted} {short}",
    "{brief} {short}",
    "{says} | {measure} | {gift}",
    "{brief}",
    "{short}",
)


def turn_of(*names: str) -> int:
    """A number that is always the same for these names, and unlike for others: who comes first in a list.

    It has 64 bits, so that choices by its different parts do not go together.
    """
    told = "\x1f".join(names).encode("utf-8", "surrogatepass")
    return int.from_bytes(hashlib.blake2b(told, digest_size=8).digest())


_ART_FIRST = ("{says}", "{quoted}", "{last}", "{first}")
_PATIENCE = 12  # titles that say less than wanted, before the first of them is taken
_ROUNDS = 8  # through a book's shapes, each with other phrases, before a title may begin like another


@dataclass(frozen=True)
class Draft:
    """How a title begins, and how it goes on; ``whole`` gives None where it can not."""

    head: str
    whole: Callable[[], Title | None]


class Titles:
    """The titles of one channel, given one after another; none twice, few that begin alike."""

    def __init__(self) -> None:
        self._taken: set[str] = set()
        self._openings: set[tuple[str, ...]] = set()

    def give(
        self,
        drafts: Iterable[Draft],
        narrow: Iterator[Title],
        fits: Callable[[str], bool],
        wanted: frozenset[str] = frozenset(),
    ) -> Title:
        """The first title that begins as none before; else the first that is not taken; else one numbered.

        One that fills none of the ``wanted`` slots waits for one that does. ``narrow`` titles say less, so
        they come in only where no whole one is free.
        """
        first: Title | None = None
        lesser: Title | None = None
        alike: list[Draft] = []
        waited = 0
        for draft in drafts:
            begins = opening(draft.head)
            if len(begins) == OPENING and begins in self._openings:
                alike.append(draft)
                continue
            title = draft.whole()
            if title is None:
                continue
            if opening(title.text) not in self._openings:
                if not wanted or not wanted.isdisjoint(title.slots):
                    return self._given(title)
                lesser = lesser or title
                waited += 1
                if waited == _PATIENCE:
                    break
            alike.append(Draft(title.text, partial(_itself, title)))
        if lesser is not None:
            return self._given(lesser)
        for title in chain(filter(None, (draft.whole() for draft in alike)), narrow):
            first = first or title
            if title.text.casefold() not in self._taken:
                return self._given(title)
        if first is None:
            raise AssertionError("the narrowest title always fits")
        return self._given(self._numbered(first, fits))

    def _given(self, title: Title) -> Title:
        self._taken.add(title.text.casefold())
        self._openings.add(opening(title.text))
        return title

    def _numbered(self, title: Title, fits: Callable[[str], bool]) -> Title:
        """Two designs of the same words on the same blank: the later one is told apart by a number."""
        words = title.text.split(" ")
        for number in range(2, len(self._taken) + 3):
            for kept in range(len(words), 0, -1):
                text = f"{' '.join(words[:kept]).rstrip(' ,;:-–—|&')} {number}"
                if text.casefold() not in self._taken and fits(text):
                    return Title(text, title.phrases)
        return title


def drafts_of(
    shapes: Sequence[str],
    slots: Mapping[str, Sequence[Phrase]],
    fits: Callable[[str], bool],
    refusal: Callable[[str], str],
    turn: int,
) -> Iterator[Draft]:
    """Titles in the order this design prefers: shapes in turn, each with its phrases in turn."""
    seen: set[tuple[str, str]] = set()
    count = len(shapes)
    rounds = {shape: heads_of(shape, slots) for shape in shapes}
    for again in range(_ROUNDS):
        for step in range(count):
            shape = shapes[(turn + step) % count]
            if again >= rounds[shape]:
                continue
            phrase = turn // count + step + again
            head = head_of(shape, slots, fits, phrase)
            if head is not None and (shape, head.text) not in seen:
                seen.add((shape, head.text))
                yield Draft(head.text, partial(_whole, shape, head, slots, fits, refusal, phrase))


def _whole(
    shape: str,
    head: Head,
    slots: Mapping[str, Sequence[Phrase]],
    fits: Callable[[str], bool],
    refusal: Callable[[str], str],
    turn: int,
) -> Title | None:
    title = whole_of(shape, head, slots, fits, turn)
    return None if title is None or refusal(title.text) else title


def _itself(title: Title) -> Title:
    return title


def in_order(shapes: Sequence[str], art_first: bool) -> tuple[tuple[str, ...], ...]:
    """Shapes that begin with the art's own words and the others, each part to be taken in turn."""
    leading = tuple(shape for shape in shapes if shape.startswith(_ART_FIRST))
    others = tuple(shape for shape in shapes if shape not in leading)
    return tuple(filter(None, (leading, others) if art_first else (others, leading)))


def narrowed(
    slots: Mapping[str, Sequence[Phrase]],
    brief: Callable[[], Sequence[Phrase]],
    fits: Callable[[str], bool],
    least: str,
) -> Iterator[Title]:
    """Titles for little room, ever shorter; ``brief`` are parts of the art's words, ``least`` the last."""
    for shape in NARROW:
        if "{brief}" in shape:
            yield from _narrowed(shape, slots, brief(), fits)
        elif (title := render(shape, slots, fits, 0)) is not None:
            yield title
    yield Title(least, ())


def _narrowed(
    shape: str,
    slots: Mapping[str, Sequence[Phrase]],
    brief: Sequence[Phrase],
    fits: Callable[[str], bool],
) -> Iterator[Title]:
    for phrase in brief:
        title = render(shape, {**slots, "brief": (phrase,)}, fits, 0)
        if title is not None:
            yield title
