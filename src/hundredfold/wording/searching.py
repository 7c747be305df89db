"""Search words chosen by gain inside a channel's limits: a knapsack whose items help each other in phrases.

A word has a gain of its own; a phrase adds its gain once all of its words are there.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from hundredfold.catalogue.channels import Channel, Counting
from hundredfold.wording.limits import size_of
from hundredfold.wording.sameness import SMALL_WORDS, kin, words_in

WORD_SHARE = 0.5  # of a phrase's gain that its words bring without it; common practice, no source
_NEVER_TYPED = frozenset(
    [
        "i",
        "my",
        "your",
        "our",
        "mine",
        "yours",
        "you",
        "we",
        "me",
        "us",
        "mein",
        "dein",
        "mon",
        "ma",
        "mes",
        "ton",
        "ta",
        "tes",
        "mi",
        "tu",
    ]
)
GAP = 0.001  # of the best gain that a choice may miss
_HAIR = 1e-6


@dataclass(frozen=True)
class SearchRoom:
    """What a channel takes: words within sizes and number, or tags; 0 for no limit of that kind."""

    chars: int
    bytes: int
    words: int
    tags: int
    tag_chars: int
    counting: Counting
    extra: bool  # whether a reader of the table gets an apostrophe more before a formula

    @classmethod
    def of(cls, channel: Channel) -> "SearchRoom":
        """The room that a channel's limits leave."""
        limits = channel.limits
        guarded = channel.sheet.kind.as_read("=1") != "=1"
        sizes = (limits.search_chars, limits.search_bytes, limits.search_words, limits.tags, limits.tag_chars)
        return cls(*sizes, limits.counts, guarded)

    @property
    def any(self) -> bool:
        """Whether the channel takes search words at all."""
        return bool(self.chars or self.bytes or self.words or self.tags)

    def cost(self, word: str) -> tuple[int, int, int]:
        """What a word takes of the limits, with the space after it."""
        return _cost(word, self.counting)

    @property
    def capacity(self) -> tuple[int, int, int]:
        """The limits as the costs count, a space after the last word too; no limit is a million."""
        spare = 0 if self.extra else 1
        return (
            self.chars + spare if self.chars else 10**6,
            self.bytes + spare if self.bytes else 10**6,
            self.words or 10**6,
        )


@lru_cache(maxsize=4096)
def _cost(word: str, counting: Counting) -> tuple[int, int, int]:
    return size_of(word, counting) + 1, len(word.encode("utf-8", "surrogatepass")) + 1, 1


@dataclass(frozen=True)
class WordChoice:
    """An instance: words with gains and costs, phrases as sets of them with the gain of having all."""

    gains: tuple[float, ...]
    costs: tuple[tuple[int, int, int], ...]
    phrases: tuple[tuple[frozenset[int], float], ...]
    capacity: tuple[int, int, int]

    def value(self, chosen: Iterable[int]) -> float:
        """What a choice of words gains."""
        have = set(chosen)
        return sum(self.gains[word] for word in have) + sum(g for words, g in self.phrases if words <= have)


def best_words(choice: WordChoice) -> tuple[int, ...]:
    """The words to take, by their number, in order; within ``GAP`` of the best there is.

    Where everything fits nothing is left to choose. Else an integer program (HiGHS, through SciPy): a 0/1
    variable a word, one a phrase that is at most each of its words, and a row a limit that binds.
    """
    count = len(choice.gains)
    binding = [k for k in range(3) if sum(costs[k] for costs in choice.costs) > choice.capacity[k]]
    if not binding:
        return tuple(range(count))
    from scipy.optimize import Bounds, LinearConstraint, milp  # lazily: most listings never need it

    rows = [[float(costs[kind]) for costs in choice.costs] + [0.0] * len(choice.phrases) for kind in binding]
    upper = [float(choice.capacity[kind]) for kind in binding]
    for number, (words, _) in enumerate(choice.phrases):
        for word in sorted(words):
            row = [0.0] * (count + len(choice.phrases))
            row[count + number], row[word] = 1.0, -1.0
            rows.append(row)
            upper.append(0.0)
    # The same for every run where several choices gain alike: earlier words are worth a hair more.
    gains = [gain + _HAIR * (count - place) for place, gain in enumerate(choice.gains)]
    found = milp(
        [-gain for gain in (*gains, *(gain for _, gain in choice.phrases))],
        constraints=LinearConstraint(rows, float("-inf"), upper),
        integrality=np.array([1] * count + [0] * len(choice.phrases)),  # a phrase is 0 or 1 by itself
        bounds=Bounds(0, 1),
        options={"mip_rel_gap": GAP},
    )
    if found.x is None:  # nothing to choose always fits, so this is a solver that gave up
        raise RuntimeError(f"the search words could not be chosen: {found.message}")
    return tuple(word for word in range(count) if found.x[word] > 0.5)


def chosen_words(
    wanted: tuple[tuple[str, float], ...], space: SearchRoom, seen: str, language: str = "en"
) -> tuple[str, ...]:
    """The search words for these phrases with their gains; ``seen`` is text that the channel searches too."""
    if space.tags:
        return _tags(wanted, space, seen, language)
    told = frozenset(kin_of(seen, language))
    unsaid = tuple(one for one in wanted if not told.issuperset(_kin_in(one[0], language)))
    every = frozenset[str]().union(*(_kin_in(text, language) for text, _ in unsaid))
    return _chosen(unsaid, space, told & every, language)


@lru_cache(maxsize=2048)  # designs of one niche on one blank mostly choose among the same words
def _chosen(
    wanted: tuple[tuple[str, float], ...], space: SearchRoom, seen: frozenset[str], language: str
) -> tuple[str, ...]:
    spelt, choice = _instance(wanted, space, seen, language)
    return tuple(spelt[word] for word in best_words(choice))


@lru_cache(maxsize=4096)
def _kin_in(text: str, language: str) -> frozenset[str]:
    return frozenset(key for _, key in _pieces(text, language))


def kin_of(text: str, language: str) -> list[str]:
    """The words of a text as they are compared, in order."""
    return [kin(word, language) for word in words_in(text)]


def _instance(
    wanted: Sequence[tuple[str, float]], space: SearchRoom, seen: frozenset[str], language: str
) -> tuple[list[str], WordChoice]:
    numbers: dict[str, int] = {}
    spelt: list[str] = []
    gains: list[float] = []
    costs: list[tuple[int, int, int]] = []
    phrases: dict[frozenset[int], float] = {}
    for text, gain in wanted:
        members = set()
        alone = gain * WORD_SHARE
        for word, key in _pieces(text, language):
            if key in seen:
                continue
            number = numbers.get(key)
            if number is None:
                number = numbers[key] = len(spelt)
                spelt.append(word)
                gains.append(alone)
                costs.append(space.cost(word))
            elif alone > gains[number]:
                gains[number] = alone
            members.add(number)
        if len(members) > 1:
            group = frozenset(members)
            phrases[group] = max(phrases.get(group, 0.0), gain * (1 - WORD_SHARE))
    return spelt, WordChoice(tuple(gains), tuple(costs), tuple(phrases.items()), space.capacity)


@lru_cache(maxsize=4096)
def _pieces(text: str, language: str) -> tuple[tuple[str, str], ...]:
    """The words of a phrase that buyers type, with what they are compared by."""
    small = SMALL_WORDS.get(language, SMALL_WORDS["en"]) | _NEVER_TYPED
    typed = words_in(text.casefold().replace("’", "'"))
    words = [word for word in typed if word not in small and (len(word) > 1 or word.isdigit())]
    return tuple((word, kin(word, language)) for word in words)


def _tags(
    wanted: Sequence[tuple[str, float]], space: SearchRoom, seen: str, language: str
) -> tuple[str, ...]:
    """Whole phrases that fit a tag, the best first, each with a word that none before it has."""
    have: set[str] = set(kin_of(seen, language)) if seen else set()
    said: set[str] = set()
    chosen: list[str] = []
    fresh: list[tuple[str, float]] = []
    for text, gain in sorted(wanted, key=lambda one: -one[1]):
        tag = " ".join(text.casefold().split())
        if tag and size_of(tag, space.counting) <= space.tag_chars and tag not in said:
            said.add(tag)
            fresh.append((tag, gain))
    for again in (False, True):  # second: tags that say nothing new fill what is left
        for tag, _ in fresh:
            keys = set(kin_of(tag, language))
            if len(chosen) < space.tags and tag not in chosen and keys and (again or keys - have):
                chosen.append(tag)
                have |= keys
    return tuple(chosen)
