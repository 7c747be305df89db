"""The records that runs leave for readers: newest of each name, their bytes in the vault."""

from collections.abc import Callable, Mapping
from datetime import datetime

from hundredfold.store.buildbook import upsert
from hundredfold.store.database import Database
from hundredfold.store.mapping import time_text
from hundredfold.store.schema import kept


class KeptBook:
    """``clock`` gives the time at which a record is kept."""

    def __init__(self, database: Database, clock: Callable[[], datetime]) -> None:
        self._database = database
        self._clock = clock

    def save(self, run: int, files: str, outputs: Mapping[str, str]) -> None:
        """Keep these records (name -> digest in the vault), all or none, each in place of the one before."""
        at = time_text(self._clock())
        rows = [
            {"name": name, "output": output, "files": files, "run": run, "at": at}
            for name, output in outputs.items()
        ]
        with self._database.writing() as connection:
            upsert(connection, kept, rows)
