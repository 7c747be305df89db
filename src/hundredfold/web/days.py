"""Days as the page says them."""

from datetime import date

from hundredfold.web.clock import today


def day_words(day: str) -> str:
    """``Friday 1 January``; what is no day stays as it is."""
    try:
        found = date.fromisoformat(day)
    except ValueError:
        return day
    return f"{found:%A} {found.day} {found:%B}"


def due_words(day: str) -> str:
    """When a day is, as said from today: ``due tomorrow``, ``was due 2 January``."""
    try:
        found = date.fromisoformat(day)
    except ValueError:
        return day
    left = (found - today()).days
    if left == 0:
        return "due today"
    if left == 1:
        return "due tomorrow"
    return f"due {day_words(day)}" if left > 0 else f"was due {found.day} {found:%B}"
