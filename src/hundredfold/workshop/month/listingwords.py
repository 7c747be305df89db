"""The words of single listings: shown with where they came from, written by hand, given back."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from hundredfold.handoff.former_names import with_new_names
from hundredfold.kernel.errors import ShopError
from hundredfold.kernel.findings import Finding
from hundredfold.kernel.nearest import did_you_mean
from hundredfold.ledger.events import Event, Happened
from hundredfold.ledger.keys import ListingKey
from hundredfold.ledger.state import LedgerState
from hundredfold.runner.atomic import write_whole
from hundredfold.wording.byhand import FIELDS, is_field, text_of, too_long
from hundredfold.wording.wording import Trace, Worded
from hundredfold.workshop.handover.retiring import named_designs
from hundredfold.workshop.listing.offers import Offer
from hundredfold.workshop.listing.texts import Texts, WordsWanted, digest_of
from hundredfold.workshop.month.preparing import Prepared, Telling, prepare
from hundredfold.workshop.shop.bench import Bench
from hundredfold.workshop.shop.files import ShopFiles
from hundredfold.workshop.shop.folder import require_shop
from hundredfold.workshop.shop.naming import shop_names, write_names
from hundredfold.workshop.steps.gathering import gather
from hundredfold.workshop.steps.identity import known_designs


@dataclass(frozen=True)
class ListingWords:
    """What a listing says, and where from.

    ``by_hand`` are the fields written by hand, ``changed`` those of them whose text below is another by now.
    """

    key: ListingKey
    design: str  # its path
    blank: str
    worded: Worded
    by_hand: tuple[str, ...]
    changed: tuple[str, ...] = ()

    @property
    def traces(self) -> tuple[Trace, ...]:
        """Where each text came from, those written by hand said to be so."""
        kept = [trace for trace in self.worded.traces if trace.field not in self.by_hand]
        mine = [Trace(name, text_of(self.worded.wording, name), "written by hand") for name in self.by_hand]
        return (*mine, *kept)


@dataclass(frozen=True)
class ShownWords:
    """The words that were asked for, and what a person should know of them."""

    listings: tuple[ListingWords, ...]
    findings: tuple[Finding, ...]


def listing_words(
    bench: Bench, day: date, name: str, channel: str = "", blank: str = "", telling: Telling | None = None
) -> ShownWords:
    """The words of a design's listings as the month of ``day`` would write them; nothing is planned or made.

    Raises ShopError ``unknown-design``, ``unknown-channel``, ``unknown-blank``, and ``no-such-listing`` when
    the design has none there.
    """
    days = bench.shop.settings.month_days
    known = known_designs(bench.store.events(kinds={Happened.DESIGN_SEEN}))
    prepared = prepare(bench, bench.runner(), day, days, telling or Telling(), look_only=True)
    known |= known_designs(bench.store.events(kinds={Happened.DESIGN_SEEN}))
    ids = {design.id for design in named_designs(name, known)}
    channels = [bench.shop.channel(channel)] if channel else list(bench.shop.channels)
    blanks = {bench.shop.blank(blank).code} if blank else {one.code for one in bench.shop.blanks}
    found: list[ListingWords] = []
    told: list[Finding] = []
    texts = Texts(bench.shop, prepared.state, day)
    for one in channels:
        words, more = texts.of_channel(one, _wanted(prepared, one.code))
        told += more
        for key, worded in sorted(words.items()):
            if key.design in ids and key.blank in blanks:
                offer = prepared.offers[key]
                hand = prepared.state.by_hand.get(key, {})
                below = {name: digest_of(text) for name, text in worded.below.items()}
                changed = tuple(name for name in sorted(below) if below[name] != hand[name].below)
                blank_code = offer.blank.code
                found.append(
                    ListingWords(key, offer.design.path, blank_code, worded, tuple(sorted(hand)), changed)
                )
    if not found:
        raise _no_such_listing(name, prepared, ids)
    return ShownWords(tuple(found), tuple(told))


def _wanted(prepared: Prepared, channel: str) -> Iterator[WordsWanted]:
    for key, offer in prepared.offers.items():
        if key.channel == channel and offer.colours:
            yield WordsWanted(key, offer.design, offer.blank, offer.colours)


def _no_such_listing(name: str, prepared: Prepared, ids: set[str]) -> ShopError:
    offers: Sequence[Offer] = [offer for key, offer in prepared.offers.items() if key.design in ids]
    places = ", ".join(sorted({f"{offer.channel.code} {offer.blank.code}" for offer in offers}))
    fix = f"it has listings on {places}" if places else "hundredfold proof says why it can be listed nowhere"
    return ShopError("no-such-listing", f"{name} has no such listing", fix)


def write_by_hand(bench: Bench, shown: ShownWords, name: str, text: str) -> int:
    """Put a text of the seller's over a field of these listings, as one decision; its number, for undo.

    Raises as ``write_several`` does.
    """
    return write_several(bench, shown, {name: text})


def write_several(bench: Bench, shown: ShownWords, texts: Mapping[str, str]) -> int:
    """Put the seller's texts over several fields of these listings, as one decision; its number, for undo.

    Raises ShopError ``no-such-text`` for a field there is not, ``text-too-long`` for a text the channel does
    not take, ``blocked-text`` for one that holds a phrase it refuses; then nothing is written.
    """
    for name in texts:
        _check_field(name)
    state = bench.ledger()
    events = [
        _worded(bench, state, one, name, text) for one in shown.listings for name, text in texts.items()
    ]
    return bench.store.append(events)[0].decision


def _worded(bench: Bench, state: LedgerState, one: ListingWords, name: str, text: str) -> Event:
    channel = bench.shop.channel(one.key.channel)
    where = f"{one.key.channel} {one.blank}, {name}"
    if not text.strip():
        raise ShopError("no-such-text", f"{where}: an empty text", "to take yours away: --give-back")
    over = too_long(name, text, channel)
    if over:
        raise ShopError("text-too-long", f"{where}: {over}", "write a shorter text; nothing was changed")
    refused = Texts(bench.shop, state).refusal(channel, bench.shop.blank(one.blank), text)
    if refused:
        raise ShopError("blocked-text", f"{where}: {refused}", "write it without; nothing was changed")
    below = one.worded.below.get(name, text_of(one.worded.wording, name))
    digest = digest_of(below)  # a text written again has seen what is below it now
    data = {**one.key.as_data(), "field": name, "text": text, "below": digest}
    return Event(Happened.WORDED, str(one.key), data)


def give_back(bench: Bench, shown: ShownWords, name: str) -> int:
    """Take the seller's texts of a field away again, each by the inverse of its row; how many there were."""
    _check_field(name)
    count = 0
    for one in shown.listings:
        while (hand := bench.ledger().by_hand.get(one.key, {}).get(name)) is not None:
            bench.store.undo(hand.row)
            count += 1
    return count


def _check_field(name: str) -> None:
    if not is_field(name):
        near = did_you_mean(name, ["title", "story", "search words", "point 1"])
        fix = f"name one of {', '.join(FIELDS)}; {near}"
        raise ShopError("no-such-text", f'no text of a listing is called "{name}"', fix)


def list_names(bench: Bench) -> int:
    """Write names.csv with a row for each design named by its file; how many rows are new."""
    gathered = gather(bench, bench.runner())
    return write_names(bench.shop, shop_names(bench.shop), gathered.designs)


def renew_names(folder: Path) -> dict[str, int]:
    """Rewrite what channel files call by former names; by file, how many names are new.

    Works on a shop that cannot be opened for them. Raises ``no-shop``, ``not-utf8``, ``cannot-write``.
    """
    paths = require_shop(folder)
    files = ShopFiles(folder)
    renewed = {}
    for path in files.listed(paths.channels, "*.toml"):
        text, count = with_new_names(files.text(path))
        if count:
            write_whole(path, text.encode())
            renewed[files.name(path)] = count
    return renewed
