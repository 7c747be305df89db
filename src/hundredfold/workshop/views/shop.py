"""The shop as it stands, on one page."""

from contextlib import closing
from pathlib import Path

from hundredfold.ledger.state import Progress
from hundredfold.store.moment import RunningRow, running_of
from hundredfold.workshop.records.common import worst_first
from hundredfold.workshop.records.month import MonthRecord, PlanRecord
from hundredfold.workshop.records.state import RunningRecord, ShopView
from hundredfold.workshop.shop.paths import ShopPaths
from hundredfold.workshop.shop.record import open_record
from hundredfold.workshop.views.looking import Glance, look_at
from hundredfold.workshop.views.months import kept_month, kept_plan
from hundredfold.workshop.views.packs import pack_records

# Hand-overs that wait for a person.
_UNSURE = (Progress.UNSURE.value, Progress.HANDING_OVER.value)


def shop_view(folder: Path) -> ShopView:
    """What the month came to, what waits (worst first), the next pack, and who works on it now."""
    look = look_at(folder)
    month, plan = kept_month(look), kept_plan(look)
    # While a month runs, or after one that was cut off, its plan is newer than the last month that ended.
    newest = max((one for one in (month, plan) if one and one.as_of), key=_when, default=None)
    packs = pack_records(look)
    ready = [one.pack for one in packs if one.state in ("planned", "made")]
    settings = look.shop.settings
    return ShopView(
        settings.name,
        settings.currency,
        month,
        worst_first(newest.findings) if newest else (),
        tuple(one.pack for one in packs if one.state in _UNSURE),
        ready[0] if ready else "",
        running_record(look),
    )


def running_view(folder: Path) -> RunningRecord | None:
    """The work that goes on now; None where nobody works."""
    return running_record(look_at(folder))


def running_now(folder: Path) -> RunningRecord | None:
    """The same from one row, for whoever asks every second; None where there is no shop yet."""
    paths = ShopPaths(folder)
    if not paths.settings.is_file():
        return None
    with closing(open_record(paths)) as store:
        return _running(running_of(store.database))


def running_record(look: Glance) -> RunningRecord | None:
    """The same of a moment."""
    return _running(look.moment.running)


def _running(row: RunningRow | None) -> RunningRecord | None:
    if row is None:
        return None
    holder = row.holder
    return RunningRecord(
        holder.command, holder.taken, holder.host, holder.pid, row.stage, row.settled, row.of_all, row.noted
    )


def _when(record: MonthRecord | PlanRecord) -> str:
    return record.as_of.at if record.as_of else ""
