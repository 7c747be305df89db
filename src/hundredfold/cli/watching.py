"""Progress on the screen while long work goes on: a bar on a terminal, plain lines elsewhere."""

import sys
from types import TracebackType
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from hundredfold.workshop.month.packing import PackDone


class ProgressDisplay:
    """Hears what the workshop tells. On stderr, so that answers can be piped. ``quiet`` says nothing."""

    def __init__(self, quiet: bool = False) -> None:
        self._quiet = quiet
        self._bar: Any = None
        self._task: Any = None

    def __enter__(self) -> "ProgressDisplay":
        if not self._quiet and sys.stderr.isatty():
            from rich.console import Console
            from rich.progress import BarColumn, MofNCompleteColumn, TextColumn, TimeElapsedColumn
            from rich.progress import Progress as Bar

            columns = TextColumn("{task.description}"), BarColumn(), MofNCompleteColumn(), TimeElapsedColumn()
            self._bar = Bar(*columns, console=Console(file=sys.stderr), transient=True)
            self._bar.start()
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        if self._bar is not None:
            self._bar.stop()

    def stage(self, words: str) -> None:
        """A new stage began."""
        if self._bar is not None:
            if self._task is not None:
                self._bar.remove_task(self._task)
            self._task = self._bar.add_task(words, total=None)
        elif not self._quiet:
            print(f"{words} …", file=sys.stderr, flush=True)

    def progress(self, done: int, all_of_them: int) -> None:
        """So many things of the stage are settled."""
        if self._bar is not None and self._task is not None:
            self._bar.update(self._task, completed=done, total=all_of_them)

    def pack_done(self, pack: "PackDone") -> None:
        """A pack is on disk."""
        if self._quiet or not pack.counts.made:
            return
        line = f"pack {pack.key} is ready"
        if self._bar is not None:
            self._bar.print(line)
        else:
            print(line, file=sys.stderr, flush=True)
