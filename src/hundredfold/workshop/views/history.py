"""What was decided in a shop, as records."""

from pathlib import Path

from hundredfold.ledger.decisions import Decision
from hundredfold.ledger.events import Event
from hundredfold.workshop.records.state import DecisionRecord, EntryRecord, HistoryView
from hundredfold.workshop.shop.history import decisions


def history_view(folder: Path, text: str = "", last: int = 20) -> HistoryView:
    """The newest decisions, oldest first; only those about what holds ``text``, where given.

    Reads no settings, so that a mistake in them stands in nobody's way.
    """
    return HistoryView(tuple(decision_record(one) for one in decisions(folder, text, last)))


def decision_record(one: Decision) -> DecisionRecord:
    """A decision as it is shown."""
    entries = tuple(_entry(event) for event in one.events)
    can_be_undone = one.stands and not one.lasting
    undoes = one.undoes or None
    return DecisionRecord(
        one.id, _time(one.events[0]), one.what, one.about, undoes, one.stands, can_be_undone, entries
    )


def _entry(event: Event) -> EntryRecord:
    return EntryRecord(
        event.number, _time(event), event.happened.value, event.subject, event.undoes, dict(event.data)
    )


def _time(event: Event) -> str | None:
    return event.at.isoformat() if event.at else None
