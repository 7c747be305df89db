"""Calendar: the month as days with pictures; a listing, a design or a day moved by form, key or drag."""

import calendar as calendars
import contextlib
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta

from hundredfold.designs.names import title_from
from hundredfold.kernel.counting import counted
from hundredfold.kernel.errors import ShopError
from hundredfold.ledger.choices import Answer, Choice, ChoiceKey
from hundredfold.ledger.keys import ListingKey
from hundredfold.web.asking import Ask, Shown, action, screen
from hundredfold.web.clock import today
from hundredfold.web.days import day_words
from hundredfold.web.said import Said
from hundredfold.web.screens.working import seen
from hundredfold.workshop.listing.choices import choose
from hundredfold.workshop.month.moving import move_listings, pin_listings
from hundredfold.workshop.records.days import ChannelDay, DaysView, OccasionRule
from hundredfold.workshop.views.days import days_view

_PICTURES = 6
_LONGEST = 62  # days drawn at once


@dataclass(frozen=True)
class DrawnDay:
    """A day of the calendar; ``channels`` are what goes out on it."""

    day: date
    inside: bool
    past: bool
    now: bool
    channels: tuple[ChannelDay, ...]
    occasions: tuple[OccasionRule, ...]
    starts: tuple[OccasionRule, ...]

    @property
    def pictures(self) -> tuple[tuple[str, str], ...]:
        """Design ids with their paths, each once, at most six."""
        every = {one.design: one.path for each in self.channels for one in each.listings}
        return tuple(every.items())[:_PICTURES]


def month(ask: Ask) -> Shown:
    """The planned days in weeks."""
    view = days_view(ask.shop)
    first, last = _span(view, ask.query.get("month", ""))
    months = sorted({one.day[:7] for one in view.days})
    values = {
        "view": view,
        "weeks": _weeks(view, first, last),
        "months": [(one, f"{date.fromisoformat(one + '-01'):%B}") for one in months],
        "month": f"{first:%Y-%m}",
        "sentence": _sentence(view),
        "lead": _lead(view.days),
        "more_waits": len(view.left_over),
        "dows": list(calendars.day_name),
        "day_words": day_words,
        "work": seen(ask),
        "waiting": _waiting(ask, view),
        "remade": any(one.remade for one in view.days),
    }
    return Shown("calendar.html", values)


def _waiting(ask: Ask, view: DaysView) -> list[tuple[str, str, list[str]]]:
    """What found no day: channel, why, and each listing by its design's and blank's names."""
    book = ask.keeping.pictures.book
    goods = {one.code: one.name for one in book.shop().blanks} if view.left_over else {}
    groups: dict[tuple[str, str], list[str]] = {}
    for listing, why in view.left_over.items():
        key = _key(listing)
        with contextlib.suppress(ShopError):
            name = title_from(book.art(key.design).path.rpartition("/")[2])
            groups.setdefault((key.channel, why), []).append(f"{name}, {goods.get(key.blank, key.blank)}")
    return [(view.names.get(code, code), why, sorted(found)) for (code, why), found in groups.items()]


def day(ask: Ask) -> Shown:
    """One day: each listing with its reason, and where it could go."""
    view = days_view(ask.shop)
    which = _day_of(ask.parts["day"])
    channels = tuple(one for one in view.days if one.day == which.isoformat())
    values = {
        "which": which.isoformat(),
        "words": day_words(which.isoformat()),
        "channels": channels,
        "room": {one.channel: _with_room(view, one) for one in channels},
        "before": (which - timedelta(days=1)).isoformat(),
        "after": (which + timedelta(days=1)).isoformat(),
        "sentence": _day_sentence(which, channels),
        "occasions": [one for one in view.occasions if one.live_from <= which.isoformat() <= one.day],
        "work": seen(ask),
        "today": today().isoformat(),
    }
    return Shown("day.html", values)


def move(ask: Ask) -> Said:
    """Move listings to a day. Raises as ``move_listings`` does."""
    form = ask.form
    to = _day_of(form.text("to"))
    keys = tuple(dict.fromkeys(_key(text) for text in form.texts("listing")))
    if not keys:
        keys = _all_of(ask, form.text("from"), form.text("channel"), form.text("design"))
    done = move_listings(ask.shop, keys, to, today())
    back = form.text("back", "/calendar")
    if not done.listings:
        return Said(f"They are planned for {day_words(to.isoformat())} already.", back)
    plain = counted(done.listings, "listing")
    said = f"{plain} moved to {day_words(to.isoformat())}; preparing the month makes the packs anew."
    return Said(said, back, done.decision)


def pin(ask: Ask) -> Said:
    """Hold listings on their day, or let them go. Raises as ``pin_listings`` does."""
    form = ask.form
    keys, hold = _ticked(ask), form.text("pin") == "yes"
    done = pin_listings(ask.shop, keys, hold)
    if not done.listings:
        return Said("They are pinned already." if hold else "None of them is pinned.", form.text("back"))
    said = f"{counted(done.listings, 'listing')} {'pinned to this day' if hold else 'no longer pinned'}."
    return Said(said, form.text("back", "/calendar"), done.decision)


def ban(ask: Ask) -> Said:
    """Never send these designs on these blanks to their channel. Raises as ``choose`` does."""
    keys = _ticked(ask)
    choices = [
        Choice(ChoiceKey(one.design, one.blank, channel=one.channel), Answer.REFUSE, "banned on the calendar")
        for one in keys
    ]
    decision = choose(ask.shop, choices)
    said = f"{counted(len(keys), 'listing')} never sent; preparing the month gives the room to others."
    return Said(said, ask.form.text("back", "/calendar"), decision)


def _ticked(ask: Ask) -> tuple[ListingKey, ...]:
    keys = tuple(dict.fromkeys(_key(text) for text in ask.form.texts("listing")))
    if not keys:
        raise ShopError("bad-form", "no listing is chosen", "tick those that are meant")
    return keys


def _all_of(ask: Ask, day: str, channel: str, design: str) -> tuple[ListingKey, ...]:
    """A whole day's listings, of one channel and of one design where they are named."""
    found = [
        _key(one.listing)
        for each in days_view(ask.shop).days
        if each.day == day and channel in ("", each.channel)
        for one in each.listings
        if design in ("", one.design)
    ]
    if not found:
        raise ShopError("bad-form", "no listing is chosen", "tick those that should move")
    return tuple(found)


def _key(text: str) -> ListingKey:
    parts = text.split("/")
    if len(parts) != 3 or not all(parts):
        raise ShopError("bad-form", "the page sent no listing", "load the calendar again")
    channel, blank, design = parts
    return ListingKey(channel, design, blank)


def _day_of(text: str) -> date:
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise ShopError("bad-form", f'"{text[:20]}" is no day', "choose a day of the calendar") from None


def _span(view: DaysView, asked: str) -> tuple[date, date]:
    """The first and last day drawn: the month asked for, else the one of the next open day."""
    days = [date.fromisoformat(one.day) for one in view.days]
    open_ = [date.fromisoformat(one.day) for one in view.days if not one.frozen]
    chosen = min(open_, default=max(days, default=today()))
    try:
        chosen = date.fromisoformat(f"{asked}-01") if asked else chosen
    except ValueError:
        raise ShopError("bad-form", f'"{asked[:20]}" is no month', "choose one of the calendar") from None
    last = calendars.monthrange(chosen.year, chosen.month)[1]
    return chosen.replace(day=1), chosen.replace(day=last)


def _weeks(view: DaysView, first: date, last: date) -> list[list[DrawnDay]]:
    by_day: dict[str, list[ChannelDay]] = {}
    for one in view.days:
        by_day.setdefault(one.day, []).append(one)
    at = first - timedelta(days=first.weekday())
    weeks: list[list[DrawnDay]] = []
    while at <= last and len(weeks) * 7 < _LONGEST:
        weeks.append([_cell(view, by_day, at + timedelta(days=n), first, last) for n in range(7)])
        at += timedelta(days=7)
    return weeks


def _cell(view: DaysView, by_day: dict[str, list[ChannelDay]], at: date, first: date, last: date) -> DrawnDay:
    name, now = at.isoformat(), today()
    due = tuple(one for one in view.occasions if one.day == name)
    starts = tuple(one for one in view.occasions if one.live_from == name)
    inside = first <= at <= last
    return DrawnDay(
        at, inside, at < now, at == now, tuple(by_day.get(name, ())) if inside else (), due, starts
    )


def _sentence(view: DaysView) -> str:
    if not view.days:
        return "Nothing is planned yet."
    open_ = [one for one in view.days if not one.frozen]
    last = date.fromisoformat(view.days[-1].day)
    until = f"{last.day} {last:%B}"
    return f"Planned to {until}." if open_ else f"Everything planned to {until} has gone out."


def _lead(days: Iterable[ChannelDay]) -> str:
    caps = dict.fromkeys(f"{one.name} takes {one.cap} {one.counts} a day" for one in days)
    return f"{', '.join(caps)}. A blue rule is an occasion to be live for." if caps else ""


def _with_room(view: DaysView, one: ChannelDay) -> list[tuple[str, str]]:
    """Days to move to, with what room is left."""
    known = {each.day: each for each in view.days if each.channel == one.channel}
    start = max(today(), date.fromisoformat(min(known)))
    end = date.fromisoformat(max(known)) + timedelta(days=7)
    found = []
    for number in range(min((end - start).days + 1, _LONGEST)):
        name = (start + timedelta(days=number)).isoformat()
        there = known.get(name)
        left = one.cap - there.used if there else one.cap
        if name != one.day and left > 0 and not (there and there.frozen):
            found.append((name, f"{day_words(name)}, {left} of {one.cap} {one.counts} free"))
    return found


def _day_sentence(which: date, channels: tuple[ChannelDay, ...]) -> str:
    listings = sum(len(one.listings) for one in channels)
    words = day_words(which.isoformat())
    return f"{words}: {counted(listings, 'listing')}." if listings else f"Nothing goes out on {words}."


ROUTES = (
    screen("/calendar", month),
    screen("/calendar/{day}", day),
    action("/calendar/move", move),
    action("/calendar/pin", pin),
    action("/calendar/ban", ban),
)
