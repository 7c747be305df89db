"""Outputs, failures and file digests in the database: the build's memory between runs."""

from collections.abc import Iterable, Mapping, Sequence
from types import MappingProxyType
from typing import Any

from sqlalchemy import Connection, Select, Table, bindparam, delete, func, select, update
from sqlalchemy.dialects import postgresql, sqlite

from hundredfold.runner.rows import FailureRow, FileStamp, MadeRow
from hundredfold.store.database import Database
from hundredfold.store.mapping import failure_row, made_row, stamp_of, stamp_row
from hundredfold.store.schema import failures, kept, made, runs, stamps, step_runs


def upsert(
    connection: Connection,
    table: Table,
    rows: Sequence[Mapping[str, object]],
    kept: Mapping[str, Any] = MappingProxyType({}),
) -> None:
    """Insert rows, or overwrite those with the same primary key; ``kept`` takes columns from the old row."""
    if not rows:
        return
    keys = [column.name for column in table.primary_key]
    make: Any = postgresql.insert if connection.dialect.name == "postgresql" else sqlite.insert
    statement = make(table)
    changes = {name: statement.excluded[name] for name in rows[0] if name not in keys} | dict(kept)
    if changes:
        statement = statement.on_conflict_do_update(index_elements=keys, set_=changes)
    else:
        statement = statement.on_conflict_do_nothing()
    connection.execute(statement, rows)


class BuildBook:
    """Implements ``runner.rows.BuildRows`` and ``runner.rows.StampRows``."""

    def __init__(self, database: Database) -> None:
        self._database = database

    def made(self) -> Iterable[MadeRow]:
        """All newest outputs, without their recipe texts."""
        c = made.c
        query = select(c.item, c.step, c.key, c.output, c.bytes)
        with self._database.reading() as connection:
            return [MadeRow(*row) for row in connection.execute(query)]

    def outputs(self, steps: Sequence[str]) -> Sequence[MadeRow]:
        """The newest outputs of these steps, by item, without their recipe texts."""
        c = made.c
        query = select(c.item, c.step, c.key, c.output, c.bytes).where(c.step.in_(steps))
        with self._database.reading() as connection:
            return sorted((MadeRow(*row) for row in connection.execute(query)), key=lambda row: row.item)

    def made_for(self, item: str) -> Sequence[MadeRow]:
        """The outputs of one item, one a step, with their recipe texts."""
        return self._whole(made.c.item == item)

    def made_as(self, output: str) -> Sequence[MadeRow]:
        """The rows whose output has this digest, with their recipe texts."""
        return self._whole(made.c.output == output)

    def _whole(self, condition: Any) -> Sequence[MadeRow]:
        c = made.c
        query = select(c.item, c.step, c.key, c.output, c.bytes, c.recipe, c.run, c.made_in, c.before)
        with self._database.reading() as connection:
            rows = [MadeRow(*row) for row in connection.execute(query.where(condition))]
        return sorted(rows, key=lambda row: (row.item, row.step))  # here: a server sorts by its own language

    def save(self, run: int, made_rows: Sequence[MadeRow], failed: Sequence[FailureRow]) -> None:
        """Keep new outputs (each clears the failure of its item and step) and new failures, all or none."""
        with self._database.writing() as connection:
            upsert(connection, made, [made_row(row, run) for row in made_rows], {"before": made.c.recipe})
            _delete(connection, failures, [(row.item, row.step) for row in made_rows])
            upsert(connection, failures, [failure_row(row, run) for row in failed])
            _note_steps(connection, run, {row.step for row in made_rows} | {row.step for row in failed})

    def touch(self, run: int, used: Sequence[tuple[str, str]]) -> None:
        """Note that this run used these (item, step) rows."""
        statement = update(made).where(made.c.item == bindparam("i"), made.c.step == bindparam("s"))
        if used:
            with self._database.writing() as connection:
                pairs = [{"i": item, "s": step} for item, step in used]
                connection.execute(statement.values(run=run), pairs)
                _note_steps(connection, run, {step for _, step in used})

    def failures(self) -> Sequence[FailureRow]:
        """What could not be made and has not been made since."""
        c = failures.c
        query = select(c.item, c.step, c.key, c.recipe, c.sentence, c.log, c.run)
        with self._database.reading() as connection:
            rows = [FailureRow(*row) for row in connection.execute(query)]
        return sorted(rows, key=lambda row: (row.item, row.step))

    def mean_bytes(self) -> Mapping[str, float]:
        """The mean size of an output, by step."""
        query = select(made.c.step, func.avg(made.c.bytes)).group_by(made.c.step)
        with self._database.reading() as connection:
            return {step: float(mean) for step, mean in connection.execute(query)}

    def last_used(self) -> Mapping[str, int]:
        """The run that used each output last, by digest; what ``Vault.collect`` asks for."""
        query: Select[Any] = select(made.c.output, func.max(made.c.run).label("last")).group_by(made.c.output)
        with self._database.reading() as connection:
            last = {row.output: row.last for row in connection.execute(query)}
            for row in connection.execute(select(kept.c.output, kept.c.files, kept.c.run)):
                last |= {row.output: row.run, row.files: row.run}
            return last

    def drop_unused(self, keep_runs: int) -> int:
        """Forget outputs and failures that none of the last completed runs of their step used.

        Runs are counted for each step: five runs that only measured designs let go of no picture. Gives the
        number of outputs.
        """
        gone = 0
        with self._database.writing() as connection:
            for step in connection.scalars(select(step_runs.c.step).distinct()).all():
                oldest = _oldest_kept(connection, step, keep_runs)
                for table in (failures, step_runs, made):  # made last: its count is the answer
                    old = (table.c.step == step) & (table.c.run < oldest)
                    dropped = connection.execute(delete(table).where(old)).rowcount
                gone += dropped
        return gone

    def stamps(self) -> Iterable[FileStamp]:
        """All remembered file digests."""
        c = stamps.c
        query = select(c.path, c.size, c.mtime_ns, c.inode, c.digest, c.hashed_ns)
        with self._database.reading() as connection:
            return [stamp_of(row) for row in connection.execute(query)]

    def save_stamps(self, changed: Sequence[FileStamp]) -> None:
        """Keep the changed ones, all or none."""
        with self._database.writing() as connection:
            upsert(connection, stamps, [stamp_row(stamp) for stamp in changed])

    def forget_stamps(self, below: str) -> None:
        """Forget the digests of the files below a folder of the shop, so that they are read again."""
        with self._database.writing() as connection:
            connection.execute(delete(stamps).where(stamps.c.path.startswith(f"{below}/", autoescape=True)))

    def paths_with(self, digest: str) -> tuple[str, ...]:
        """The files that had this content when they were last looked at."""
        query = select(stamps.c.path).where(stamps.c.digest == digest)
        with self._database.reading() as connection:
            return tuple(sorted(connection.scalars(query)))


def _delete(connection: Connection, table: Table, pairs: Sequence[tuple[str, str]]) -> None:
    if pairs:
        statement = delete(table).where(table.c.item == bindparam("i"), table.c.step == bindparam("s"))
        connection.execute(statement, [{"i": item, "s": step} for item, step in pairs])


def _note_steps(connection: Connection, run: int, steps: Iterable[str]) -> None:
    upsert(connection, step_runs, [{"step": step, "run": run} for step in sorted(steps)])


def _oldest_kept(connection: Connection, step: str, keep_runs: int) -> int:
    completed = (
        select(step_runs.c.run)
        .join(runs, runs.c.number == step_runs.c.run)
        .where(step_runs.c.step == step, runs.c.ended.is_not(None))
        .order_by(step_runs.c.run.desc())
        .limit(keep_runs)
    )
    numbers = connection.scalars(completed).all()
    return numbers[-1] if len(numbers) == keep_runs else 0
