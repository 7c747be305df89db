"""Phrase books: a language's words for niches, blanks and occasions, its titles and sentences."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from functools import cached_property
from typing import TypeVar

from hundredfold.catalogue.blanks import Blank
from hundredfold.wording.clean import one_line
from hundredfold.wording.sameness import kin, said

T = TypeVar("T")


@dataclass(frozen=True)
class NicheWords:
    """What a book says of the people a design is for.

    ``kind`` stands before a blank's name ("beekeeper mug"), ``who`` after it ("for beekeepers"), ``gift`` is
    a whole phrase, ``many`` names the people, ``lines`` are whole sentences without a full stop.
    """

    key: str
    also: tuple[str, ...] = ()
    kind: tuple[str, ...] = ()
    who: tuple[str, ...] = ()
    gift: tuple[str, ...] = ()
    many: str = ""
    lines: tuple[str, ...] = ()
    search: tuple[str, ...] = ()
    file: str = ""
    things: tuple[str, ...] = ()  # what they call what they have and use


@dataclass(frozen=True)
class BlankWords:
    """What buyers call a blank, in order, with the forms its language needs (``a``, ``this``, ``on``...)."""

    names: tuple[str, ...]
    short: str
    forms: Mapping[str, str] = field(default_factory=dict)
    search: tuple[str, ...] = ()
    file: str = ""


@dataclass(frozen=True)
class OccasionWords:
    """Phrases of an occasion, and the days of the year (month, day) between which they hold."""

    key: str
    also: tuple[str, ...]
    phrases: tuple[str, ...]
    first: tuple[int, int] | None = None
    last: tuple[int, int] | None = None
    file: str = ""

    def holds(self, day: date | None) -> bool:
        """Whether the phrases hold on this day; without a day, or without dates of its own, they do."""
        if day is None or self.first is None or self.last is None:
            return True
        today = (day.month, day.day)
        if self.first <= self.last:
            return self.first <= today <= self.last
        return today >= self.first or today <= self.last


@dataclass(frozen=True)
class PhraseBook:
    """One language's phrases.

    ``lines`` are the seller's standing lines; ``apart`` has words of lines, each with words of art that
    tell the same joke.
    """

    language: str
    like: str = ""
    capitals: str = ""  # "every word" or "first letter"
    shapes: tuple[str, ...] = ()
    spare: tuple[str, ...] = ()  # shapes for where another title begins alike already
    sentences: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    printed: Mapping[str, str] = field(default_factory=dict)
    print_point: Mapping[str, str] = field(default_factory=dict)
    material: Mapping[str, str] = field(default_factory=dict)
    colours: Mapping[str, str] = field(default_factory=dict)
    blanks: Mapping[str, BlankWords] = field(default_factory=dict)
    niches: Mapping[str, NicheWords] = field(default_factory=dict)
    occasions: Mapping[str, OccasionWords] = field(default_factory=dict)
    apart: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    lines: tuple[str, ...] = ()
    claims: Mapping[str, str] = field(default_factory=dict)
    file: str = ""

    def jokes_of(self, text: str) -> frozenset[str]:
        """Words that a line beside this text of the art may not have: it would tell the same joke again."""
        told, bare = text.casefold(), self.language.partition("-")[0]
        again = (word for word, others in self.apart.items() if any(other in told for other in others))
        return said(text, bare).union(kin(word, bare) for word in again)

    def sentence(self, name: str) -> str:
        """The one phrase of this name; "" where the book has none."""
        return next(iter(self.sentences.get(name, ())), "")

    def blank(self, blank: Blank) -> BlankWords | None:
        """The words of a blank: by its own code first, then by its form."""
        return self.blanks.get(blank.code) or self.blanks.get(blank.form.value)

    def niche(self, name: str, keywords: Iterable[str] = ()) -> NicheWords | None:
        """The niche of this name; without one, that which most of the design's words belong to."""
        wanted = one_line(name).casefold()
        if wanted:
            return self.niches.get(wanted) or self._niche_by_word.get(wanted)
        votes: dict[str, int] = {}
        for keyword in keywords:
            known = self._niche_by_word.get(keyword)
            if known is not None:
                votes[known.key.casefold()] = votes.get(known.key.casefold(), 0) + 1 + keyword.count(" ")
        return self.niches[max(votes, key=votes.__getitem__)] if votes else None

    def occasion(self, name: str) -> OccasionWords | None:
        """The occasion of this name, however the seller writes it."""
        wanted = one_line(name).casefold().replace("’", "'")
        return self._occasion_by_word.get(wanted) if wanted else None

    @cached_property
    def topics(self) -> frozenset[str]:
        """Every word and phrase that tells what a design is about, without case."""
        return frozenset(self._niche_by_word)

    @cached_property
    def _niche_by_word(self) -> Mapping[str, NicheWords]:
        found: dict[str, NicheWords] = {}
        for niche in self.niches.values():
            for word in (niche.key, *niche.also):
                found.setdefault(word.casefold(), niche)
        for niche in self.niches.values():
            for word in niche.things:
                found.setdefault(word.casefold(), niche)
        return found

    @cached_property
    def _occasion_by_word(self) -> Mapping[str, OccasionWords]:
        return {
            word.casefold(): one
            for one in self.occasions.values()
            for word in (*one.also, one.key.replace("-", " "), one.key)
        }


def on_top(below: PhraseBook, above: PhraseBook) -> PhraseBook:
    """The book below with what the one above writes in its place: lists whole, niches part by part."""
    return replace(
        below,
        language=above.language,
        like=above.like,
        capitals=above.capitals or below.capitals,
        shapes=above.shapes or below.shapes,
        spare=above.spare or below.spare,
        sentences={**below.sentences, **above.sentences},
        printed={**below.printed, **above.printed},
        print_point={**below.print_point, **above.print_point},
        material={**below.material, **above.material},
        colours={**below.colours, **above.colours},
        blanks=_merged(below.blanks, above.blanks, _blank_on_top),
        niches=_merged(below.niches, above.niches, _niche_on_top),
        occasions={**below.occasions, **above.occasions},
        apart={**below.apart, **above.apart},
        lines=(*below.lines, *above.lines),
        claims={**below.claims, **above.claims},
        file=above.file,
    )


def _merged(below: Mapping[str, T], above: Mapping[str, T], both: Callable[[T, T], T]) -> dict[str, T]:
    return {
        **below,
        **{key: both(below[key], new) if key in below else new for key, new in above.items()},
    }


def _blank_on_top(below: BlankWords, above: BlankWords) -> BlankWords:
    return BlankWords(
        above.names or below.names,
        above.short or below.short,
        {**below.forms, **above.forms},
        above.search or below.search,
        above.file,
    )


def _niche_on_top(below: NicheWords, above: NicheWords) -> NicheWords:
    return NicheWords(
        above.key,
        above.also or below.also,
        above.kind or below.kind,
        above.who or below.who,
        above.gift or below.gift,
        above.many or below.many,
        above.lines or below.lines,
        above.search or below.search,
        above.file,
        above.things or below.things,
    )


def book_for(language: str, books: Mapping[str, PhraseBook]) -> PhraseBook | None:
    """The book of a language tag such as ``de-AT``: its own, else that of its language; None without one."""
    if language in books:
        return books[language]
    bare = language.partition("-")[0]
    if bare in books:
        return books[bare]
    return next((books[tag] for tag in sorted(books) if tag.partition("-")[0] == bare), None)
