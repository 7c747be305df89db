"""Where a word may be broken with a hyphen: the patterns of its language, which pyphen carries.

The places are written into the text as soft hyphens (U+00AD), which UAX 14 lets a line end after and which
show only there. A soft hyphen that stands in a word already is the seller's own choice: that word keeps its
own places and gets no others.
"""

import re
from functools import lru_cache

import pyphen

SOFT = "\u00ad"
_WORD = re.compile(r"[^\W\d_]+(?:\u00ad[^\W\d_]+)*")
_SHORTEST = 6  # letters; a shorter word is not worth breaking; common practice, no source
_LEFT, _RIGHT = 2, 3  # letters that stay before and after at least, as for English in TeX's own patterns


def has_patterns(language: str) -> bool:
    """Whether there are patterns for a language, or for the language it is a variety of."""
    return _dictionary(language) is not None


def hyphenated(text: str, language: str) -> str:
    """The text with soft hyphens where its words may be broken; as it is where there are no patterns."""
    dictionary = _dictionary(language)
    if dictionary is None:
        return text
    return _WORD.sub(lambda found: _softened(found.group(), dictionary), text)


def _softened(word: str, dictionary: pyphen.Pyphen) -> str:
    if len(word) < _SHORTEST or SOFT in word:
        return word
    # A place at which the spelling would change, as in some older orthographies, is left out.
    places = [place for place in dictionary.positions(word) if getattr(place, "data", None) is None]
    starts = [0, *(int(place) for place in places)]
    return SOFT.join(word[a:b] for a, b in zip(starts, [*starts[1:], len(word)], strict=True))


@lru_cache(maxsize=32)
def _dictionary(language: str) -> pyphen.Pyphen | None:
    known = pyphen.language_fallback(language.replace("-", "_"))
    return None if known is None else pyphen.Pyphen(lang=known, left=_LEFT, right=_RIGHT)
