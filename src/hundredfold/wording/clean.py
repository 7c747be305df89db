"""Text made safe to put in a table: one line, no control characters, composed letters."""

import unicodedata
from functools import lru_cache

# Joiners that belong to emoji and to several scripts; other invisible format characters are dropped.
_JOINERS = {"\u200c", "\u200d"}


@lru_cache(maxsize=4096)  # a shop's few thousand phrases come again for every blank and channel
def one_line(text: str) -> str:
    """The text in NFC on one line: control characters, tabs and line breaks become single spaces."""
    if text.isprintable() and unicodedata.is_normalized("NFC", text):
        return " ".join(text.split())
    kept = []
    for letter in unicodedata.normalize("NFC", text):
        kind = unicodedata.category(letter)
        if kind in ("Cc", "Zl", "Zp", "Zs"):
            kept.append(" ")
        elif kind not in ("Cs", "Cn", "Co") and (kind != "Cf" or letter in _JOINERS):
            kept.append(letter)
    return " ".join("".join(kept).split())


def fit_words(words: str, room: int, separator: str = " ") -> str:
    """As many whole words from the front as fit into ``room`` characters; "" when not even one does."""
    if len(words) <= room:
        return words
    fitted = ""
    for word in words.split(separator):
        longer = f"{fitted}{separator}{word}" if fitted else word
        if len(longer) > room:
            break
        fitted = longer
    return fitted.rstrip(" ,;:-–—|&")


def fit_sentences(sentences: list[str], room: int) -> str:
    """Whole sentences in order while they fit; at least the first one's words where it alone is too long."""
    fitted = ""
    for sentence in sentences:
        longer = f"{fitted} {sentence}" if fitted else sentence
        if len(longer) <= room:
            fitted = longer
    return fitted or fit_words(sentences[0], room) if sentences else ""
