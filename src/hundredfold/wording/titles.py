"""Titles: the first of a design's shapes that fits and that no other listing of the channel begins like."""

import zlib
from collections.abc import Callable, Iterator, Mapping, Sequence

from hundredfold.wording.sameness import opening
from hundredfold.wording.shapes import Phrase, Title, render

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
    """A number that is always the same for these names, and unlike for others: who comes first in a list."""
    return zlib.crc32("\x1f".join(names).encode("utf-8", "surrogatepass"))


_ROUNDS = 8  # through a book's shapes, each with other phrases, before a title may begin like another


class Titles:
    """The titles of one channel, given one after another; none twice, few that begin alike."""

    def __init__(self) -> None:
        self._taken: set[str] = set()
        self._openings: set[tuple[str, ...]] = set()

    def give(self, whole: Iterator[Title], narrow: Iterator[Title], fits: Callable[[str], bool]) -> Title:
        """The first title that begins as none before; else the first that is not taken; else one numbered.

        ``narrow`` titles say less, so they come in only where no whole one is free.
        """
        free: Title | None = None
        first: Title | None = None
        for title in whole:
            first = first or title
            if title.text.casefold() in self._taken:
                continue
            free = free or title
            if opening(title.text) not in self._openings:
                free = title
                break
        if free is None:
            for title in narrow:
                first = first or title
                if title.text.casefold() not in self._taken:
                    free = title
                    break
        if first is None:
            raise AssertionError("the narrowest title always fits")
        chosen = free or self._numbered(first, fits)
        self._taken.add(chosen.text.casefold())
        self._openings.add(opening(chosen.text))
        return chosen

    def _numbered(self, title: Title, fits: Callable[[str], bool]) -> Title:
        """Two designs of the same words on the same blank: the later one is told apart by a number."""
        words = title.text.split(" ")
        for number in range(2, len(self._taken) + 3):
            for kept in range(len(words), 0, -1):
                text = f"{' '.join(words[:kept]).rstrip(' ,;:-–—|&')} {number}"
                if text.casefold() not in self._taken and fits(text):
                    return Title(text, title.phrases)
        return title


def candidates(
    shapes: Sequence[str],
    slots: Mapping[str, Sequence[Phrase]],
    fits: Callable[[str], bool],
    refusal: Callable[[str], str],
    turn: int,
) -> Iterator[Title]:
    """Titles that fit, in the order this design prefers: shapes in turn, each with its phrases in turn."""
    seen: set[str] = set()
    count = len(shapes)
    for again in range(_ROUNDS):
        for step in range(count):
            title = render(shapes[(turn + step) % count], slots, fits, turn // count + step + again)
            if title is not None and title.text not in seen and not refusal(title.text):
                seen.add(title.text)
                yield title


def narrowed(
    slots: Mapping[str, Sequence[Phrase]], fits: Callable[[str], bool], least: str
) -> Iterator[Title]:
    """Titles for little room, ever shorter; ``least`` is the last."""
    for shape in NARROW:
        yield from _narrowed(shape, slots, fits)
    yield Title(least, ())


def _narrowed(
    shape: str, slots: Mapping[str, Sequence[Phrase]], fits: Callable[[str], bool]
) -> Iterator[Title]:
    if "{brief}" not in shape:
        title = render(shape, slots, fits, 0)
        if title is not None:
            yield title
        return
    for phrase in slots.get("brief", ()):
        title = render(shape, {**slots, "brief": (phrase,)}, fits, 0)
        if title is not None:
            yield title
