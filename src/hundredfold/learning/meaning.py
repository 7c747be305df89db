"""What a header says: the notions in it, the words nobody knows, and its number, unit and currency."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import islice, product

from hundredfold.learning.abbreviations import abbreviated
from hundredfold.learning.lexicon import longest_phrase, other_notions, phrases
from hundredfold.learning.wordlists import CURRENCIES, STOP, UNITS
from hundredfold.learning.words import split_words

_LINKS = ("", "s", "n", "en", "es", "er", "e")  # what German puts between the parts of a compound
_LEAST_PART = 3
_READINGS = 6  # of one header, where its words mean several things
_ENDINGS = (
    ("s", ""), ("es", ""), ("n", ""), ("en", ""), ("e", ""), ("er", ""), ("x", ""), ("i", "o"), ("i", "e"),
    ("e", "a"), ("he", "a"),
)  # fmt: skip


@dataclass(frozen=True)
class Meaning:
    """A header understood. ``number`` is that of "Image 2"; ``unit`` and ``currency`` stand in its words.

    ``guessed`` says that a word was taken for the short form of another.
    """

    notions: tuple[str, ...] = ()
    unknown: tuple[str, ...] = ()
    number: int | None = None
    unit: str = ""
    currency: str = ""
    percent: bool = False
    guessed: bool = False

    @property
    def known(self) -> frozenset[str]:
        """The notions, each once."""
        return frozenset(self.notions)


def meaning_of(header: str) -> Meaning:
    """Read a header in its likeliest way; "" means nothing."""
    return meanings_of(header)[0]


@lru_cache(maxsize=20_000)
def meanings_of(header: str) -> tuple[Meaning, ...]:
    """Every way to read a header, the likeliest first: a "visuel" is a picture or the art to print."""
    words = split_words(header)
    several: list[tuple[tuple[str, ...], ...]] = []
    unknown: list[str] = []
    number, unit, currency, percent, guessed = None, "", "", False, False
    at = 0
    while at < len(words):
        length, notion = _phrase(words, at)
        word = words[at]
        if notion:
            several.append(((notion,), *((other,) for other in other_notions(words[at : at + length]))))
        elif word.isdigit():
            number = int(word) if len(word) <= 2 and number is None else number
        elif word in CURRENCIES:
            currency = CURRENCIES[word]
        elif word == "percent":
            percent = True
        elif word in UNITS and several:
            unit = UNITS[word]
        elif word not in STOP:
            parts = compound(word)
            if not parts and (short := abbreviated(word)):
                parts, guessed = (short,), True
            several += [(parts,)] if parts else []
            unknown += [] if parts else [word]
        at += length
    readings = islice(product(*several), _READINGS)
    return tuple(
        Meaning(tuple(n for part in one for n in part), tuple(unknown), number, unit, currency, percent, guessed)
        for one in readings
    )  # fmt: skip


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
    if word.endswith("nr") and len(word) > _LEAST_PART + 2:
        front = compound(word.removesuffix("nr"))
        return (*front, "code") if front else ()
    for end in range(len(word) - _LEAST_PART, _LEAST_PART - 1, -1):  # the longest first part first
        first = _first_part(word[:end])
        if first:
            rest = compound(word[end:])
            if rest:
                return (first, *rest)
    return _plural(word)


def _first_part(part: str) -> str:
    """The notion of a compound's first part, which may have gained a link or lost an e (Farbe: Farbton)."""
    known = phrases()
    stems = [part.removesuffix(link) for link in _LINKS if part.endswith(link)] + [part + "e"]
    return next((known[(stem,)] for stem in stems if len(stem) >= _LEAST_PART and (stem,) in known), "")


def _plural(word: str) -> tuple[str, ...]:
    known = phrases()
    for ending, singular in _ENDINGS:
        stem = word.removesuffix(ending) + singular
        if word.endswith(ending) and len(stem) >= _LEAST_PART and (stem,) in known:
            return (known[(stem,)],)
    return ()
