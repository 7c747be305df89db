"""Words cut short, as hurried sheets have them: ttl, prc, clr, mtrl, verantw., beschr., cant."""

from collections import defaultdict
from collections.abc import Mapping
from functools import lru_cache

from hundredfold.learning.lexicon import phrases

_VOWELS = "aeiouy"
_LEAST, _MOST = 2, 14
_LEAST_STEM = 3  # letters of a word's beginning that may stand for it
_MEANINGS = 3  # short for words of more notions than this says nothing


def abbreviated(word: str) -> tuple[str, ...]:
    """The notions of the words that this may be short for; () where there are none, or too many.

    A short form is a word's consonants after its first letter, or the first of them (``mtrl``, ``dscr``), or
    its beginning (``verantw``), or letters of it in their order (``catg``).
    """
    if not _LEAST <= len(word) <= _MOST or not word.isalpha():
        return ()
    bones, stems = _short_forms()
    found: tuple[str, ...] = ()
    if not any(letter in _VOWELS for letter in word[1:]):
        found = bones.get(word, ())
    if not found and len(word) >= _LEAST_STEM:
        found = stems.get(word, ())
    if not found and len(word) > _LEAST_STEM:
        found = _in_order(word)
    return found if len(found) <= _MEANINGS else ()


def skeleton(word: str) -> str:
    """A word's first letter and the consonants after it: ``material`` is ``mtrl``."""
    return word[:1] + "".join(letter for letter in word[1:] if letter not in _VOWELS)


def _in_order(word: str) -> tuple[str, ...]:
    """The notions of longer words that hold these letters in this order, the first two at their head."""
    found = []
    for (known, *rest), notion in phrases().items():
        if (
            rest
            or notion == "foreign"
            or known[:2] != word[:2]
            or not len(word) < len(known) <= 2 * len(word) + 1
        ):
            continue
        letters = iter(known)
        if all(letter in letters for letter in word) and notion not in found:
            found.append(notion)
    return tuple(found)


@lru_cache(maxsize=1)
def _short_forms() -> tuple[Mapping[str, tuple[str, ...]], Mapping[str, tuple[str, ...]]]:
    """The notions of the known words by their skeletons, and by their beginnings."""
    bones: dict[str, dict[str, None]] = defaultdict(dict)
    stems: dict[str, dict[str, None]] = defaultdict(dict)
    for phrase, notion in phrases().items():
        word = phrase[0]
        if len(phrase) > 1 or len(word) <= _LEAST_STEM or notion == "foreign":
            continue
        bone = skeleton(word)
        for end in {len(bone), *range(_LEAST_STEM, len(bone))}:
            bones[bone[:end]][notion] = None
        for end in range(_LEAST_STEM, min(len(word) - 1, _MOST) + 1):
            stems[word[:end]][notion] = None
    return (
        {form: tuple(notions) for form, notions in bones.items()},
        {form: tuple(notions) for form, notions in stems.items()},
    )
