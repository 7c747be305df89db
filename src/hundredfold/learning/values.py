"""What values say of a column: a barcode, a currency, a picture's file, the words for new and end."""

import re
from collections.abc import Callable, Sequence
from functools import cache

from hundredfold.learning.wordlists import CHOICES, CURRENCIES
from hundredfold.learning.words import fold, split_words

Test = Callable[[str], bool]
_MEDIA = re.compile(r"(https?://\S+|\S+\.(jpe?g|png|webp|gif|tiff?))$", re.IGNORECASE)
_PRINT = re.compile(r"\S+\.(png|pdf|svg|ai|eps|tiff?|psd|jpe?g)$", re.IGNORECASE)
_MONEY = re.compile(r"[£€$]?\s*\d{1,6}([.,]\d{1,2})?\s*([£€$]|[A-Z]{3})?$")
_NUMBER = re.compile(r"\d+([.,]\d+)?\s*(%|g|kg|oz|lbs?|mm|cm|in|ml|l|px|dpi|gsm|g/m2)?\.?$", re.IGNORECASE)
_DATE = re.compile(r"\d{4}-\d\d-\d\d|\d{1,2}[./]\d{1,2}[./]\d{2,4}")
_SIZE = re.compile(r"(\d?x{0,3}[sl]|m|one size|\d{1,2}([.,]\d)?\s?(oz|fl oz))", re.IGNORECASE)
_HEX = re.compile(r"#?[0-9a-fA-F]{6}$")
_COUNTRY = re.compile(r"[A-Z]{2}$")
_LANGUAGE = re.compile(r"(en|de|fr|es|it|nl|pl|sv|da|pt)([-_][A-Z]{2})?$")


@cache
def _choice_words(kind: str) -> frozenset[str]:
    return frozenset(CHOICES[kind].split())


def is_barcode(text: str) -> bool:
    """A GTIN of 8, 12, 13 or 14 digits with the right check digit (GS1 General Specifications, 7.9)."""
    if not re.fullmatch(r"\d{8}|\d{12,14}", text):
        return False
    digits = [int(digit) for digit in reversed(text)]
    return sum(digit * (3 if place % 2 else 1) for place, digit in enumerate(digits)) % 10 == 0


_PAIRS = tuple(map(frozenset, ("pv", "pc", "ou", "vk", "hu", "mv", "pd", "ph", "pf")))  # parent, variant


def choices_kind(allowed: Sequence[str]) -> str:
    """The kind whose words most of the allowed values hold (two thirds, two at least); "" for none."""
    if frozenset(value.strip().casefold() for value in allowed) in _PAIRS:
        return "row kind"
    best, share = "", 0.66
    for kind, words in ((kind, _choice_words(kind)) for kind in CHOICES):
        hits = sum(any(word in words for word in split_words(value)) for value in allowed)
        if hits >= 2 and hits / len(allowed) > share:
            best, share = kind, hits / len(allowed)
    if not best and len(allowed) >= 2:
        if all(value.strip().casefold() in CURRENCIES for value in allowed):
            return "currency"
        if all(_COUNTRY.match(value.strip()) for value in allowed):
            return "country"
    return best


def fits(looks: str, values: Sequence[str]) -> float:
    """How well example values fit a kind: 1 yes, 0 nothing known, -1 against it."""
    values = [value.strip() for value in values if value.strip()][:20]
    if not values:
        return 0.0
    test = _TESTS.get(looks)
    if test is None:
        return 0.0
    against, share = test[1], sum(map(test[0], values)) / len(values)
    return 1.0 if share >= 0.8 else (-1.0 if against and share <= 0.2 else 0.0)


def _spoken(text: str) -> bool:
    """Whether a value is words rather than a code: Ceramic mug 325 ml, not MUG-11 or 4711 B."""
    words = text.split()
    return all(word.strip("(),.&/").isalpha() for word in words[:2]) and any(map(str.islower, text))


def _one_of(kind: str) -> tuple[Test, bool]:
    return (lambda text: any(word in _choice_words(kind) for word in split_words(text))), False


# Looks -> whether a value fits, and whether values that do not speak against the field.
_TESTS: dict[str, tuple[Test, bool]] = {
    "barcode": (is_barcode, False),
    "customs": (lambda text: bool(re.fullmatch(r"[\d .]{6,14}", text)), True),
    "country": (lambda text: bool(_COUNTRY.match(text)) or text.replace(" ", "").isalpha(), True),
    "currency": (lambda text: text.casefold() in CURRENCIES, True),
    "money": (lambda text: bool(_MONEY.match(text)), True),
    "measure": (lambda text: bool(_NUMBER.match(text)), True),
    "number": (lambda text: bool(_NUMBER.match(text)), True),
    "stock": (lambda text: bool(re.match(r"0|[2-9]\+?$|\d{2,}\+?$|[a-z ]{2,}$", fold(text))), False),
    "date": (lambda text: bool(_DATE.match(text)), True),
    "hex": (lambda text: bool(_HEX.match(text)), True),
    "language": (lambda text: bool(_LANGUAGE.match(text)), False),
    "picture": (lambda text: all(map(_MEDIA.match, filter(None, re.split(r"[;,|\s]+", text)))), True),
    "file": (lambda text: all(map(_PRINT.match, filter(None, re.split(r"[;,|\s]+", text)))), False),
    "story": (lambda text: len(text) >= 40, False),
    "address": (lambda text: bool(_MEDIA.match(text)), False),
    "day": (lambda text: bool(_DATE.fullmatch(text)), False),
    "sizes": (lambda text: bool(_SIZE.fullmatch(text)), False),
    "title": (lambda text: 4 <= len(text) <= 250 and not (_MONEY.match(text) or _MEDIA.match(text)), True),
    "code": (lambda text: len(text) <= 60 and not _spoken(text) and not _MEDIA.match(text), True),
    "name": (_spoken, False),
    "words": (lambda text: not _MONEY.match(text), False),
    **{kind: _one_of(kind) for kind in CHOICES if kind != "yes"},
}  # fmt: skip

# Kinds that values show whatever the heading says, and the field each is then taken for, unsure.
TELLING = {
    "barcode": "barcode",
    "address": "picture",
    "currency": "currency",
    "day": "date",
    "language": "language",
    "sizes": "size",
    "colour": "colour",
    "process": "process",
    "gender": "gender",
}
