"""English for slots: the article before a word, plurals, and counts. Lists are joined by language (CLDR).

Articles and plurals come from the inflect library; the numeral cases it gets wrong are decided here.
"""

import re
from functools import lru_cache

from babel import Locale, UnknownLocaleError
from babel.lists import format_list

# Spoken letter by letter with a vowel first, though they look like words.
_AN_WORDS = frozenset({"sos", "fm", "hgv", "nhs", "rspb", "mp"})
# British usage speaks the h.
_AMERICAN_AN = ("herb",)
_UNCOUNTED = frozenset({"honey", "tea", "compost", "music", "rhubarb", "garlic", "beeswax", "bunting"})
_NUMBER = re.compile(r"[0-9][0-9,]*(?:\.[0-9]+)?")


@lru_cache(maxsize=1)
def _engine():  # type: ignore[no-untyped-def]
    # Loaded on first use: its import alone takes longer than setting a design.
    import inflect

    return inflect.engine()


def article(text: str, language: str = "en") -> str:
    """The article for what follows, by its sound: an 8, an 11, an 18, an 80; a 1, a 100, a 110, a unicorn."""
    first = text.split()[0] if text.split() else ""
    bare = first.lstrip("\"'“‘(*").strip(".,;:!?)\"'”’")
    found = _NUMBER.match(bare)
    if found:
        return "an" if _number_starts_with_vowel(found.group()) else "a"
    if bare.lower() in _AN_WORDS:
        return "an"
    if language.lower() == "en-us" and bare.lower().startswith(_AMERICAN_AN):
        return "an"
    if not bare:
        return "a"
    return str(_engine().a(bare)).split()[0]


def _number_starts_with_vowel(number: str) -> bool:
    """Eight…, eleven… and eighteen… however long the number is.

    A plain four-figure 11xx or 18xx is read as a year or a count of hundreds: "an 1812 overture".
    """
    whole = number.split(".")[0]
    digits = whole.replace(",", "")
    if digits.startswith("8"):
        return True
    if not digits.startswith(("11", "18")):
        return False
    return len(digits) % 3 == 2 or (len(digits) == 4 and "," not in whole)


def plural(text: str) -> str:
    """The plural of a noun or noun phrase; what is not counted stays as it is."""
    if not text.strip() or text.split()[-1].lower() in _UNCOUNTED:
        return text
    made = str(_engine().plural_noun(text) or text)
    return made.upper() if text.isupper() and len(text) > 1 else made


def counted(number: str, text: str) -> str:
    """The number and the noun that goes with it: 1 bee, 8 bees."""
    single = number.strip() in ("1", "one", "One", "ONE")
    return f"{number} {text if single else plural(text)}"


def join_list(items: list[str], language: str, either: bool = False) -> str:
    """Items joined as the language does: "peas, beans and leeks" (CLDR list patterns)."""
    # CLDR's "en" is American, with a comma before "and"; ours is British unless told.
    tag = {"en": "en-GB"}.get(language, language)
    try:
        locale = Locale.parse(tag, sep="-")
    except (ValueError, UnknownLocaleError):
        locale = Locale.parse("en_GB")
    return str(format_list(items, style="or" if either else "standard", locale=locale))
