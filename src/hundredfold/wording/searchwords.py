"""What buyers may type to find a listing, each phrase with its gain."""

from collections.abc import Iterable, Iterator, Mapping
from functools import lru_cache

from hundredfold.catalogue.blanks import Blank
from hundredfold.wording.books import BlankWords
from hundredfold.wording.measures import measures_of, short_capacity
from hundredfold.wording.slots import Subject

# Gains by where a phrase comes from, and how fast they fall along a list: words of the design find this
# listing and few others, words of the goods find everybody's. Common practice, no source.
SOLD, DESIGN, OCCASION, NICHE, GOODS = 20.0, 10.0, 9.0, 8.0, 6.0
_FALL = 0.92


def wanted_words(
    subject: Subject, others: Iterable[tuple[str, float]], sold: Mapping[str, float]
) -> tuple[tuple[str, float], ...]:
    """Every phrase with its gain, the best of its gains where it comes twice; misspellings never.

    ``others`` are ``common_words``; ``sold`` are words that brought sales: they count for a listing that one
    of its own phrases shares.
    """
    found = dict(_falling(subject.keywords, DESIGN))
    for text, gain in others:
        found[text] = max(found.get(text, 0.0), gain)
    if subject.exact:
        found.setdefault(subject.text.casefold(), DESIGN * 0.6)
    if sold:
        most = max(sold.values())
        own = {word for text in found for word in text.split()}
        for text, sales in sold.items():
            if most > 0 and set(text.casefold().split()) & own:
                found[text.casefold()] = SOLD * (0.5 + 0.5 * sales / most)
    return tuple(found.items())


def common_words(
    subject: Subject, blank: Blank, words: BlankWords, language: str, same: bool
) -> Iterator[tuple[str, float]]:
    """What buyers may type for every design of this one's niche and occasion on the blank."""
    if subject.occasion is not None:
        yield from _falling(subject.occasion.phrases, OCCASION)
    if subject.niche is not None:
        yield from _falling(subject.niche.search, NICHE)
        yield from _falling(subject.niche.gift, NICHE * 0.8)
    elif subject.niche_name:
        yield subject.niche_name.casefold(), NICHE
    if same:
        yield from _falling(blank.words, GOODS * 1.1)
    yield from _falling(words.search, GOODS)
    yield from _falling(words.names, GOODS * 0.9)
    measures = measures_of(blank, next(iter(blank.offered_sizes()), ""))
    if measures.capacity_ml and len(blank.offered_sizes()) < 2:
        yield short_capacity(measures.capacity_ml, language), GOODS * 0.7


def _falling(texts: tuple[str, ...], gain: float) -> Iterator[tuple[str, float]]:
    for text in texts:
        yield _lower(text), gain
        gain *= _FALL


@lru_cache(maxsize=4096)
def _lower(text: str) -> str:
    return text.casefold()
