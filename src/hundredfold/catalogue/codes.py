"""Codes: the short names that also name files and folders, on every kind of computer."""

import re
import unicodedata

MOST_CHARS = 40
_CODE = re.compile(rf"[A-Za-z0-9][A-Za-z0-9_-]{{0,{MOST_CHARS - 1}}}")
# Windows will not have a file or folder of these names.
_RESERVED = frozenset(
    {"con", "prn", "aux", "nul", *(f"com{n}" for n in range(10)), *(f"lpt{n}" for n in range(10))}
)
CODE_ADVICE = f'use up to {MOST_CHARS} letters, digits, "-" and "_", beginning with a letter or digit'


def is_code(text: str) -> bool:
    """Whether the text can be a code."""
    return _CODE.fullmatch(text) is not None and text.casefold() not in _RESERVED


def code_from(text: str) -> str:
    """A code made of a name: ``Café crème`` gives ``cafe-creme``; "" where no letter or digit is left."""
    plain = unicodedata.normalize("NFKD", text).casefold()
    words = re.findall(r"[a-z0-9]+", "".join(char for char in plain if not unicodedata.combining(char)))
    return "-".join(words)[:MOST_CHARS].rstrip("-")
