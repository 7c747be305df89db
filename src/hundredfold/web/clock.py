"""Today, where the seller is."""

from datetime import UTC, date, datetime


def now() -> datetime:
    """The time of this computer's own time zone."""
    return datetime.now(UTC).astimezone()


def today() -> date:
    """The date of this computer's own time zone."""
    return datetime.now(UTC).astimezone().date()
