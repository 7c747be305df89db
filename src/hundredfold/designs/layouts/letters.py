"""A cell's letters made fit to print: composed accents, curly quotes by language, nothing invisible.

Quotation marks are those of CLDR's delimiters (from memory); an apostrophe is the same mark in every
language.
"""

import re
import unicodedata

# Outer and inner quotation marks by language.
_NARROW = "\u202f"
_QUOTES = {
    "en": "“”‘’",
    "nl": "‘’“”",
    "pt": "“”‘’",
    "tr": "“”‘’",
    "de": "„“‚‘",
    "cs": "„“‚‘",
    "sk": "„“‚‘",
    "sl": "„“‚‘",
    "bg": "„“‚‘",
    "is": "„“‚‘",
    "lt": "„“‚‘",
    "pl": "„”«»",
    "hu": "„”»«",
    "ro": "„”«»",
    "hr": "„”‚’",
    "sr": "„”’’",
    "fr": "«»“”",
    "es": "«»“”",
    "it": "«»“”",
    "ca": "«»“”",
    "el": "«»“”",
    "nb": "«»‘’",
    "nn": "«»‘’",
    "no": "«»‘’",
    "ru": "«»„“",
    "uk": "«»„“",
    "da": "””’’",
    "sv": "””’’",
    "fi": "””’’",
    "he": "””’’",
}
_APOSTROPHE = "’"
# Words whose first letters are dropped: the mark before them is an apostrophe.
_CLIPPED = re.compile(
    r"(?:tis|twas|twere|til|till|em|cause|bout|round|cos|cuz|ere|neath|tude|n|\d0s|\d\ds?)(?!\w)",
    re.IGNORECASE,
)
_MEASURE = re.compile(r"(?<=\d)(['\"])")
_BEFORE_OPENING = " \t\n\u00a0([{<-–—/“‘„‚«\"'"
_INVISIBLE = re.compile("[\u200b\u2060\ufeff\u00ad\u200e\u200f\u061c\u200c\u200d]")


# Full-width ASCII and the mathematical alphabets: Unicode's blocks FF00 and 1D400.
_DRESSED = re.compile("[\uff01-\uff5e\U0001d400-\U0001d7ff]+")
_UNSEEN = re.compile("[\ufeff\ufe0e\ufe0f]")  # a stray byte order mark; which picture a symbol should be


def composed(text: str) -> str:
    """Accents written as marks of their own become one letter with them (NFC), letters that only look
    special (full-width, the mathematical alphabets) become the plain ones, which the layout's face sets in
    its own style; tabs become spaces.
    """
    text = _DRESSED.sub(lambda found: unicodedata.normalize("NFKC", found[0]), text)
    return _UNSEEN.sub("", unicodedata.normalize("NFC", text).replace("\t", " "))


def nothing_visible(text: str) -> bool:
    """Whether a cell would print nothing."""
    return not _INVISIBLE.sub("", text).strip()


def curled(text: str, language: str) -> str:
    """Straight quotes as the language's own, and true apostrophes; ``5'`` and ``6"`` become primes."""
    if "'" not in text and '"' not in text:
        return text
    marks = _QUOTES.get(language.split("-")[0].lower(), _QUOTES["en"])
    out: list[str] = []
    open_double = open_single = False
    for index, char in enumerate(text):
        before, after = text[index - 1 : index] if index else "", text[index + 1 :]
        if char == '"':
            if before.isdigit() and not open_double:
                out.append("″")
                continue
            opens = not open_double and (not before or before in _BEFORE_OPENING)
            opens = opens or (not open_double and not before.isalnum() and after[:1].isalnum())
            out.append(_mark(marks[0 if opens else 1], opens, language))
            open_double = opens
        elif char == "'":
            kind = _single(before, after, open_single)
            if kind == "prime":
                out.append("′")
            elif kind == "apostrophe":
                out.append(_APOSTROPHE)
            else:
                out.append(marks[2 if kind == "open" else 3])
                open_single = kind == "open"
        else:
            out.append(char)
    return "".join(out)


def _single(before: str, after: str, is_open: bool) -> str:
    if before.isalnum() and after[:1].isalpha():
        return "apostrophe"
    if before.isdigit() and not is_open:
        return "prime"
    if not before or before in _BEFORE_OPENING:
        if _CLIPPED.match(after) or (after[:1].isalpha() and after[1:2] == "'"):
            return "apostrophe"
        # A mark that nothing closes is an apostrophe too.
        closes = re.search(r"'(?!\w)", after)
        return "open" if after[:1].strip() and closes else "apostrophe"
    return "close" if is_open else "apostrophe"


def _mark(mark: str, opens: bool, language: str) -> str:
    """French sets a narrow space inside its quotation marks."""
    if language.split("-")[0].lower() != "fr" or mark not in "«»":
        return mark
    return mark + _NARROW if opens else _NARROW + mark
