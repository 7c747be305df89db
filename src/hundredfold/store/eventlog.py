"""The ledger's rows in the database: appended, read, taken back by their inverse, never changed."""

from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import UTC, datetime

from sqlalchemy import Connection, Select, func, insert, select

from hundredfold.kernel.errors import ShopError
from hundredfold.ledger.decisions import Decision, decisions_of
from hundredfold.ledger.events import Event, Happened
from hundredfold.ledger.fold import LASTING
from hundredfold.store.database import Database
from hundredfold.store.mapping import event_of, event_row, inverse, time_of
from hundredfold.store.schema import events as table


class EventLog:
    """``clock`` gives the time of an appended row; it may have any time zone."""

    def __init__(self, database: Database, clock: Callable[[], datetime]) -> None:
        self._database = database
        self._clock = clock

    def append(self, events: Iterable[Event], decision: int = 0) -> tuple[Event, ...]:
        """Append these, all or none, and give them back with number and UTC time.

        They are one decision, known by the number of its first row; ``decision`` adds them to an earlier one.
        """
        fresh = tuple(events)
        if not fresh:
            return ()
        with self._database.writing() as connection:
            return self._append(connection, fresh, decision)

    def _append(self, connection: Connection, fresh: Sequence[Event], decision: int = 0) -> tuple[Event, ...]:
        last = connection.scalar(select(func.max(table.c.number))) or 0
        latest = connection.scalar(select(func.max(table.c.at)))
        at = self._clock().astimezone(UTC)
        if latest is not None and time_of(latest) > at:
            at = time_of(latest)  # a clock set back must not reorder what happened
        numbered = tuple(
            replace(each, number=last + place, at=at, decision=decision or last + 1)
            for place, each in enumerate(fresh, start=1)
        )
        rows = [{"number": each.number, **event_row(each, at)} for each in numbered]
        connection.execute(insert(table), rows)
        return numbered

    def events(
        self, since: int = 0, kinds: Collection[Happened] | None = None, subject: str | None = None
    ) -> tuple[Event, ...]:
        """The rows with numbers above ``since``, in order; only these kinds and this subject where given."""
        query = _columns().where(table.c.number > since).order_by(table.c.number)
        if kinds is not None:
            query = query.where(table.c.happened.in_([kind.value for kind in kinds]))
        if subject is not None:
            query = query.where(table.c.subject == subject)
        with self._database.reading() as connection:
            return tuple(map(event_of, connection.execute(query)))

    def last_number(self) -> int:
        """The number of the newest row; 0 while there is none."""
        with self._database.reading() as connection:
            return connection.scalar(select(func.max(table.c.number))) or 0

    def history(self, subject: str) -> tuple[Event, ...]:
        """All that happened to one subject, with what was taken back and what took it back."""
        return self.events(subject=subject)

    def undo(self, number: int) -> Event:
        """Append the inverse of a row; undoing an undo brings the row back.

        Raises ShopError ``no-such-entry``, ``already-undone``, and ``cannot-be-undone`` for what has left the
        house: the fold would not heed it.
        """
        with self._database.writing() as connection:
            found = connection.execute(_columns().where(table.c.number == number)).one_or_none()
            if found is None:
                raise _no_such_entry(number)
            event = event_of(found)
            if event.happened in LASTING:
                raise _cannot_be_undone(event)
            if not self._stands(connection, number):
                raise _already_undone(number)
            return self._append(connection, [inverse(event)])[0]

    def undo_decisions(self, ids: Sequence[int]) -> tuple[Event, ...]:
        """Append the inverse of every row of these decisions that still counts: one decision, all or none.

        Raises ShopError ``no-such-decision``, ``already-undone``, and ``cannot-be-undone`` for what has left
        the house.
        """
        with self._database.writing() as connection:
            decided = {one.id: one for one in decisions_of(self._everything(connection))}
            wanted = [self._undoable(decided, each) for each in dict.fromkeys(ids)]
            rows = [event for one in wanted for event in one.events if event.happened not in LASTING]
            standing = [event for event in rows if self._stands(connection, event.number)]
            return self._append(connection, [inverse(event) for event in standing])

    def _undoable(self, decided: Mapping[int, Decision], number: int) -> Decision:
        one = decided.get(number)
        if one is None:
            raise _no_such_decision(number, next((d.id for d in decided.values() if _has(d, number)), 0))
        if one.lasting:
            raise _cannot_be_undone(one.events[0])
        if not any(event.happened not in LASTING for event in one.events) or not _still_counts(one):
            raise _already_undone(number)
        return one

    def _everything(self, connection: Connection) -> list[Event]:
        return [event_of(row) for row in connection.execute(_columns().order_by(table.c.number))]

    def _stands(self, connection: Connection, number: int) -> bool:
        undoing = connection.scalars(select(table.c.number).where(table.c.undoes == number)).all()
        return not any(self._stands(connection, each) for each in undoing)


def _columns() -> Select[tuple[int, str, str, str, str, int | None, int]]:
    c = table.c
    return select(c.number, c.at, c.happened, c.subject, c.data, c.undoes, c.decision)


def _has(decision: Decision, number: int) -> bool:
    return any(event.number == number for event in decision.events)


def _still_counts(decision: Decision) -> bool:
    stays = sum(event.happened in LASTING for event in decision.events)
    return decision.standing > stays


def _no_such_decision(number: int, within: int) -> ShopError:
    if within:
        what = f"entry {number} is one of several that were decided together"
        fix = f"take all of them back with undo {within}, or this one alone with undo --row {number}"
    else:
        what = f"there is no decision {number} in this shop's history"
        fix = "look the number up in the history, then give it again"
    return ShopError("no-such-decision", what, fix)


def _no_such_entry(number: int) -> ShopError:
    return ShopError(
        "no-such-entry",
        f"there is no entry {number} in this shop's history",
        "look the number up in the history, then give it again",
    )


def _cannot_be_undone(event: Event) -> ShopError:
    return ShopError(
        "cannot-be-undone",
        f"entry {event.number} says '{event.happened.value}' of {event.subject}, which cannot be taken back",
        "plan a change or an end for the listing instead",
    )


def _already_undone(number: int) -> ShopError:
    return ShopError(
        "already-undone",
        f"entry {number} has been taken back already",
        "to bring it back, undo the entry that took it back; the history shows its number",
    )
