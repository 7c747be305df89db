"""The numbered runs of a shop."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import insert, select, update

from hundredfold.store.database import Database
from hundredfold.store.mapping import time_of, time_text
from hundredfold.store.schema import runs as table


@dataclass(frozen=True)
class Run:
    """One run; ``ended`` is None where it was cut off, or still goes on. Times in UTC."""

    number: int
    command: str
    started: datetime
    ended: datetime | None
    summary: str


class RunBook:
    """``clock`` gives the times."""

    def __init__(self, database: Database, clock: Callable[[], datetime]) -> None:
        self._database = database
        self._clock = clock

    def begin(self, command: str) -> int:
        """Open a run and give its number."""
        row = {"command": command, "started": time_text(self._clock()), "summary": ""}
        with self._database.writing() as connection:
            number = connection.execute(insert(table).values(row)).inserted_primary_key
            assert number is not None
            return int(number[0])

    def note(self, number: int, stage: str, settled: int, of_all: int) -> None:
        """Say how far a run is, for whoever looks meanwhile."""
        changes = {"stage": stage, "settled": settled, "of_all": of_all, "noted": time_text(self._clock())}
        with self._database.writing() as connection:
            connection.execute(update(table).where(table.c.number == number).values(changes))

    def end(self, number: int, summary: str) -> None:
        """Close a run with its closing line. A run that is never closed counts as cut off."""
        changes = {"ended": time_text(self._clock()), "summary": summary}
        with self._database.writing() as connection:
            connection.execute(update(table).where(table.c.number == number).values(changes))

    def named(self) -> dict[int, str]:
        """Every run by number, as a person knows it: what was asked for, and when (UTC)."""
        query = select(table.c.number, table.c.command, table.c.started)
        with self._database.reading() as connection:
            return {
                row.number: f"run {row.number} ({row.command}, {row.started[:16].replace('T', ' ')})"
                for row in connection.execute(query)
            }

    def completed(self, last: int, command: str | None = None) -> tuple[Run, ...]:
        """The newest ``last`` runs (of this command, where given) that were closed, newest first."""
        query = select(table).where(table.c.ended.is_not(None)).order_by(table.c.number.desc()).limit(last)
        if command is not None:
            query = query.where(table.c.command == command)
        with self._database.reading() as connection:
            return tuple(
                Run(row.number, row.command, time_of(row.started), time_of(row.ended), row.summary)
                for row in connection.execute(query)
            )
