"""How unlike the titles of a shop are: the sample's 500 designs on four blanks, in one channel.

python -m tools.words.variety en-GB de-DE
"""

import sys
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from hundredfold.wording.books import book_for
from hundredfold.wording.sameness import opening, words_in
from hundredfold.wording.write import ShopVoice, Writer
from hundredfold.workshop.shop.phrases import starter_books
from tools.words.listings import blank, channel, designs

BLANKS = ("mug-325", "cushion", "tote-bag", "t-shirt")


@dataclass(frozen=True)
class Variety:
    """What is counted over titles: those like another, those that begin like another, pairs of words."""

    titles: int
    alike: int
    begin_alike: int
    pairs: int


def titles(language: str) -> list[str]:
    """The titles of every design of the sample on four blanks."""
    book = book_for(language, starter_books())
    if book is None:
        raise SystemExit(f"no book of {language}")
    writer = Writer(channel(language), book, ShopVoice("en-GB"))
    goods = [blank(name) for name in BLANKS]
    every = (design for rows in designs().values() for design in rows)
    return [writer.write(design, one).wording.title for design in every for one in goods]


def variety_of(texts: Sequence[str]) -> Variety:
    """The counts; without case, and a title that begins as another does counts with it."""
    whole = Counter(text.casefold() for text in texts)
    begins = Counter(map(opening, texts))
    pairs = {pair for text in texts for pair in pairwise(word.casefold() for word in words_in(text))}
    alike = sum(count for count in whole.values() if count > 1)
    return Variety(len(texts), alike, sum(count for count in begins.values() if count > 1), len(pairs))


if __name__ == "__main__":
    for tag in sys.argv[1:]:
        found = variety_of(titles(tag))
        share = found.begin_alike / found.titles
        told = f"{found.alike} alike, {share:.1%} begin alike, {found.pairs} pairs of words"
        print(f"{tag}: {found.titles} titles, {told}")
