"""The plan, the month and the calendar, as the last run left them."""

from dataclasses import replace
from pathlib import Path

from hundredfold.workshop.records.month import MonthRecord, PlanRecord
from hundredfold.workshop.records.state import CalendarView, DayRecord
from hundredfold.workshop.steps.kept import MONTH, PLAN
from hundredfold.workshop.views.looking import Glance, look_at
from hundredfold.workshop.views.packs import pack_records


def plan_view(folder: Path) -> PlanRecord | None:
    """The plan that a run left last; None where no run has come that far."""
    return kept_plan(look_at(folder))


def month_view(folder: Path) -> MonthRecord | None:
    """What the last month came to, problems or none; None where none has ended yet."""
    return kept_month(look_at(folder))


def kept_plan(look: Glance) -> PlanRecord | None:
    """The same of a moment."""
    found = look.kept(PlanRecord, PLAN)
    return replace(found[0], as_of=look.as_of(found[1])) if found else None


def kept_month(look: Glance) -> MonthRecord | None:
    """The same of a moment."""
    found = look.kept(MonthRecord, MONTH)
    return replace(found[0], as_of=look.as_of(found[1])) if found else None


def calendar_view(folder: Path) -> CalendarView:
    """Each channel's days with what goes out, and the caps they are under."""
    look = look_at(folder)
    caps = {
        channel.code: f"{channel.daily_cap} {channel.cap_counts.value} a day"
        for channel in look.shop.channels
    }
    days = (DayRecord(one.day, one.channel, one.listings, one.rows, one.state) for one in pack_records(look))
    return CalendarView(caps, tuple(days))
