"""Letter case by language.

The special cases are Unicode's own (SpecialCasing.txt and CLDR's transforms for Turkish, Azeri, Greek and
Dutch); everything else is Python's full case mapping.
"""

import re
import unicodedata

from uniseg.wordbreak import words

CASES = ("upper", "lower", "title", "sentence")

# English words that stay small inside a title; common practice, no single source.
_SMALL_ENGLISH = frozenset(
    {
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
    }
    | {"per", "so", "the", "to", "up", "via", "with", "yet"}
)
_DOTTED = ("tr", "az")


def apply_case(text: str, case: str, language: str) -> str:
    """``text`` in upper, lower, title or sentence case, by the rules of ``language`` (a BCP 47 tag)."""
    tongue = language.split("-")[0].lower()
    if case == "upper":
        return _upper(text, tongue)
    if case == "lower":
        return _lower(text, tongue)
    if case == "title":
        return _title(text, tongue)
    if case == "sentence":
        return _capital(text, tongue)
    return text


def _upper(text: str, tongue: str) -> str:
    if tongue in _DOTTED:
        text = text.replace("i", "\u0130")
    # Greek capitals drop the accent, not the diaeresis, in whatever language the layout is.
    if tongue == "el" or any("\u0370" <= char <= "\u03ff" for char in text):
        apart = unicodedata.normalize("NFD", text)
        bare = re.sub("(?<=[\u0370-\u03ff\u0308])[\u0301\u0300\u0342]", "", apart)
        text = unicodedata.normalize("NFC", bare)
    return text.upper()


def _lower(text: str, tongue: str) -> str:
    if tongue in _DOTTED:
        text = text.replace("I", "\u0131").replace("\u0130", "i")
    return text.lower()


def _capital(word: str, tongue: str) -> str:
    """The first letter upper case, the rest as it is: names inside keep their capitals."""
    for index, char in enumerate(word):
        if char.isalpha():
            take = 2 if tongue == "nl" and word[index : index + 2].lower() == "ij" else 1
            head = word[index : index + take]
            raised = _upper(head, tongue) if tongue in _DOTTED or take == 2 else head.title()
            return word[:index] + raised + word[index + take :]
    return word


def _title(text: str, tongue: str) -> str:
    pieces = list(words(text))
    letters = [i for i, piece in enumerate(pieces) if any(c.isalpha() for c in piece)]
    for order, index in enumerate(letters):
        piece = pieces[index]
        edge = order in (0, len(letters) - 1)
        if tongue == "en" and not edge and piece.lower() in _SMALL_ENGLISH:
            pieces[index] = piece.lower()
        else:
            pieces[index] = _capital(piece, tongue)
    return "".join(pieces)
