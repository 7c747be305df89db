"""How a language writes a title: capitals, quotation marks, and no shouting."""

import re
from functools import lru_cache

from hundredfold.wording.sameness import SMALL_WORDS

# Unit symbols keep their case after a number: 325 ml (SI Brochure, 9th edition, section 5.2).
UNITS = frozenset(("ml", "cl", "l", "mm", "cm", "m", "g", "kg", "oz", "in", "dpi", "×"))
_DOTTED = re.compile(r"(?:[a-z]\.)+[a-z]?")  # a.m.
_SMALL = SMALL_WORDS["en"] - {"is", "it"}
_ENDS = ".!?…"


def cased(text: str, capitals: str, first: bool = True) -> str:
    """A phrase with a title's capitals; ``first`` when it begins the title or a sentence of it."""
    if capitals == "every word":
        return every_word(text, first)
    return text[:1].upper() + text[1:] if first else text


@lru_cache(maxsize=4096)
def every_word(text: str, first: bool = True) -> str:
    """English title case: capitals but for small words inside; words with a capital of their own are kept."""
    words = text.split(" ")
    done = []
    for place, word in enumerate(words):
        inside = (place > 0 or not first) and place < len(words) - 1
        lower = word.lower()
        before = words[place - 1].replace(".", "") if place else ""
        if (
            word != lower
            or _DOTTED.fullmatch(word)
            or (inside and word in _SMALL)
            or (word in UNITS and before.isdigit())
        ):
            done.append(word)  # iPhone, RNLI, McTavish: the seller's own spelling
        else:
            done.append("-".join(_capital(part) for part in word.split("-")))
    return " ".join(done)


def _capital(part: str) -> str:
    at = next((place for place, letter in enumerate(part) if letter.isalnum()), 0)
    return part[:at] + part[at : at + 1].upper() + part[at + 1 :]


@lru_cache(maxsize=4096)
def calm(text: str) -> str:
    """A text that does not shout: no words all in capitals throughout, no rows of signs."""
    text = re.sub(r"([!?])[!?]+", r"\1", text)
    words = [word for word in text.split() if any(letter.isalpha() for letter in word)]
    loud = [word for word in words if word.upper() == word and word.lower() != word]
    longest = max((len(word) for word in loud), default=0)
    if len(loud) * 2 > len(words) and (len(loud) > 1 or longest > 5):
        return text.lower()
    return text


@lru_cache(maxsize=4096)
def joined(lines: tuple[str, ...]) -> str:
    """What stands line by line, as one phrase."""
    text = ""
    for line in lines:
        if not text:
            text = line
        elif text[-1] in ",;:…–—-&" or text[-1] in _ENDS:
            text += f" {line}"
        elif "," in text or "," in line:
            text += f" – {line}"  # two lines with commas would read as one list
        else:
            text += f", {line}"
    return text


def sentence_case(text: str) -> str:
    """A phrase as the beginning of a sentence."""
    return text[:1].upper() + text[1:]


def ended(text: str) -> str:
    """A sentence with its full stop, unless it ends in a sign of its own."""
    bare = text.rstrip("”“»\"') ")
    return text if (bare[-1:] in _ENDS and bare != text) or text[-1:] in _ENDS else f"{text}."
