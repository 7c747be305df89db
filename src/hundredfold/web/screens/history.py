"""History: every decision with its way back."""

from datetime import datetime

from hundredfold.web.asking import Ask, Shown, action, screen
from hundredfold.web.said import Said
from hundredfold.workshop.records.state import DecisionRecord
from hundredfold.workshop.shop.history import undo, unlock
from hundredfold.workshop.views.history import history_view

_PAGE = 60
_MOST = 5000


def history(ask: Ask) -> Shown:
    """Decisions, the newest first. ``q`` narrows them; ``last`` shows more."""
    text = ask.query.get("q", "").strip()
    asked = ask.query.get("last", "")
    last = min(int(asked), _MOST) if asked.isascii() and asked.isdigit() and len(asked) < 6 else _PAGE
    found = history_view(ask.shop, text, max(last, 1) + 1).decisions
    shown = tuple(reversed(found[-max(last, 1) :]))
    days: dict[str, list[DecisionRecord]] = {}
    for one in shown:
        days.setdefault(_day(one.at), []).append(one)
    newest = next((one.decision for one in shown if one.can_be_undone and not one.undoes), 0)
    values = {
        "days": days,
        "q": text,
        "more": len(found) > len(shown),
        "next": min(max(last, 1) + _PAGE, _MOST),
        "newest": newest if not text else 0,
        "time": _time,
        "say": said_of,
    }
    return Shown("history.html", values)


def said_of(one: DecisionRecord) -> str:
    """A decision in the seller's words."""
    words = one.what
    return words[0].upper() + words[1:] if words else "Noted"


def _day(at: str | None) -> str:
    if not at:
        return "Earlier"
    local = datetime.fromisoformat(at).astimezone()
    return f"{local:%A} {local.day} {local:%B %Y}"


def _time(at: str | None) -> str:
    return f"{datetime.fromisoformat(at).astimezone():%H:%M}" if at else ""


def undo_one(ask: Ask) -> Said:
    """Take a decision of the history back. Raises as ``workshop.shop.history.undo`` does."""
    rows = undo(ask.shop, [ask.form.whole("decision")])
    return Said("It is taken back.", "/history", rows[0].decision if rows else 0)


def clear_lock(ask: Ask) -> Said:
    """Clear the lock that a run on another computer left."""
    was = unlock(ask.shop)
    if was is None:
        return Said("Nothing held the shop.", "/history")
    return Said(f"Cleared: {was.command} had held the shop since {was.taken} on {was.host}.", "/history")


ROUTES = (
    screen("/history", history),
    action("/history/undo", undo_one),
    action("/history/unlock", clear_lock),
)
