"""What a header says: the notions in it, the words nobody knows, and its number, unit and currency."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import islice, product

from hundredfold.learning.abbreviations import abbreviated
from hundredfold.learning.lexicon import GENERIC, longest_phrase, other_notions, phrases
from hundredfold.learning.wordlists import CURRENCIES, STOP, UNITS
from hundredfold.learning.words import split_words

_LINKS = ("", "s", "n", "en", "es", "er", "e")  # what German puts between the parts of a compound
_LEAST_PART = 3
_LEAST_LAST = 5  # letters of a compound's last part that is known where its first is not
_LAST_PARTS = frozenset(
    {"colour", "size", "material", "price", "picture", "weight", "title", "story", "artwork", "search",
     "barcode", "width", "height", "diameter", "category", "brand", "address"}
)  # fmt: skip
_BRACKETS = re.compile(r"[(\[][^)\]]*[)\]]?")
_QUALIFIER = re.compile(
    r"(?<=\w)[\s,(]+(?:wie|lt\.?|laut|gem\.|gem\u00e4\u00df|nach|according to"
    r"|as (?:in|on|per|shown|listed|seen)|per our|selon|comme|seg\u00fan|como en|secondo|come (?:da|nel|in)"
    r"|(?:from|aus|de|da|desde) (?:our|the|unsere[rm]?|der|notre|la|nuestra|nostra)"
    r" (?:list\w*|auswahl\w*|elenco))\s[^)]*\)?$",
    re.IGNORECASE,
)
_PAIR = re.compile(r"/|\b(?:or|oder|ou|o|u|and|und)\b", re.IGNORECASE)
_WHOSE = frozenset({"variant", "blank"})  # of which a partner has codes that a seller orders by
_TURNING = frozenset(
    {"gross", "net", "front", "back", "main", "other", "second", "parent", "rate", "seller", "supplier",
     "basic", "old", "file", "url", "list", "time", "gender", "age"}
)  # fmt: skip
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
def meanings_of(header: str, theirs: frozenset[str] = frozenset()) -> tuple[Meaning, ...]:
    """Every way to read a header, the likeliest first: a "visuel" is a picture or the art to print.

    What stands in brackets explains more than it names: of it count units, currencies and what turns one
    field into another. Of "size / volume" each half is a reading too. What says where a thing is taken from
    ("as on the label", "lt. Liste") says nothing; ``theirs``, the words of the partner's name, only whose.
    """
    header = _QUALIFIER.sub("", header)
    main, aside = _BRACKETS.sub(" ", header), " ".join(_BRACKETS.findall(header))
    whole = _Reader(split_words(main))
    if all(notion in GENERIC for each in whole.several for notion in each[0]):
        whole = _Reader(split_words(header))
    elif aside:
        whole.add_aside(_Reader(split_words(aside), guess=False))
    whole.drop(theirs)
    readings = list(whole.meanings())
    if _PAIR.search(main) and {"parent", "variant"} <= readings[0].known <= {"parent", "variant", "item"}:
        return (Meaning(("rowkind",)),)
    halves = main.split("/") if "://" not in main else []
    if len(halves) > 1:
        readings += [one for half in halves for one in meanings_of(half) if one.notions]
    return tuple(readings[: 2 * _READINGS])


class _Reader:
    """Takes a header's words apart; ``several`` holds for each phrase the notions it may mean."""

    def __init__(self, words: Sequence[str], guess: bool = True) -> None:
        self._guess = guess
        self.several: list[tuple[tuple[str, ...], ...]] = []
        self.unknown: list[str] = []
        self.number: int | None = None
        self.unit = self.currency = ""
        self.percent = self.guessed = False
        at = 0
        while at < len(words):
            length, notion = _phrase(words, at)
            if notion:
                others = other_notions(words[at : at + length])
                self.several.append(((notion,), *((other,) for other in others)))
            else:
                self._word(words[at])
            at += length

    def _word(self, word: str) -> None:
        if word.isdigit():
            self.number = int(word) if len(word) <= 2 and self.number is None else self.number
        elif word in CURRENCIES:
            self.currency = CURRENCIES[word]
        elif word == "percent":
            self.percent = True
        elif word in UNITS and self.several:
            self.unit = UNITS[word]
        elif word not in STOP and self._guess:
            self._strange(word)
        elif word not in STOP:
            self.unknown.append(word)

    def _strange(self, word: str) -> None:
        parts = compound(word)
        short = () if parts else abbreviated(word)
        last, rest = ("", "") if parts or short else last_part(word)
        if parts:
            self.several.append((parts,))
        elif short:
            self.several.append(tuple((notion,) for notion in short))
            self.guessed = True
        elif last:
            self.several.append(((last,),))
            self.unknown.append(rest)
        else:
            self.unknown.append(word)

    def add_aside(self, aside: "_Reader") -> None:
        """Add what the words in brackets say of the ones before them."""
        self.several += [each for each in aside.several if each[0][0] in _TURNING]
        self.unit = self.unit or aside.unit or next((UNITS[w] for w in aside.unknown if w in UNITS), "")
        self.currency = self.currency or aside.currency
        self.percent = self.percent or aside.percent

    def drop(self, theirs: frozenset[str]) -> None:
        """Take the partner's name out; a variant's or a blank's code with it is the partner's own."""
        left = [word for word in self.unknown if word not in theirs]
        if len(left) == len(self.unknown):
            return
        known = {notion for each in self.several for notion in each[0]}
        if known & _WHOSE and "code" in known:
            self.several.append((("supplier",),))
        elif "code" in known:
            return  # a number that the partner gives
        self.unknown = left

    def meanings(self) -> Iterator[Meaning]:
        """The ways to read the words, the likeliest first."""
        for one in islice(product(*self.several), _READINGS):
            yield Meaning(
                tuple(notion for part in one for notion in part), tuple(self.unknown), self.number,
                self.unit, self.currency, self.percent, self.guessed,
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


def last_part(word: str) -> tuple[str, str]:
    """The notion of a compound's last part, and its first part, which nobody knows (Tassen, Farbe)."""
    known = phrases()
    for start in range(_LEAST_PART, len(word) - _LEAST_LAST + 1):
        if known.get((word[start:],)) in _LAST_PARTS:
            return known[(word[start:],)], word[:start]
    return "", ""


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
