"""When two words are one to a reader: case, plurals, close kin ("beekeeper", "beekeeping") do not count."""

import re
from functools import lru_cache

from hundredfold.wording.clean import one_line

# Words too small to count as said twice; each language's articles, prepositions and conjunctions.
SMALL_WORDS = {
    "en": frozenset(
        [
            "a",
            "an",
            "and",
            "as",
            "at",
            "but",
            "by",
            "for",
            "from",
            "in",
            "into",
            "nor",
            "of",
            "off",
            "on",
            "or",
            "over",
            "per",
            "so",
            "than",
            "the",
            "to",
            "up",
            "via",
            "with",
            "yet",
            "is",
            "it",
        ]
    ),
    "de": frozenset(
        [
            "auf",
            "aus",
            "bei",
            "das",
            "dem",
            "den",
            "der",
            "des",
            "die",
            "durch",
            "ein",
            "eine",
            "einem",
            "einen",
            "einer",
            "für",
            "im",
            "in",
            "mit",
            "nach",
            "oder",
            "und",
            "vom",
            "von",
            "zu",
            "zum",
            "zur",
            "alle",
            "wer",
        ]
    ),
    "fr": frozenset(
        [
            "à",
            "au",
            "aux",
            "avec",
            "ce",
            "ces",
            "cette",
            "d",
            "de",
            "des",
            "du",
            "en",
            "et",
            "l",
            "la",
            "le",
            "les",
            "ou",
            "par",
            "pour",
            "qui",
            "s",
            "sans",
            "sur",
            "un",
            "une",
            "d'un",
            "d'une",
        ]
    ),
    "es": frozenset(
        [
            "a",
            "al",
            "con",
            "de",
            "del",
            "el",
            "en",
            "la",
            "las",
            "lo",
            "los",
            "o",
            "para",
            "por",
            "quien",
            "quienes",
            "que",
            "se",
            "sin",
            "su",
            "un",
            "una",
            "y",
            "e",
        ]
    ),
}
_WORD = re.compile(r"[^\W_]+(?:['’][^\W_]+)*")
_ENDINGS = {
    "en": ("ings", "ing", "ers", "er", "ies", "es", "s"),
    "de": ("innen", "in", "en", "er", "es", "e", "n", "s"),
    "fr": ("trices", "trice", "teurs", "teur", "euses", "euse", "eurs", "eur", "es", "s", "e", "x"),
    "es": ("oras", "ora", "ores", "or", "as", "os", "es", "a", "o", "s"),
}
OPENING = 4  # words
_LOOKED_AT = 8
_AROUND = "“”„«»‘’\"'.,;:!?…()–—-&"
_KEPT = 6  # letters by which long words count as kin


def words_in(text: str) -> list[str]:
    """The words of a text, as written."""
    return _WORD.findall(text)


@lru_cache(maxsize=8192)
def kin(word: str, language: str) -> str:
    """What a word is compared by: no case, no possessive, no ending, at most six letters."""
    bare = word.casefold().replace("’", "'")
    bare = bare.removesuffix("'s").removesuffix("'")
    head, apostrophe, rest = bare.partition("'")
    if apostrophe and len(head) <= 2 and rest:
        bare = rest  # l'abeille, d'anniversaire
    for ending in _ENDINGS.get(language, _ENDINGS["en"]):
        if bare.endswith(ending) and len(bare) - len(ending) >= 3 and not bare.endswith("ss"):
            bare = bare.removesuffix(ending)
            break
    if len(bare) > 3 and bare[-1] == bare[-2] and bare[-1] not in "aeiou":
        bare = bare[:-1]  # swimmer, swimming, swim
    return bare[:_KEPT]


@lru_cache(maxsize=4096)
def said(text: str, language: str = "en") -> frozenset[str]:
    """The words of a text by what they are compared by, small words left out."""
    small = SMALL_WORDS.get(language, SMALL_WORDS["en"])
    found = (word for word in words_in(one_line(text)) if word.casefold() not in small)
    return frozenset(kin(word, language) for word in found)


@lru_cache(maxsize=4096)
def opening(text: str) -> tuple[str, ...]:
    """The first four words of a text, without case: what a page of results shows of it.

    Words are parted by spaces, as a reader counts them: "T-shirt" is one.
    """
    begins: list[str] = []
    for word in text.split(None, _LOOKED_AT)[:_LOOKED_AT]:
        bare = word.strip(_AROUND)
        if bare.isalnum() or any(map(str.isalnum, bare)):
            begins.append(bare.casefold())
            if len(begins) == OPENING:
                break
    return tuple(begins)
