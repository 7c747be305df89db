"""Where the month stands, on one page: counts, what waits, the next pack with its pictures."""

import time
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from hundredfold.ledger.keys import ListingKey, PackKey
from hundredfold.ledger.state import Progress
from hundredfold.workshop.records.month import MonthRecord, PlanRecord
from hundredfold.workshop.records.state import PackRecord
from hundredfold.workshop.views.looking import Glance, Remembered, look_at
from hundredfold.workshop.views.months import kept_month, kept_plan
from hundredfold.workshop.views.packs import pack_records
from hundredfold.workshop.views.waiting import Waiting, waiting

_PICTURES = 6
_OPEN = ("planned", "made")
_UNSURE = (Progress.UNSURE.value, Progress.HANDING_OVER.value)


@dataclass(frozen=True)
class GoodsShown:
    """A design on a blank's colour, to be pictured."""

    design: str  # id
    blank: str
    colour: str


@dataclass(frozen=True)
class Today:
    """The shop as it stands today. ``start`` is the month's first day, "" where nothing is planned yet."""

    name: str
    start: str
    listings: int
    handed_over: int  # listings of this plan's packs
    refused: int  # rows
    left_over: int
    waiting: tuple[Waiting, ...]
    unsure: tuple[PackRecord, ...]
    next_pack: PackRecord | None
    pictures: tuple[GoodsShown, ...]
    made: int  # packs
    packs: int
    as_of: str
    at: str  # UTC, when it was prepared
    stale: bool
    channels: Mapping[str, str]  # code -> name
    lacking: tuple[str, ...]  # of designs, blanks, channels: what there is none of


def today_view(folder: Path) -> Today:
    """One moment of a shop. Raises as ``look_at`` does."""
    look = look_at(folder)
    return replace(_today.of(look, _view), stale=_stale(look), lacking=tuple(_lacking(look)))


def _newest(look: Glance) -> MonthRecord | PlanRecord | None:
    both: tuple[MonthRecord | PlanRecord | None, ...] = (kept_month(look), kept_plan(look))
    return max((one for one in both if one is not None), key=_when, default=None)


_STALE_S = 20.0  # how long it is believed that the shop's files are as they were seen
_today: Remembered[Today] = Remembered()
_seen: list[tuple[Glance, float, bool]] = []


def _stale(look: Glance) -> bool:
    """Whether the files changed since the newest month or plan: each of them is looked at, now and then."""
    now = time.monotonic()
    if not _seen or _seen[-1][0] is not look or now - _seen[-1][1] > _STALE_S:
        newest = _newest(look)
        _seen[:] = [(look, now, bool(newest and newest.as_of and newest.as_of.older_than_files))]
    return _seen[-1][2]


def _view(look: Glance) -> Today:
    month, plan = kept_month(look), kept_plan(look)
    newest = max((one for one in (month, plan) if one is not None), key=_when, default=None)
    packs = pack_records(look)
    ours = [one for one in packs if newest is None or one.day >= newest.start]
    next_pack = next((one for one in packs if one.state in _OPEN and one.listings), None)
    return Today(
        look.shop.settings.name,
        newest.start if newest else "",
        sum(one.listings for one in ours),
        sum(one.listings for one in ours if one.state == Progress.HANDED_OVER.value),
        sum(one.refused for one in packs),
        len(plan.left_over) if plan else 0,
        waiting(look, newest.findings if newest else ()),
        tuple(one for one in packs if one.state in _UNSURE),
        next_pack,
        tuple(_pictures(look, next_pack)) if next_pack else (),
        sum(one.state != "planned" for one in ours),
        len(ours),
        newest.as_of.note if newest and newest.as_of else "",
        _when(newest) if newest else "",
        False,
        {channel.code: channel.name for channel in look.shop.channels},
        (),
    )


def _when(record: MonthRecord | PlanRecord) -> str:
    return record.as_of.at if record.as_of else ""


def _pictures(look: Glance, pack: PackRecord) -> Iterator[GoodsShown]:
    """The first designs of a pack, each once."""
    seen: set[str] = set()
    for key, colours in _listings(look, PackKey(pack.channel, pack.day)):
        if key.design not in seen and colours and len(seen) < _PICTURES:
            seen.add(key.design)
            yield GoodsShown(key.design, key.blank, colours[0])


def _listings(look: Glance, key: PackKey) -> Iterator[tuple[ListingKey, tuple[str, ...]]]:
    known = look.state.packs.get(key)
    if known is not None:
        yield from ((one.key, one.colours) for one in known.listings)
        return
    for listing, planned in sorted(look.state.planned.items()):
        if listing.channel == key.channel and planned.day == key.day:
            yield listing, planned.colours


def _lacking(look: Glance) -> Iterator[str]:
    if not any(path.is_file() for path in look.shop.paths.designs.glob("**/*")):
        yield "designs"
    if not look.shop.blanks:
        yield "blanks"
    if not look.shop.channels:
        yield "channels"
