"""What a cell may hold. Each refusal is a sentence with the numbers and the way out."""

import unicodedata
from dataclasses import dataclass

from uniseg.emoji import emoji_presentation, extended_pictographic

from hundredfold.designs.typesetting.shaping import graphemes

LONGEST = 200  # characters as people count them; no layout of ours stays readable past this
_OVERRIDES = {0x202A, 0x202B, 0x202C, 0x202D, 0x202E, 0x2066, 0x2067, 0x2068, 0x2069}


@dataclass(frozen=True)
class Complaint:
    """Why a cell cannot be set."""

    code: str
    what: str
    fix: str
    numbers: dict[str, int]


def complaint_about(text: str) -> Complaint | None:
    """The first thing wrong with a cell's text; None when it can be set. An empty cell is not judged here."""
    if "\n" in text or "\r" in text:
        fix = "write it on one line; the layout breaks lines by itself"
        return Complaint("line-break", "the cell has a line break in it", fix, {"at": _at(text, "\n\r")})
    for index, char in enumerate(text):
        code = ord(char)
        numbers = {"at": index + 1, "character": code}
        if code in _OVERRIDES:
            what = f"the cell has an invisible direction mark (U+{code:04X}) at character {index + 1}"
            return Complaint(
                "direction-mark", what, "delete it and type the word again; direction is found", numbers
            )
        if unicodedata.category(char) in ("Cc", "Cs", "Co", "Cn") and not char.isspace():
            what = f"the cell has a character that cannot be printed (U+{code:04X}) at character {index + 1}"
            return Complaint("control-character", what, "delete it and type the word again", numbers)
    picture = next((c for c in graphemes(text) if _is_emoji(c)), "")
    if picture:
        what = f"the cell has a picture character, {picture}"
        fix = "give the layout an art slot and name the picture's file in the row: letters have one colour"
        return Complaint("emoji", what, fix, {"character": ord(picture[0])})
    count = len(graphemes(text))
    if count > LONGEST:
        what = f"the cell has {count} characters, more than the {LONGEST} that can be set to be read"
        return Complaint("too-long", what, "say it shorter", {"characters": count, "most": LONGEST})
    return None


def _is_emoji(cluster: str) -> bool:
    # A heart, a star or a tick is a letter of some fonts, also where a phone asked for its picture (U+FE0F).
    if "\u20e3" in cluster or "\u200d" in cluster:
        return True
    first = cluster[0]
    return emoji_presentation(first) or (extended_pictographic(first) and ord(first) > 0x1F000)


def _at(text: str, chars: str) -> int:
    return min(i for i, c in enumerate(text) if c in chars) + 1
