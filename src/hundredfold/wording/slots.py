"""What fills a title's slots: words of the design, the blank and the niche, each with its source."""

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from functools import lru_cache
from itertools import pairwise

from hundredfold.catalogue.blanks import Blank
from hundredfold.designs.design import Design
from hundredfold.wording.books import BlankWords, NicheWords, OccasionWords, PhraseBook
from hundredfold.wording.casing import calm, cased, every_word, joined, sentence_case
from hundredfold.wording.clean import one_line
from hundredfold.wording.houserules import HouseRules, claims_in
from hundredfold.wording.measures import BlankMeasures, area, short_capacity, without_measures
from hundredfold.wording.sameness import SMALL_WORDS, said, words_in
from hundredfold.wording.shapes import Phrase

_QUOTED_FROM = 4  # words: a longer saying is set apart in a title by quotation marks
_APOSTROPHE = re.compile(r"(?<=[^\W\d_])'|'(?=[^\W\d_])")  # not that of feet and minutes
_PAUSES = ",;:.!?…&"


@dataclass(frozen=True)
class Subject:
    """What a listing is about, in its channel's language, ready to be worded.

    ``lines`` are what the art says, or its name where that is not known (``exact`` is False then).
    """

    lines: tuple[str, ...]
    exact: bool
    keywords: tuple[str, ...]
    niche_name: str
    niche: NicheWords | None
    occasion: OccasionWords | None
    source: str
    told: frozenset[str] = frozenset()  # by what lines of the niche would tell the same joke

    @property
    def text(self) -> str:
        """All that the art says, as one phrase."""
        return joined(self.lines)


def subject_of(design: Design, book: PhraseBook, shop_language: str, when: date | None) -> Subject:
    """The design as a book can tell it: its own words in this language, or what the art says as it stands.

    Keywords of another language stay out; a niche is found by its name or by the design's keywords.
    """
    bare = book.language.partition("-")[0]
    own = design.words_in(bare)
    same = bare == shop_language.partition("-")[0]
    keywords = own.keywords or (design.keywords if same else ())
    lines = tuple(filter(None, map(_line, design.lines or (own.shows or design.title,))))
    niche = book.niche(design.niche, _clues(design, lines))
    occasion = book.occasion(design.occasion)
    return Subject(
        lines,
        bool(design.lines),
        tuple(dict.fromkeys(filter(None, map(one_line, keywords)))),
        one_line(design.niche) if same else "",
        niche,
        occasion if occasion is not None and occasion.holds(when) else None,
        "the layout's row" if design.lines else own.source or "the art's file name",
        book.jokes_of(joined(lines)),
    )


def _clues(design: Design, lines: Sequence[str]) -> tuple[str, ...]:
    """The words of a design, and those that stand side by side, without case."""
    words = [word.casefold() for text in (*lines, *design.keywords) for word in words_in(text)]
    pairs = [f"{first} {second}" for first, second in pairwise(words)]
    return tuple(dict.fromkeys((*map(str.casefold, design.keywords), *pairs, *words)))


@lru_cache(maxsize=4096)
def _line(text: str) -> str:
    text = _APOSTROPHE.sub("’", calm(one_line(text))).strip(' "“”„«»')
    return text.rstrip(".") if not text.endswith("..") else text


class Slots:
    """The phrases of one blank's titles in one channel; what does not change with the design is made once."""

    def __init__(
        self,
        book: PhraseBook,
        blank: Blank,
        words: BlankWords,
        rules: HouseRules,
        language: str,
        shop_language: str,
        measures: BlankMeasures,
        only_own_name: bool = False,
    ) -> None:
        self._book, self._rules = book, rules
        self._bare = book.language.partition("-")[0]
        self._capitals = book.capitals
        names = words.names
        source = f"{words.file}, blank"
        if self._bare == shop_language.partition("-")[0] or words.file.startswith("phrases/"):
            own = _inside(without_measures(one_line(blank.name)))
            # Blanks of one kind side by side are told apart by the names that the seller gave them.
            names = tuple(dict.fromkeys((own, *(() if only_own_name else names)))) if own else names
            source = f"the blank's name and {words.file}"
        self.blank = self._phrases(names, source) or self._phrases((words.short,), source)
        self.short = self._phrases((words.short,), f"{words.file}, blank")
        self._holds = bool(measures.capacity_ml)
        self.measure = self._phrases(_told(measures, language), f"the file of {blank.code}")
        self._known: dict[str, dict[str, Sequence[Phrase]]] = {}

    def of(self, subject: Subject) -> dict[str, Sequence[Phrase]]:
        """Every slot's phrases for a design on this blank."""
        slots = dict(self._of_niche(subject))
        slots |= self._of_art(subject)
        slots["blank"], slots["short"], slots["measure"] = self.blank, self.short, self.measure
        slots["holds"] = self.measure if self._holds else ()
        if subject.occasion is not None:
            slots["when"] = self._phrases(subject.occasion.phrases, f"{subject.occasion.file}, occasion")
        return slots

    def brief(self, subject: Subject) -> tuple[Phrase, ...]:
        """The art's words, and whole parts of them, ever shorter."""
        return tuple(self._art(part, subject.source) for part in _shorter(self._lines(subject), self._bare))

    def _lines(self, subject: Subject) -> tuple[str, ...]:
        lines = subject.lines if subject.exact else tuple(map(_unclaimed, subject.lines))
        if self._capitals != "every word" or (not subject.exact and any(map(_has_capitals, lines))):
            return lines
        return tuple(every_word(line) for line in lines)  # each line begins with a capital

    def _of_art(self, subject: Subject) -> dict[str, Sequence[Phrase]]:
        lines = self._lines(subject)
        text = joined(tuple(filter(None, lines)))
        if not text:
            return {}
        many = subject.exact and len(subject.lines) > 1
        source = subject.source
        quoted = self._quoted(text, source)
        plain = self._art(text, source)
        apart = self._book.capitals != "every word" or many or _needs_marks(text)
        slots: dict[str, Sequence[Phrase]] = {
            "quoted": (quoted,),
            "says": (quoted if apart else plain,),
        }
        if many:
            last = lines[-1]
            first = joined(lines[:-1])
            slots["first"] = (self._quoted(first, source),)
            if self._capitals == "every word":
                slots["first"] = () if _needs_marks(first) else (self._art(first, source),)
            slots["last"] = (self._quoted(last, source),)
        return slots

    def _of_niche(self, subject: Subject) -> Mapping[str, Sequence[Phrase]]:
        key = subject.niche.key if subject.niche else f"\0{subject.niche_name}"
        if key not in self._known:
            self._known[key] = self._niche_phrases(subject.niche, subject.niche_name)
        return self._known[key]

    def _niche_phrases(self, niche: NicheWords | None, name: str) -> dict[str, Sequence[Phrase]]:
        if niche is not None:
            source = f"{niche.file}, niche {niche.key}"
            return {
                "kind": self._phrases(niche.kind, source),
                "for": self._phrases(niche.who, source),
                "gift": self._phrases(niche.gift, source),
            }
        sentences = self._book.sentences
        if name:  # a niche nobody wrote a book for
            told = {
                slot: tuple(text.format(niche=name) for text in sentences.get(f"niche_{slot}", ()))
                for slot in ("kind", "for", "gift")
            }
            made: dict[str, Sequence[Phrase]] = {
                slot: self._phrases(texts, "the design's niche") for slot, texts in told.items()
            }
            if any(made.values()):
                return made
        return {"gift": self._phrases(sentences.get("gift", ()), f"{self._book.file}, sentences")}

    def _phrases(self, texts: Iterable[str], source: str) -> tuple[Phrase, ...]:
        tidy = (self._rules.tidy(one_line(text)) for text in texts)
        return tuple(self._plain(text, source) for text in tidy if text and not self._rules.refusal(text))

    def _plain(self, text: str, source: str) -> Phrase:
        return _phrase(self._rules.tidy(text), self._capitals, self._bare, source)

    def _art(self, text: str, source: str) -> Phrase:
        if self._capitals != "every word":
            return self._plain(text, source)
        whole = self._rules.tidy(text)
        return Phrase(whole, sentence_case(whole), sentence_case(whole), said(whole, self._bare), source)

    def _quoted(self, text: str, source: str) -> Phrase:
        whole = self._rules.tidy(self._book.sentence("quote").replace("{}", text))
        return Phrase(whole, whole, whole, said(text, self._bare), source)


@lru_cache(maxsize=8192)
def _phrase(text: str, capitals: str, language: str, source: str) -> Phrase:
    inside, front = cased(text, capitals, first=False), cased(text, capitals)
    colon = front if capitals == "every word" else inside
    return Phrase(inside, front, colon, said(text, language), source)


def _has_capitals(line: str) -> bool:
    """Whether a name is written with capitals already: "Kleingärtner aus Leidenschaft"."""
    return sum(word[:1].isupper() and len(word) > 1 for word in line.split()) > 1


def _needs_marks(text: str) -> bool:
    return len(text.split()) > _QUOTED_FROM or any(sign in text for sign in _PAUSES)


def _shorter(lines: tuple[str, ...], language: str) -> list[str]:
    """The design's words, and whole parts of them, ever shorter: lines, clauses, then words."""
    text = joined(lines)
    parts = [text, *lines]
    for line in lines:
        parts += [line[:at] for at, letter in enumerate(line) if letter in _PAUSES and at > 0]
    words = text.split(" ")
    small = SMALL_WORDS.get(language, SMALL_WORDS["en"])
    for count in range(len(words) - 1, 0, -1):
        cut = " ".join(words[:count]).rstrip(" ,;:-–—|&")
        if cut and cut.split(" ")[-1].casefold() not in small:
            parts.append(cut)
    parts = [part.strip(" ,;:-–—|&") for part in parts]
    return sorted(dict.fromkeys(filter(None, parts)), key=len, reverse=True)


@lru_cache(maxsize=4096)
def _unclaimed(text: str) -> str:
    """A name without the claims in it: a file name proves nothing."""
    for _, words in claims_in(text):
        text = text.replace(words, " ")
    return " ".join(text.split())


def _told(measures: BlankMeasures, language: str) -> tuple[str, ...]:
    if measures.capacity_ml:
        return (short_capacity(measures.capacity_ml, language),)
    if measures.width_mm and measures.height_mm and measures.diameter_mm is None:
        return (area(measures.width_mm, measures.height_mm, language),)
    return ()


def _inside(name: str) -> str:
    """A name inside a sentence: its first capital small, unless the word has more or is one (T-shirt)."""
    first = name.split(" ")[0].split("-")[0]
    return name[:1].lower() + name[1:] if len(first) > 1 and first[1:].islower() else name
