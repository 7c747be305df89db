"""The words of a listing, inside a channel's limits by construction, in the channel's language."""

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from functools import partial
from itertools import chain

from hundredfold.catalogue.blanks import Blank
from hundredfold.catalogue.channels import Channel
from hundredfold.designs.design import Design
from hundredfold.wording.books import BlankWords, PhraseBook
from hundredfold.wording.clean import one_line
from hundredfold.wording.facts import BlankFacts, Fact
from hundredfold.wording.houserules import HouseRules, rules_for
from hundredfold.wording.limits import TextRoom, room, whole_graphemes
from hundredfold.wording.measures import measures_of
from hundredfold.wording.sameness import said
from hundredfold.wording.searching import SearchRoom, chosen_words
from hundredfold.wording.searchwords import common_words, wanted_words
from hundredfold.wording.shapes import Phrase, Title
from hundredfold.wording.slots import Slots, Subject, subject_of
from hundredfold.wording.stories import fitted_story, quote_of, sentences_of
from hundredfold.wording.titles import Titles, drafts_of, in_order, narrowed, turn_of
from hundredfold.wording.wording import Dropped, Trace, Worded, Wording

_FOR_WHOM = ("kind", "for", "gift")
PHONE_CHARS = 110  # a point of about three lines on a phone; common practice, no source


@dataclass(frozen=True)
class ShopVoice:
    """What the shop brings to every text: its language, phrases it never uses, words that have sold."""

    language: str = "en-GB"
    never: tuple[str, ...] = ()
    sold: Mapping[str, float] = field(default_factory=dict)  # search word -> sales it brought
    twice: frozenset[str] = frozenset()  # forms that several of its blanks have


class Writer:
    """Writes the listings of one channel, one after another; titles differ from all written before."""

    def __init__(self, channel: Channel, book: PhraseBook, shop: ShopVoice, when: date | None = None) -> None:
        self._channel, self._book, self._shop, self._when = channel, book, shop, when
        self._titles = Titles()
        self._benches: dict[str, _Bench] = {}
        self._same = book.language.partition("-")[0] == shop.language.partition("-")[0]
        self._last: tuple[Design, Subject] | None = None

    def subject(self, design: Design) -> Subject:
        """What a design is about, in this channel's language."""
        if self._last is None or self._last[0] is not design:  # a design's blanks come one after another
            self._last = design, subject_of(design, self._book, self._shop.language, self._when)
        return self._last[1]

    def write(self, design: Design, blank: Blank, colours: Collection[str] | None = None) -> Worded:
        """The texts of a design on a blank; ``colours`` are those that the listing offers, None for all."""
        bench = self._bench(blank)
        subject = self.subject(design)
        turn = turn_of(design.id, blank.code)
        offered = tuple(c.code for c in blank.colours if colours is None or c.code in colours)
        title = self._title(bench, subject, turn)
        words = bench.search(subject, title.text, self._shop.sold)
        head, traces = self._texts(bench, subject, turn, title.text, offered, None)
        sizes = {}
        if not self._channel.sheet.families:
            for size in blank.offered_sizes():
                if size:
                    texts = self._texts(bench, subject, turn, title.text, offered, size)[0]
                    sizes[size] = replace(texts, search_words=words)
        whole = replace(head, search_words=words, sizes=sizes)
        made_of = tuple(Trace("title", phrase.text, phrase.source) for phrase in title.phrases)
        return Worded(whole, (*made_of, *traces))

    def dropped(self, design: Design, blank: Blank) -> tuple[Dropped, ...]:
        """What is kept out of a listing's texts, with the reason."""
        return self._bench(blank).dropped(self.subject(design))

    def refused(self, design: Design, blank: Blank) -> str:
        """The phrase of the design's own words that is refused, and by whom; "" for none."""
        rules = self._bench(blank).rules
        return rules.banned(self.subject(design).text) if rules.never else ""

    def _bench(self, blank: Blank) -> "_Bench":
        if blank.code not in self._benches:
            self._benches[blank.code] = _Bench(blank, self._channel, self._book, self._shop, self._same)
        return self._benches[blank.code]

    def _title(self, bench: "_Bench", subject: Subject, turn: int) -> Title:
        fits = bench.title.fits
        slots = bench.slots.of(subject)
        banned = bench.rules.banned
        # A long saying may stand first only once a design, if titles are to begin unlike. Goods with a long
        # name need that more than others: behind "cushion cover" few of four words are left for the art's.
        art_first = " " in bench.short or slots.get("says") != slots.get("quoted")
        parts = (*in_order(self._book.shapes, art_first), self._book.spare)
        whole = chain.from_iterable(drafts_of(part, slots, fits, banned, turn) for part in parts if part)
        brief = partial(bench.slots.brief, subject)
        narrow = narrowed(slots, brief, fits, bench.least("", bench.title))
        return self._titles.give(whole, narrow, fits, _told_for(slots))

    def _texts(
        self,
        bench: "_Bench",
        subject: Subject,
        turn: int,
        title: str,
        colours: tuple[str, ...],
        size: str | None,
    ) -> tuple[Wording, tuple[Trace, ...]]:
        lines = bench.niche_lines(subject)
        count = len(lines)
        in_story = lines[turn % count] if count else ""
        in_points = _beside(lines, turn) if count > 1 else ""
        points = bench.points(subject, title, in_points, turn, colours, size)
        forms, measure = bench.facts.forms, bench.facts.story_measure(size)
        alone = self._channel.limits.points < 3
        sentences = sentences_of(
            self._book, subject, forms, measure, in_story, turn, bench.rules.banned, alone
        )
        story = bench.story(sentences, title)
        wording = Wording(title, tuple(point.text for point in points), story, ())
        traces = [Trace(f"point {n}", fact.text, fact.source) for n, fact in enumerate(points, start=1)]
        traces += [Trace("story", fact.text, fact.source) for fact in sentences]
        return wording, tuple(traces)


def _beside(lines: Sequence[str], turn: int) -> str:
    """The line for the points, beside the one in the story: another that does not begin as that one does."""
    count = len(lines)
    start = turn + 1 + turn // count % (count - 1)
    others = [lines[(start + step) % count] for step in range(count) if (start + step - turn) % count]
    first = _opening(lines[turn % count])
    return next((line for line in others if _opening(line) != first), others[0])


def _opening(line: str) -> list[str]:
    return line.casefold().split()[:2]


def _told_for(slots: Mapping[str, Sequence[Phrase]]) -> frozenset[str]:
    """The slots by which a title of these can say whom it is for beside what the art says."""
    says = frozenset[str]().union(*(phrase.keys for phrase in slots.get("says", ())))
    open_to = (name for name in _FOR_WHOM if any(says.isdisjoint(one.keys) for one in slots.get(name, ())))
    return frozenset(open_to)


class _Bench:
    """What the texts of one blank in one channel are made with."""

    def __init__(self, blank: Blank, channel: Channel, book: PhraseBook, shop: ShopVoice, same: bool) -> None:
        limits = channel.limits
        words = book.blank(blank) or BlankWords((one_line(blank.name),), one_line(blank.name))
        rules = channel.words
        self.rules: HouseRules = rules_for(blank, rules.forbidden, rules.forbidden_characters, shop.never)
        size = next(iter(blank.offered_sizes()), "") if len(blank.offered_sizes()) < 2 else "\0"
        self.slots = Slots(
            book,
            blank,
            words,
            self.rules,
            channel.language,
            shop.language,
            measures_of(blank, size),
            blank.form.value in shop.twice,
        )
        self.facts = BlankFacts(book, blank, words, channel, self.rules, same)
        self.title, self.short = room(channel, limits.title_chars), words.short
        self._point, self._story = room(channel, limits.point_chars), room(channel, limits.story_chars)
        self._phone = room(channel, min(limits.point_chars, PHONE_CHARS))
        self._limits, self._channel, self._book, self._blank, self._words = (
            limits,
            channel,
            book,
            blank,
            words,
        )
        self._same, self._bare = same, book.language.partition("-")[0]
        self._standing = tuple(
            line for line in map(self.rules.tidy, book.lines) if not self.rules.refusal(line)
        )
        self._search_room = SearchRoom.of(channel)
        self._common: dict[tuple[str, str], tuple[tuple[str, float], ...]] = {}

    def niche_lines(self, subject: Subject) -> tuple[str, ...]:
        """The sentences of the design's niche that may stand here."""
        if subject.niche is None:
            return ()
        tidy = map(self.rules.tidy, subject.niche.lines)
        allowed = tuple(line for line in tidy if not self.rules.refusal(line))
        told = subject.told
        return tuple(line for line in allowed if said(line, self._bare).isdisjoint(told)) or allowed

    def points(
        self, subject: Subject, title: str, line: str, turn: int, colours: tuple[str, ...], size: str | None
    ) -> list[Fact]:
        """As many points as the channel takes: what the title left out, whom it is for, then the facts."""
        count = self._limits.points
        if not count:
            return []
        wanted = list(self._opening_points(subject, title, line, turn))
        wanted += self.facts.of(size, colours)
        wanted += [Fact(text, f"{self._book.file}, shop lines") for text in self._standing]
        chosen = _fitting(wanted, count, self._phone, self._point)
        return chosen or [Fact(self.least(title, self._point), "the title")]

    def _opening_points(self, subject: Subject, title: str, line: str, turn: int) -> Iterator[Fact]:
        says = subject.text
        if says and says.casefold() not in title.casefold():
            choices = self._book.sentences.get("points_says" if subject.exact else "points_shows", ())
            if choices:
                fields = {**self.facts.forms, "quote": quote_of(self._book, subject)}
                text = self.rules.tidy(choices[turn % len(choices)].format_map(fields))
                yield Fact(text[:1].upper() + text[1:], subject.source)
        if line and subject.niche:
            yield Fact(line, f"{subject.niche.file}, niche {subject.niche.key}")

    def story(self, sentences: Sequence[Fact], title: str) -> str:
        """The story in its room; never empty where the channel takes one."""
        if not self._limits.story_chars:
            return ""
        tidy = [Fact(self.rules.tidy(fact.text), fact.source) for fact in sentences]
        return fitted_story(tidy, self._standing, self._story.fits) or self.least(title, self._story)

    def search(self, subject: Subject, title: str, sold: Mapping[str, float]) -> tuple[str, ...]:
        """The search words, chosen by what they gain."""
        if not self._search_room.any:
            return ()
        seen = title if self._channel.words.search_sees_title else ""
        common = self._common_words(subject)
        wanted = wanted_words(subject, common, sold)
        known = {text for text, _ in common}
        allowed = tuple(one for one in wanted if one[0] in known or not self.rules.refusal(one[0]))
        return chosen_words(allowed, self._search_room, seen, self._bare)

    def _common_words(self, subject: Subject) -> tuple[tuple[str, float], ...]:
        niche = subject.niche.key if subject.niche else f"\0{subject.niche_name}"
        key = niche, subject.occasion.key if subject.occasion else ""
        if key not in self._common:
            language = self._channel.language
            every = common_words(subject, self._blank, self._words, language, self._same)
            self._common[key] = tuple(one for one in every if not self.rules.refusal(one[0]))
        return self._common[key]

    def least(self, title: str, space: TextRoom) -> str:
        """What stands where nothing else fits: the title, the blank's shortest name, or the front of it."""
        if title and space.fits(title):
            return title
        short = self._words.short
        return short if space.fits(short) else whole_graphemes(short, space.fits)

    def dropped(self, subject: Subject) -> tuple[Dropped, ...]:
        """What was kept out of this listing, with the reason."""
        niche = subject.niche
        texts = (*subject.keywords, *(niche.lines if niche else ()), *(niche.gift if niche else ()))
        told = ((text, self.rules.refusal(text)) for text in (*texts, *self._book.lines))
        return tuple(Dropped(text, why) for text, why in told if why)


def _fitting(wanted: Sequence[Fact], count: int, phone: TextRoom, whole: TextRoom) -> list[Fact]:
    """The first facts that fit, in order; those too long for a phone only where there is room left."""
    short = [fact for fact in wanted if phone.fits(fact.text)][:count]
    chosen = set(short)
    for fact in wanted:
        if len(chosen) < count and fact not in chosen and whole.fits(fact.text):
            chosen.add(fact)
    return [fact for fact in dict.fromkeys(wanted) if fact in chosen]
