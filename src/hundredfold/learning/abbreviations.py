"""Words cut short, as hurried sheets have them: ttl, prc, clr, mtrl, verantw., beschr., cant."""

from collections.abc import Mapping
from functools import lru_cache

from hundredfold.learning.lexicon import phrases

_VOWELS = "aeiouy"
_LEAST, _MOST = 2, 8
_LEAST_STEM = 3  # letters of a word's beginning that may stand for it


def abbreviated(word: str) -> str:
    """The notion of the words that this may be short for; "" where there are none, or of several notions.

    A short form is a word's consonants after its first letter (``mtrl``), or its beginning (``verantw``).
    """
    if not _LEAST <= len(word) <= _MOST:
        return ""
    bones, stems = _short_forms()
    by_bones = bones.get(word, "") if not any(letter in _VOWELS for letter in word[1:]) else ""
    return by_bones or (stems.get(word, "") if len(word) >= _LEAST_STEM else "")


def skeleton(word: str) -> str:
    """A word's first letter and the consonants after it: ``material`` is ``mtrl``."""
    return word[:1] + "".join(letter for letter in word[1:] if letter not in _VOWELS)


@lru_cache(maxsize=1)
def _short_forms() -> tuple[Mapping[str, str], Mapping[str, str]]:
    """Skeletons and beginnings of the known words; "" for those that words of several notions share."""
    bones: dict[str, str] = {}
    stems: dict[str, str] = {}
    for phrase, notion in phrases().items():
        if len(phrase) > 1 or len(phrase[0]) <= _LEAST_STEM:
            continue
        word = phrase[0]
        forms = [(bones, skeleton(word))]
        forms += [(stems, word[:end]) for end in range(_LEAST_STEM, min(len(word) - 1, _MOST) + 1)]
        for index, form in forms:
            index[form] = notion if index.get(form, notion) == notion else ""
    return bones, stems
