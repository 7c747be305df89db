"""SKUs a person can read: shop, channel, design, blank, colour, size. Given once, never changed.

Our own scheme: capital letters A-Z, digits and hyphens, at most 40 characters.
"""

import hashlib
import re
import unicodedata
from collections.abc import Container

from hundredfold.ledger.keys import SkuKey

MAX_CHARS = 40
_PREFIX, _CHANNEL = 4, 3
# Room for blank, colour and size: as much as fits, else less.
_ROOMS = ((14, 14, 8), (12, 10, 6), (9, 6, 4))
_DESIGN_MIN = 8
# Crockford's base 32: no I, L, O or U, so that a code read aloud or from a label cannot be mistaken.
_ALPHABET = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"


def new_sku(key: SkuKey, prefix: str, taken: Container[str]) -> str:
    """A SKU for the key that is not in ``taken``.

    The plain form is used while it is free; where shortening made two keys alike, a few characters of
    the key's own digest are added, so that the answer does not depend on which came first for long.
    """
    plain = readable(key, prefix)
    if plain not in taken:
        return plain
    digest = int.from_bytes(hashlib.sha256("\x1f".join(_parts(key)).encode()).digest(), "big")
    letters = ""
    while digest:
        digest, place = divmod(digest, 32)
        letters += _ALPHABET[place]
    for length in range(3, 27):
        mark = letters[:length]
        tried = f"{plain[: MAX_CHARS - length - 1].rstrip('-')}-{mark}"
        if tried not in taken:
            return tried
    raise AssertionError("26 characters of a digest were all taken")


def readable(key: SkuKey, prefix: str) -> str:
    """The plain form: ``PG-QM-PROUDBEEKEEPER-MUG325-NAVY-L``; the design takes the room the rest leaves."""
    fixed = [_letters(prefix)[:_PREFIX], _initials(key.channel)[:_CHANNEL]]
    wanted = (key.blank, key.colour, key.size)
    for rooms in _ROOMS:
        tail = [_short(text, room) for text, room in zip(wanted, rooms, strict=True)]
        left = MAX_CHARS - sum(len(part) + 1 for part in (*fixed, *tail) if part)
        if left >= min(len(_letters(key.design)), _DESIGN_MIN):
            break
    design = _short(key.design, max(left, 1)) or "X"
    return "-".join(part for part in (*fixed, design, *tail) if part)[:MAX_CHARS].rstrip("-")


def _parts(key: SkuKey) -> tuple[str, ...]:
    return (key.channel, key.design, key.blank, key.colour, key.size)


def _letters(text: str) -> str:
    """Capital letters and digits only; accents are dropped, other scripts become their code points."""
    flat = unicodedata.normalize("NFKD", text).upper()
    kept = re.sub(r"[^A-Z0-9]", "", flat)
    if kept or not text.strip():
        return kept
    return "".join(f"{ord(letter):X}" for letter in text if letter.isalnum())


def _initials(text: str) -> str:
    words = [word for word in re.split(r"[^A-Za-z0-9]+", text) if word]
    if len(words) > 1:
        return "".join(word[0] for word in words).upper()
    return _letters(text)[:2]


def _short(text: str, room: int) -> str:
    """The letters of the text in ``room`` characters; a trailing number survives the cut."""
    kept = _letters(text)
    if len(kept) <= room:
        return kept
    number = re.search(r"\d{1,4}$", kept)
    end = number.group() if number and len(number.group()) < room - 2 else ""
    return kept[: room - len(end)] + end
