"""What a heading of a report says: its notions, and how well a field's ways cover them."""

from functools import lru_cache

from hundredfold.learning.fields import Field, Way
from hundredfold.learning.wordlists import CURRENCIES, STOP
from hundredfold.learning.words import split_words
from hundredfold.results.fieldwords import NOTIONS

_LINKS = ("", "s", "n", "en", "es", "er", "e")  # what German puts between the parts of a compound
_LEAST_PART = 3
_UNKNOWN, _GENERIC = 0.7, 0.2
# Notions that say little by themselves.
_WEAK = frozenset(
    {"code", "amount", "item", "gross", "order", "cost", "seller", "total", "transaction", "sale"}
)


@lru_cache(maxsize=1)
def _phrases() -> dict[tuple[str, ...], str]:
    found: dict[tuple[str, ...], str] = {}
    for line in NOTIONS.strip().splitlines():
        notion, _, words = line.partition(":")
        for phrase in words.split(","):
            found.setdefault(split_words(phrase), notion)
    found.pop((), None)
    return found


@lru_cache(maxsize=1)
def _longest() -> int:
    return max(map(len, _phrases()))


@lru_cache(maxsize=20_000)
def said_by(heading: str) -> tuple[tuple[str, ...], int, str]:
    """The notions of a heading, how many of its words nobody knows, and the currency it names."""
    words = split_words(heading)
    notions: list[str] = []
    unknown, currency, at = 0, "", 0
    while at < len(words):
        length, notion = _phrase(words, at)
        word = words[at]
        if notion:
            notions.append(notion)
        elif word in CURRENCIES:
            currency = CURRENCIES[word]
        elif word not in STOP and not word.isdigit():
            parts = _compound(word)
            notions += parts
            unknown += not parts
        at += length
    return tuple(notions), unknown, currency


def _phrase(words: tuple[str, ...], at: int) -> tuple[int, str]:
    known = _phrases()
    for length in range(min(_longest(), len(words) - at), 0, -1):
        if notion := known.get(words[at : at + length]):
            return length, notion
    return 1, ""


@lru_cache(maxsize=20_000)
def _compound(word: str) -> tuple[str, ...]:
    known = _phrases()
    if (word,) in known:
        return (known[word,],)
    for end in range(len(word) - _LEAST_PART, _LEAST_PART - 1, -1):
        first = next((known[word[: end - len(link)],] for link in _LINKS
                      if word[:end].endswith(link) and (word[: end - len(link)],) in known), "")  # fmt: skip
        if first and (rest := _compound(word[end:])):
            return (first, *rest)
    for ending in ("s", "es", "n", "en", "e"):
        stem = word.removesuffix(ending)
        if stem != word and len(stem) >= _LEAST_PART and (stem,) in known:
            return (known[stem,],)
    return ()


def covers(field: Field, heading: str) -> float:
    """How well the heading says the field, 0 to 1."""
    notions, unknown, _ = said_by(heading)
    known = frozenset(notions)
    return max((_covered(way, known, unknown) for way in field.ways), default=0.0) if known else 0.0


def _covered(way: Way, known: frozenset[str], unknown: int) -> float:
    if not way.notions <= known:
        return 0.0
    hit = sum(_GENERIC if notion in _WEAK and len(way.notions) > 1 else 1.0 for notion in way.notions)
    miss = sum(_GENERIC * 1.5 if notion in _WEAK else 1.0 for notion in known - way.notions)
    return way.trust * hit / (hit + miss + _UNKNOWN * unknown)
