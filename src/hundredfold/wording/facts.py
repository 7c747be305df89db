"""Points: short true facts in the order a buyer asks for them; nothing that the shop's files do not state."""

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache, reduce

from babel import Locale
from babel.lists import format_list

from hundredfold.catalogue.blanks import Blank
from hundredfold.catalogue.channels import Channel
from hundredfold.wording.books import BlankWords, PhraseBook
from hundredfold.wording.casing import sentence_case
from hundredfold.wording.clean import one_line
from hundredfold.wording.houserules import HouseRules
from hundredfold.wording.measures import BlankMeasures, area, capacity, length, locale_of, measures_of


@dataclass(frozen=True)
class Fact:
    """A sentence without its full stop, and what states it."""

    text: str
    source: str


class BlankFacts:
    """What is true of a blank in a channel, worded once for all designs."""

    def __init__(
        self,
        book: PhraseBook,
        blank: Blank,
        words: BlankWords,
        channel: Channel,
        rules: HouseRules,
        same: bool,
    ) -> None:
        self._book, self._blank, self._channel, self._rules = book, blank, channel, rules
        self._same = same  # whether the shop's own words are in the channel's language
        self.forms = _forms(book, blank, words)
        self._file = f"the file of {blank.code}"
        self._known: dict[tuple[str, tuple[str, ...]], tuple[Fact, ...]] = {}

    def of(self, size: str | None, colours: tuple[str, ...]) -> tuple[Fact, ...]:
        """The facts of a size's rows, or of the whole listing where ``size`` is None; best first."""
        key = ("\0" if size is None else size, colours)
        if key not in self._known:
            told = (fact for fact in self._all(size, colours) if fact.text)
            tidy = (Fact(self._rules.tidy(sentence_case(one_line(f.text))), f.source) for f in told)
            self._known[key] = tuple(fact for fact in tidy if not self._rules.refusal(fact.text))
        return self._known[key]

    def _all(self, size: str | None, colours: tuple[str, ...]) -> Iterator[Fact]:
        book, stated = self._book, self._blank.stated
        yield Fact(self._measures(size), self._file)
        print_point = book.print_point.get(self._blank.process.value, "")
        yield Fact(print_point, f"{book.file}, print_point")
        told = stated.material if self._same else ""
        told = told or book.material.get(self._blank.material.value, "")
        if told:
            yield Fact(book.sentence("made_of").format(material=_bare(told)), self._file)
        if self._same:
            partner = f"{self._file}, stated in {stated.source}"
            if stated.care:
                yield Fact(book.sentence("care").format(care=_bare(stated.care)), partner)
            if stated.arrives:
                yield Fact(book.sentence("arrives").format(arrives=_bare(stated.arrives)), partner)
        yield Fact(self._days(), self._file)
        yield from self._claims()
        yield Fact(self._colours(colours), self._file)
        if size is None and not self._measures(None):
            yield Fact(self._sizes(colours), self._file)

    def _days(self) -> str:
        days = self._blank.stated.working_days
        made = self._book.sentences.get("made_in", ())
        if days is None or not made:
            return ""
        span = f"{days[0]}" if days[0] == days[1] else f"{days[0]}–{days[1]}"
        # CLDR plural rules; a range takes the form of its end (CLDR plural ranges of these languages).
        one = locale_of(self._channel.language).plural_form(days[1]) == "one"
        told = (self._book.sentence("day") if one else "") or self._book.sentence("days")
        return made[0].format(days=told.format(days=span))

    def _claims(self) -> Iterator[Fact]:
        for claim, source in self._blank.claims.items():
            told = self._book.claims.get(claim, claim if self._same else "")
            if told and source.strip():
                yield Fact(self._book.sentence("claim").format(claim=one_line(told)), source)

    def _measures(self, size: str | None) -> str:
        sizes = self._blank.offered_sizes() or ("",)
        if size is not None or len(sizes) == 1:
            return self._measured(measures_of(self._blank, sizes[0] if size is None else size))
        known = [(one, measures_of(self._blank, one)) for one in sizes]
        unit, language = self._channel.pictures.lengths, self._channel.language
        flat = [
            f"{one} {area(each.width_mm, each.height_mm, language, unit)}"
            for one, each in known
            if each.width_mm and each.height_mm
        ]
        if flat:
            return self._book.sentence("laid_flat").format(sizes=", ".join(flat))
        told = [(one, text) for one, each in known if (text := self._measured(each, named=one))]
        frame = self._book.sentence("of_size")
        return " / ".join(frame.format(size=one, measures=text) for one, text in told)

    def _measured(self, measures: BlankMeasures, named: str = "") -> str:
        """The measures in words; a capacity that the size's name states already is not said again."""
        book, language = self._book, self._channel.language
        unit = self._channel.pictures.lengths
        parts = []
        if measures.capacity_ml:
            told = capacity(measures.capacity_ml, language)
            if told != named:
                parts.append(book.sentence("holds").format(capacity=told))
        if measures.width_mm and measures.height_mm:
            width, height = area(measures.width_mm, measures.height_mm, language, unit).split(" × ")
            parts.append(book.sentence("flat").format(width=width, height=height))
        elif measures.height_mm:
            parts.append(book.sentence("high").format(length=length(measures.height_mm, language, unit)))
        if measures.diameter_mm:
            parts.append(book.sentence("across").format(length=length(measures.diameter_mm, language, unit)))
        between = book.sentence("between") or "{}; {}"
        return reduce(between.format, parts) if parts else ""

    def _colours(self, colours: Collection[str]) -> str:
        names = []
        for colour in self._blank.colours:
            if colour.code in colours:
                own = one_line(colour.name)
                names.append(_alone(own) if self._same else self._book.colours.get(own.casefold(), ""))
        if len(names) < 2 or not all(names):
            return ""
        return self._book.sentence("list_colours").format(
            colours=listed(tuple(names), self._channel.language)
        )

    def _sizes(self, colours: Collection[str]) -> str:
        offered = [v.size for v in self._blank.offered() if v.colour in colours and v.size]
        sizes = tuple(dict.fromkeys(offered))
        if len(sizes) < 2:
            return ""
        return self._book.sentence("list_sizes").format(sizes=listed(sizes, self._channel.language))

    def story_measure(self, size: str | None) -> str:
        """The one measure that a story tells: what it holds, or how wide and high it is; "" for sizes."""
        sizes = self._blank.offered_sizes() or ("",)
        if size is None and len(sizes) > 1:
            return ""
        measures = measures_of(self._blank, sizes[0] if size is None else size)
        if measures.capacity_ml:
            told = capacity(measures.capacity_ml, self._channel.language)
            return self._book.sentence("holds").format(capacity=told)
        if measures.width_mm and measures.height_mm and not size:
            alone = BlankMeasures(width_mm=measures.width_mm, height_mm=measures.height_mm)
            return self._measured(alone)
        return ""


@lru_cache(maxsize=4096)
def listed(names: tuple[str, ...], language: str) -> str:
    """Names in a row as the language joins them (CLDR list patterns)."""
    return format_list(names, "standard", Locale.parse(language, sep="-"))


def _forms(book: PhraseBook, blank: Blank, words: BlankWords) -> Mapping[str, str]:
    forms = dict(words.forms)
    forms |= {name[:1].upper() + name[1:]: sentence_case(text) for name, text in words.forms.items()}
    forms["printed"] = book.printed.get(blank.process.value, "")
    return forms


def _alone(colour: str) -> str:
    """A colour's name as one of a list: "White, navy rim" would read as two."""
    name, comma, rest = colour.partition(", ")
    return f"{name} ({rest})" if comma else colour


def _bare(text: str) -> str:
    return one_line(text).rstrip(". ")
