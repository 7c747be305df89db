"""The seller's own list of phrases that never go on goods or into listings.

A reminder, no legal advice: whether a phrase may be used differs by country and by goods.
"""

import re
import unicodedata
from collections.abc import Iterable, Iterator, Sequence

from hundredfold.kernel.checks import CheckRecord
from hundredfold.kernel.findings import Finding, Severity

CHECK = CheckRecord(
    id="screening/blocked-phrase",
    title="No text of a listing holds a phrase that you listed as never to be used.",
    looks_at="the words of a design, its keywords and the wording of its listings, beside blocked.txt",
    why="A phrase that belongs to somebody else can cost the listing or the whole account. This is your own "
    "list, a reminder and no legal advice: what may be used differs by country and by goods.",
    example="`OldMill` in a title, with `old mill` in blocked.txt.",
    fix="Rename the design, change its words, or take the phrase out of blocked.txt if you may use it.",
    known_limits="Finds whole words in any writing of case, accents and gaps. It knows no plurals, no "
    "misspelt words, and not what is drawn in a picture. Nothing found does not mean that a "
    "phrase is free.",
    source="the seller's own list",
    codes={"held": Severity.STOP},
)


def read_blocked(text: str) -> tuple[str, ...]:
    """The phrases of blocked.txt, one on each line; lines beginning with ``#`` are notes."""
    lines = (line.strip() for line in text.splitlines())
    return tuple(dict.fromkeys(line for line in lines if line and not line.startswith("#") and _words(line)))


def blocked_in(text: str, phrases: Iterable[str]) -> Iterator[str]:
    """The phrases that the text holds as whole words.

    Case, accents, punctuation and the gaps between words do not count: ``Old-Mill``, ``old mill`` and
    ``OldMill`` are one phrase; ``heals`` is not found in ``wheels`` or ``healsome``.
    """
    words = _words(text)
    for phrase in phrases:
        wanted = "".join(_words(phrase))
        if any(_begins(words, start, wanted) for start in range(len(words))):
            yield phrase


def blocked_findings(
    item: str, texts: Sequence[tuple[str, str]], phrases: Sequence[str]
) -> Iterator[Finding]:
    """A stop for each phrase in the named texts of an item (``("title", "Old Mill mug")``)."""
    seen: set[str] = set()
    for name, text in texts:
        for phrase in blocked_in(text, phrases):
            if phrase not in seen:
                seen.add(phrase)
                yield CHECK.finds(
                    "held",
                    item,
                    f'"{phrase}" stands in its {name}, and you listed it as never to be used',
                    "rename it, or take the phrase out of blocked.txt if you may use it after all",
                    {"phrase": phrase},
                )


def _words(text: str) -> list[str]:
    plain = unicodedata.normalize("NFKD", text).casefold()
    letters = "".join(char for char in plain if not unicodedata.combining(char))
    # An apostrophe joins (don't is one word); any other sign parts.
    return re.findall(r"\w+", re.sub(r"['’]", "", letters).replace("_", " "))


def _begins(words: Sequence[str], start: int, wanted: str) -> bool:
    """Whether whole words from ``start`` on make up exactly the wanted letters."""
    joined = ""
    for word in words[start:]:
        joined += word
        if len(joined) >= len(wanted):
            return joined == wanted
    return False
