"""The month as days: each channel's listings with their reasons, its cap, and the occasions."""

from collections.abc import Iterable, Iterator
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

from hundredfold.catalogue.channels import Channel
from hundredfold.kernel.errors import ShopError
from hundredfold.kernel.grid import cell_text
from hundredfold.ledger.keys import ListingKey, PackKey
from hundredfold.ledger.planned import Planned, by_day, holds_moved, lacks_planned
from hundredfold.ledger.state import LedgerState
from hundredfold.planning.month import weight
from hundredfold.workshop.records.days import ChannelDay, DayListing, DaysView, OccasionRule
from hundredfold.workshop.records.state import PackRecord
from hundredfold.workshop.shop.spreadsheet import read_spreadsheet
from hundredfold.workshop.steps.identity import known_designs
from hundredfold.workshop.views.looking import Glance, Remembered, look_at
from hundredfold.workshop.views.months import kept_plan
from hundredfold.workshop.views.packs import pack_records

_OCCASIONS = "occasions.csv"


def days_view(folder: Path) -> DaysView:
    """One moment of a shop. Raises as ``look_at`` does."""
    look = look_at(folder)
    occasions, unread = _occasions(look.shop.paths.root / _OCCASIONS)
    return replace(_views.of(look, _view), occasions=occasions, unread=unread)


_views: Remembered[DaysView] = Remembered()


def _view(look: Glance) -> DaysView:
    days = channel_days(look, pack_records(look))
    plan = kept_plan(look)
    names = {one.code: one.name for one in look.shop.channels}
    return DaysView(days, (), names, dict(plan.left_over) if plan else {}, 0)


def channel_days(look: Glance, packs: Iterable[PackRecord]) -> tuple[ChannelDay, ...]:
    """The days of these packs at a moment."""
    channels = {one.code: one for one in look.shop.channels}
    paths = {key: one.path for key, one in known_designs(look.moment.events).items()}
    planned = by_day(look.state)
    return tuple(_day(look, pack, channels.get(pack.channel), paths, planned) for pack in packs)


def _day(
    look: Glance, pack: PackRecord, channel: Channel | None, paths: dict[str, str], planned: Planned
) -> ChannelDay:
    key, state = PackKey(pack.channel, pack.day), look.state
    names = {one.code: one.name for one in look.shop.blanks}
    listings = tuple(_listings(state, key, planned, paths, names))
    used = sum(weight(channel.cap_counts, one.rows) for one in listings) if channel else len(listings)
    return ChannelDay(
        pack.channel,
        channel.name if channel else pack.channel,
        pack.day,
        pack.state,
        used,
        channel.daily_cap if channel else 0,
        channel.cap_counts.value if channel else "listings",
        key in state.frozen_days,
        holds_moved(state, key, planned) or lacks_planned(state, key, planned),
        listings,
    )


def _listings(
    state: LedgerState, key: PackKey, planned: Planned, paths: dict[str, str], names: dict[str, str]
) -> Iterator[DayListing]:
    """What is planned for the day; of a day that has left the shop, what its pack held."""
    if key in state.frozen_days:
        for sent in state.packs[key].listings:
            rows = sum(row.listing == sent.key for row in state.packs[key].rows)
            yield _line(sent.key, sent.colours, sent.action, rows, "", paths, names)
        return
    for listing in sorted(planned.get(key, ())):
        day = state.planned[listing]
        line = _line(listing, day.colours, day.action, day.rows, day.reason, paths, names)
        yield replace(line, pinned=day.pinned)


def _line(
    key: ListingKey,
    colours: tuple[str, ...],
    action: str,
    rows: int,
    reason: str,
    paths: dict[str, str],
    names: dict[str, str],
) -> DayListing:
    blank = names.get(key.blank, key.blank)
    first = colours[0] if colours else ""
    path = paths.get(key.design, key.design)
    return DayListing(str(key), key.design, path, key.blank, blank, first, action, rows, reason)


def _occasions(file: Path) -> tuple[tuple[OccasionRule, ...], int]:
    """The occasions of the shop's own list, and how many of its rows could not be told."""
    if not file.is_file():
        return (), 0
    try:
        rows = read_spreadsheet(file)[0].rows[1:]
    except ShopError:
        return (), 1
    found = [_occasion([cell_text(cell) for cell in row]) for row in rows if any(map(cell_text, row))]
    rules = sorted((one for one in found if one is not None), key=lambda one: (one.day, one.name))
    return tuple(rules), sum(one is None for one in found)


def _occasion(cells: Iterable[str]) -> OccasionRule | None:
    name, day, weeks, *_ = (*cells, "", "", "")
    try:
        when = date.fromisoformat(day.strip())
        before = timedelta(weeks=int(weeks or 0))
        return OccasionRule(name.strip(), when.isoformat(), (when - before).isoformat())
    except (ValueError, OverflowError):
        return None
