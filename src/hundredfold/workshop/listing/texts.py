"""The words of a shop's listings: every channel in its own language, texts written by hand laid on top."""

import hashlib
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date

from babel import Locale

from hundredfold.catalogue.blanks import Blank
from hundredfold.catalogue.channels import Channel
from hundredfold.designs.design import Design
from hundredfold.kernel.counting import counted
from hundredfold.kernel.findings import Finding
from hundredfold.ledger.keys import ListingKey
from hundredfold.ledger.state import HandText, LedgerState
from hundredfold.wording.books import book_for
from hundredfold.wording.byhand import laid_over, text_of, too_long
from hundredfold.wording.houserules import rules_for
from hundredfold.wording.wording import Worded, Wording
from hundredfold.wording.write import Writer
from hundredfold.workshop.shop.checks import BY_HAND, LANGUAGE, REFUSED_WORDS
from hundredfold.workshop.shop.folder import Shop
from hundredfold.workshop.shop.phrases import shop_books, shop_voice


@dataclass(frozen=True)
class WordsWanted:
    """A listing that wants words."""

    key: ListingKey
    design: Design
    blank: Blank
    colours: tuple[str, ...] | None = None


class Texts:
    """Writes the words of a shop's listings on a day; None for ``when`` where no day matters."""

    def __init__(self, shop: Shop, state: LedgerState, when: date | None = None) -> None:
        self._shop, self._state, self._when = shop, state, when
        self._books = shop_books(shop)
        self._shop_words = shop_voice(shop)

    def writer(self, channel: Channel) -> Writer | None:
        """A fresh writer of a channel's words; None where no book has its language."""
        book = book_for(channel.language, self._books)
        return None if book is None else Writer(channel, book, self._shop_words, self._when)

    def of_channel(
        self, channel: Channel, wanted: Iterable[WordsWanted]
    ) -> tuple[dict[ListingKey, Worded], tuple[Finding, ...]]:
        """The words of a channel's listings, and what a person should know of them.

        Listings that are out come first, then the others by design and blank: a new design never takes a
        title from an older one.
        """
        writer = self.writer(channel)
        if writer is None:
            return {}, (no_book(self._shop, channel),)
        live = self._state.listed
        found: dict[ListingKey, Worded] = {}
        told: list[Finding] = []
        order = sorted(wanted, key=lambda one: (one.key not in live, one.key))
        for one in order:
            refused = writer.refused(one.design, one.blank)
            if refused:
                told.append(_own_words_refused(channel, one.design, refused))
                continue
            worded = writer.write(one.design, one.blank, one.colours)
            found[one.key], more = self._by_hand(one, channel, worded)
            told += more
        told += _left_out(channel, writer, order)
        told += self._foreign(channel, order)
        return found, tuple(dict.fromkeys(told))

    def alone(self, wanted: WordsWanted, channel: Channel) -> Wording:
        """The words of one listing, where its title need not differ from others (ends of listings)."""
        writer = self.writer(channel)
        if writer is None:
            return Wording(wanted.design.title, (), "", ())
        worded = writer.write(wanted.design, wanted.blank, wanted.colours)
        return self._by_hand(wanted, channel, worded)[0].wording

    def refusal(self, channel: Channel, blank: Blank, text: str) -> str:
        """The phrase in a text that the channel or the seller refuses, with who; "" for none."""
        rules = rules_for(blank, channel.words.forbidden, "", self._shop.blocked)
        return rules.banned(text)

    def _by_hand(self, one: WordsWanted, channel: Channel, worded: Worded) -> tuple[Worded, list[Finding]]:
        texts = self._state.by_hand.get(one.key, {})
        if not texts:
            return worded, []
        told, used = [], {}
        for name, hand in sorted(texts.items()):
            item = f"{channel.code}, {one.blank.code}, {one.design.path}, {name}"
            why = too_long(name, hand.text, channel)
            if why:
                told.append(
                    BY_HAND.finds("fits-no-more", item, f"the text you wrote has {why}", _shorter(one, name))
                )
                continue
            used[name] = hand.text
            if digest_of(text_of(worded.wording, name)) != hand.below:
                told.append(_below_changed(item, text_of(worded.wording, name)))
        marked = laid_over(worded.wording, used, channel)
        return Worded(marked, worded.traces, {name: text_of(worded.wording, name) for name in used}), told

    def _foreign(self, channel: Channel, order: Sequence[WordsWanted]) -> Iterator[Finding]:
        bare = channel.language.partition("-")[0]
        if bare == self._shop.settings.language.partition("-")[0]:
            return
        without = {one.design.path for one in order if not one.design.words_in(bare).keywords}
        if without:
            what = (
                f"{counted(len(without), 'design has', 'designs have')} no words of {language_name(bare)}: "
                "what the art says stands there as it is, beside the book's phrases"
            )
            fix = f'give some columns "shows {bare}" and "keywords {bare}" in names.csv'
            yield LANGUAGE.finds("no-own-words", channel.code, what, fix, {"designs": len(without)})


def hand_text(state: LedgerState, key: ListingKey, name: str) -> HandText | None:
    """The text written by hand that stands in a field now."""
    return state.by_hand.get(key, {}).get(name)


def digest_of(text: str) -> str:
    """What a text is told apart by later."""
    return hashlib.sha256(text.encode("utf-8", "surrogatepass")).hexdigest()


def language_name(tag: str) -> str:
    """A language's English name."""
    return Locale.parse(tag, sep="-").get_language_name("en") or tag


def no_book(shop: Shop, channel: Channel) -> Finding:
    """A channel whose language no phrase book has."""
    tags = ", ".join(sorted(shop_books(shop)))
    what = f"its language is {channel.language}, and there is no phrase book of it (there are {tags})"
    file = shop.channel_files[channel.code]
    fix = f"write phrases/{channel.language}.toml (docs/words.md), or correct the language in {file}"
    return LANGUAGE.finds("no-book", channel.code, what, fix)


def _left_out(channel: Channel, writer: Writer, order: Sequence[WordsWanted]) -> Iterator[Finding]:
    seen = set()
    for one in order:
        for dropped in writer.dropped(one.design, one.blank):
            if dropped not in seen:
                seen.add(dropped)
                fix = (
                    "nothing, if that is right; else prove the claim in the blank's file, or change the list"
                )
                what = f"“{dropped.text}” is left out: {dropped.why}"
                yield REFUSED_WORDS.finds("left-out", f"{channel.code}, {one.blank.code}", what, fix)


def _own_words_refused(channel: Channel, design: Design, why: str) -> Finding:
    item = f"{design.path}, {channel.code}"
    fix = "list it elsewhere, or take the phrase out of the channel's [words] if you may use it"
    return REFUSED_WORDS.finds("own-words", item, f"its own words hold {why}, so it is not listed there", fix)


def _below_changed(item: str, below: str) -> Finding:
    what = f"the text below the one you wrote has changed; it would read: {below}"
    fix = "read both, then write yours again or give it back: hundredfold words DESIGN --give-back FIELD"
    return BY_HAND.finds("below-changed", item, what, fix)


def _shorter(one: WordsWanted, name: str) -> str:
    there = f"{one.design.path} --blank {one.blank.code}"
    return f'write a shorter one: hundredfold words {there} --write "{name}" "…"'
