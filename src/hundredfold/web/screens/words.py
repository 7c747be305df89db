"""The words of one design's listings: as they were written, changed by hand, marked, given back."""

from dataclasses import dataclass

from hundredfold.kernel.counting import counted
from hundredfold.kernel.errors import ShopError
from hundredfold.web.asking import Ask, Shown, action, screen
from hundredfold.web.clock import today
from hundredfold.web.said import Said
from hundredfold.workshop.month.listingwords import (
    ListingWords,
    ShownWords,
    give_back,
    listing_words,
    write_several,
)
from hundredfold.workshop.month.run import default_start
from hundredfold.workshop.shop.bench import Bench, bench
from hundredfold.workshop.views.onedesign import DesignSeen, design_seen

_BETWEEN = ", "  # of search words


@dataclass(frozen=True)
class TextField:
    """A text to change: its name for a form, its label, and whether it is the seller's own."""

    name: str
    label: str
    text: str
    mine: bool
    rows: int
    source: str


def show(ask: Ask) -> Shown:
    """The words of one listing; the others of the design are a press away."""
    found = design_seen(ask.shop, ask.keeping.pictures.book, ask.parts["design"])
    if not found.listings:
        what = f"{found.title} has no listing yet"
        raise ShopError("no-such-listing", what, "prepare the month first; its words are written then")
    pairs = sorted({(one.channel, one.blank) for one in found.listings})
    asked = (ask.query.get("channel", ""), ask.query.get("blank", ""))
    channel, blank = asked if asked in pairs else pairs[0]
    with bench(ask.shop, "words") as tools:
        words = _of(tools, found, channel, blank)
    shop = ask.keeping.pictures.book.shop()
    names = {one.code: one.name for one in shop.channels} | {one.code: one.name for one in shop.blanks}
    values = {
        "design": found,
        "fields": _fields(words.listings[0]),
        "findings": words.findings,
        "channel": channel,
        "blank": blank,
        "channels": list(dict.fromkeys(pair[0] for pair in pairs)),
        "blanks": [pair[1] for pair in pairs if pair[0] == channel],
        "names": names,
    }
    return Shown("listing.html", values)


def _of(tools: Bench, found: DesignSeen, channel: str, blank: str) -> ShownWords:
    return listing_words(tools, default_start(tools, today()), found.path, channel, blank)


def _fields(one: ListingWords) -> list[TextField]:
    words = one.worded.wording
    texts = {"title": words.title}
    texts |= {f"point {number}": point for number, point in enumerate(words.points, 1)}
    texts |= {"story": words.story, "search words": _BETWEEN.join(words.search_words)}
    sources = {trace.field: trace.source for trace in one.traces}
    tall = {"story": 5, "title": 2, "search words": 3}
    return [
        TextField(
            name, name.capitalize(), text, name in one.by_hand, tall.get(name, 2), sources.get(name, "")
        )
        for name, text in texts.items()
    ]


def keep(ask: Ask) -> Said:
    """Keep what was changed, as one decision. Raises as ``write_several`` does."""
    form = ask.form
    found = design_seen(ask.shop, ask.keeping.pictures.book, form.text("design"))
    channel, blank = form.text("channel"), form.text("blank")
    back = f"/designs/{found.id}/words?channel={channel}&blank={blank}"
    with bench(ask.shop, "words") as tools:
        words = _of(tools, found, channel, blank)
        given = form.text("give back")
        if given:
            count = give_back(tools, words, given)
            said = f"Your {given} is taken away; the program’s own stands again."
            return Said(said if count else f"No {given} of yours stands there.", back)
        shown = {one.name: one.text for one in _fields(words.listings[0])}
        sent = {name: " ".join(form.text(name).split()) for name in shown if name in form.fields}
        changed = {name: text for name, text in sent.items() if text != " ".join(shown[name].split())}
        if not changed:
            return Said("Nothing was changed.", back)
        decision = write_several(tools, words, changed)
    said = f"{counted(len(changed), 'text')} of yours kept; preparing the month puts them in."
    return Said(said, back, decision)


ROUTES = (screen("/designs/{design}/words", show), action("/design/words", keep))
