"""Finds which known thing a text speaks of: by letters standing together, or by words."""

import re
import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass

_SMALL = frozenset(
    ("a", "an", "and", "as", "at", "by", "for", "from", "in", "of", "on", "or", "so", "the", "to", "with")
)
MIN_LETTERS = 4  # shorter names stand in SKUs by chance (our choice)


@dataclass(frozen=True)
class Known:
    """A thing and the names or words it is known by."""

    id: str
    names: tuple[str, ...]


def words_of(text: str) -> tuple[str, ...]:
    """The text's telling words, each once: folded, without accents and plural s, little words left out."""
    flat = unicodedata.normalize("NFKD", text).casefold()
    flat = "".join(letter for letter in flat if not unicodedata.combining(letter)).replace("'s", "s")
    words = dict.fromkeys(_stem(word) for word in re.findall(r"[^\W_]+", flat))
    return tuple(word for word in words if word not in _SMALL)


def best_by_letters(text: str, known: Iterable[Known]) -> list[str]:
    """Ids whose longest name stands in the text when only letters and digits count; the longest win.

    Short names count where they stand alone between signs.
    """
    letters = _letters(text)
    alone = {_letters(part) for part in re.split(r"[\W_]+", text)}
    found: dict[str, int] = {}
    for thing in known:
        for name in map(_letters, thing.names):
            if (len(name) >= MIN_LETTERS and name in letters) or (len(name) > 1 and name in alone):
                found[thing.id] = max(found.get(thing.id, 0), len(name))
    longest = max(found.values(), default=0)
    return sorted(thing for thing, length in found.items() if length == longest)


def best_by_words(text: str, known: Iterable[Known]) -> list[str]:
    """Ids all of whose words are in the text, those with most words; one short word alone is too little."""
    said = set(words_of(text))
    found: dict[str, int] = {}
    for thing in known:
        words = {_stem(word) for word in thing.names}
        telling = len(words) > 1 or any(len(word) > MIN_LETTERS for word in words)
        if words and telling and words <= said:
            found[thing.id] = len(words)
    most = max(found.values(), default=0)
    return sorted(thing for thing, count in found.items() if count == most)


def _stem(word: str) -> str:
    return word[:-1] if len(word) > 3 and word.endswith("s") and not word.endswith("ss") else word


def _letters(text: str) -> str:
    flat = unicodedata.normalize("NFKD", text).casefold()
    return re.sub(r"[^a-z0-9]", "", flat)
