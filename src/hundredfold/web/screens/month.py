"""This month: where it stands, what waits for the seller, the next pack, running work."""

from datetime import date

from hundredfold.kernel.counting import counted
from hundredfold.web.asking import Ask, Shown, action, screen
from hundredfold.web.clock import today as this_day
from hundredfold.web.said import Said
from hundredfold.web.screens.first import first_page
from hundredfold.web.screens.working import seen
from hundredfold.workshop.shop.newshop import is_shop
from hundredfold.workshop.views.today import Today, today_view
from hundredfold.workshop.work.background import Work

_SHOWN = 12


def month(ask: Ask) -> Shown:
    """The page that opens first; of a shop that is only begun, the step that comes next."""
    if not is_shop(ask.shop):
        return first_page(ask)
    today = today_view(ask.shop)
    work = seen(ask)
    every = ask.query.get("all") == "1"
    return Shown(
        "month.html",
        {
            "today": today,
            "work": work,
            "sentence": _sentence(today, work.going),
            "lead": _lead(today),
            "waiting": today.waiting if every else today.waiting[:_SHOWN],
            "more": 0 if every else max(0, len(today.waiting) - _SHOWN),
            "ended": ask.keeping.work.ended,
            "next_day": _day(today.next_pack.day) if today.next_pack else "",
        },
    )


def start(ask: Ask) -> Said:
    """Prepare the month, or go on with it."""
    ask.keeping.work.start(Work.MONTH)
    return Said("", "/")


def _sentence(today: Today, going: bool) -> str:
    if today.lacking:
        return f"The shop has no {today.lacking[0]} yet."
    if not today.start:
        return "The month is being prepared." if going else "The month is ready to be prepared."
    name = f"{date.fromisoformat(today.start):%B}"
    if today.unsure:
        return f"{name} waits for a word on {counted(len(today.unsure), 'pack')}."
    if today.made < today.packs or going:
        return f"{name} is being prepared." if going else f"{name} is planned, not all of it is made."
    if today.listings and today.handed_over == today.listings:
        return f"{name} is handed over."
    return f"{name} is ready." if not today.handed_over else f"{name} is on time."


def _lead(today: Today) -> str:
    if not today.start:
        return "It is judged, pictured, priced and planned in one go; nothing leaves this computer."
    refused = f", {counted(today.refused, 'row')} refused" if today.refused else ""
    gone = f"{today.handed_over} of them handed over" if today.handed_over else "none handed over yet"
    parts = [f"{counted(today.listings, 'listing')} planned, {gone}{refused}."]
    if today.waiting:
        things = counted(len(today.waiting), "thing waits", "things wait")
        parts.append(f"{things} for you, worst first.")
    else:
        parts.append("Nothing waits for you.")
    if today.left_over:
        parts.append(f"{today.left_over} more would go out if the daily caps had room.")
    return " ".join(parts)


def _day(day: str) -> str:
    found = date.fromisoformat(day)
    left = (found - this_day()).days
    if left == 0:
        return "due today"
    if left == 1:
        return "due tomorrow"
    return f"due {found:%A} {found.day} {found:%B}" if left > 0 else f"was due {found.day} {found:%B}"


ROUTES = (screen("/", month), action("/month/start", start))
