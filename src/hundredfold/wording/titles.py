"""Titles: the design's words first, then the blank, then what else fits; no word said twice."""

from collections.abc import Iterable
from functools import lru_cache

from hundredfold.wording.clean import fit_words, one_line

# The short words English style guides leave in lower case inside a title (common practice, no source).
SMALL_WORDS = frozenset(
    [
        *("a", "an", "and", "as", "at", "but", "by", "for", "from", "in", "into", "nor", "of", "off", "on"),
        *("or", "over", "per", "so", "than", "the", "to", "up", "via", "with", "yet"),
    ]
)
# Unit symbols keep their case after a number: 325 ml (SI Brochure, 9th edition, section 5.2).
UNITS = frozenset(("ml", "cl", "l", "mm", "cm", "m", "g", "kg", "oz", "in", "dpi"))


def title_case(text: str, language: str = "en") -> str:
    """English title case: capitals but for small words inside; words with a capital of their own are kept.

    Other languages keep their words as written, with a capital at the front only.
    """
    words = text.split(" ")
    if not language.casefold().startswith("en"):
        return text[:1].upper() + text[1:]
    cased = []
    for place, word in enumerate(words):
        inside = 0 < place < len(words) - 1
        if word != word.lower():
            cased.append(word)  # iPhone, RNLI, McTavish: the seller's own spelling
        elif (inside and word in SMALL_WORDS) or (
            place and word in UNITS and words[place - 1].replace(".", "").isdigit()
        ):
            cased.append(word)
        else:
            cased.append("-".join(part[:1].upper() + part[1:] for part in word.split("-")))
    return " ".join(cased)


def title_of(design: str, blank: str, keywords: Iterable[str], room: int, language: str = "en") -> str:
    """A title of at most ``room`` characters, never cut within a word.

    The design's title and the blank's name come first; the blank's name is kept whole where the design's
    words can be shortened for it. Keywords that add something new follow after commas.
    """
    design, blank = one_line(design), one_line(blank)
    tail = title_case(blank, language)
    if said(blank) <= said(design):
        tail = ""
    room_for_design = room - len(tail) - 1 if tail else room
    head = fit_words(title_case(design, language), room_for_design)
    if tail and not head:
        return fit_words(title_case(f"{design} {blank}".strip(), language), room)
    title = f"{head} {tail}".strip()
    in_title = said(title)
    for keyword in keywords:
        extra = title_case(one_line(keyword), language)
        longer = f"{title}, {extra}"
        if extra and len(longer) <= room and not (said(extra) & in_title):
            title, in_title = longer, in_title | said(extra)
    return title


@lru_cache(maxsize=65_536)
def said(text: str) -> frozenset[str]:
    """The words of a text as a reader would count repeats: case folded, a plural like its singular."""
    return frozenset(filter(None, map(stem, one_line(text).split()))) - SMALL_WORDS


@lru_cache(maxsize=65_536)
def stem(word: str) -> str:
    """A word without surrounding punctuation and a plain plural s."""
    bare = word.casefold().strip(".,;:!?\"'()[]{}-–—|&’")
    if bare.endswith(("'s", "’s")):
        return bare[:-2]
    return bare[:-1] if len(bare) > 3 and bare.endswith("s") and not bare.endswith("ss") else bare
