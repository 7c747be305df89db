"""What a header says: the notions in it, the words nobody knows, and its number, unit and currency."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from hundredfold.learning.lexicon import longest_phrase, phrases
from hundredfold.learning.wordlists import CURRENCIES, STOP, UNITS
from hundredfold.learning.words import split_words

_LINKS = ("", "s", "n", "en", "es", "er", "e")  # what German puts between the parts of a compound
_LEAST_PART = 3


@dataclass(frozen=True)
class Meaning:
    """A header understood. ``number`` is that of "Image 2"; ``unit`` and ``currency`` stand in its words."""

    notions: tuple[str, ...] = ()
    unknown: tuple[str, ...] = ()
    number: int | None = None
    unit: str = ""
    currency: str = ""
    percent: bool = False

    @property
    def known(self) -> frozenset[str]:
        """The notions, each once."""
        return frozenset(self.notions)


@lru_cache(maxsize=20_000)
def meaning_of(header: str) -> Meaning:
    """Read a header; "" means nothing."""
    words = split_words(header)
    notions, unknown = [], []
    number, unit, currency, percent = None, "", "", False
    at = 0
    while at < len(words):
        length, notion = _phrase(words, at)
        word = words[at]
        if notion:
            notions.append(notion)
        elif word.isdigit():
            number = int(word) if len(word) <= 2 and number is None else number
        elif word in CURRENCIES:
            currency = CURRENCIES[word]
        elif word == "percent":
            percent = True
        elif word in UNITS and notions:
            unit = UNITS[word]
        elif word not in STOP:
            parts = compound(word)
            notions += parts
            unknown += [] if parts else [word]
        at += length
    return Meaning(tuple(notions), tuple(unknown), number, unit, currency, percent)


def _phrase(words: Sequence[str], at: int) -> tuple[int, str]:
    known = phrases()
    for length in range(min(longest_phrase(), len(words) - at), 0, -1):
        notion = known.get(tuple(words[at : at + length]))
        if notion and not (length == 1 and words[at] in UNITS and at):
            return length, notion
    return 1, ""


@lru_cache(maxsize=20_000)
def compound(word: str) -> tuple[str, ...]:
    """The notions of a German compound's parts (``verkaufspreis``: sell, price); () where there are none."""
    known = phrases()
    if (word,) in known:
        return (known[(word,)],)
    for end in range(len(word) - _LEAST_PART, _LEAST_PART - 1, -1):  # the longest first part first
        first = next((known[(word[: end - len(link)],)] for link in _LINKS
                      if word[:end].endswith(link) and (word[: end - len(link)],) in known), "")  # fmt: skip
        if first:
            rest = compound(word[end:])
            if rest:
                return (first, *rest)
    return _plural(word)


def _plural(word: str) -> tuple[str, ...]:
    known = phrases()
    for ending in ("s", "es", "n", "en", "e"):
        stem = word.removesuffix(ending)
        if stem != word and len(stem) >= _LEAST_PART and (stem,) in known:
            return (known[(stem,)],)
    return ()
