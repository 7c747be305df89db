"""Foreign workbooks to cells, read in a child process with limits on memory, time and cells."""

import json
import subprocess
import sys
import threading
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, time

import psutil

from hundredfold.kernel.errors import ExitCode, ShopError, Where
from hundredfold.kernel.grid import Cell
from hundredfold.runner.bookreader import LOCKED, TOO_LARGE

_AGAIN = "open it in your spreadsheet program and save it again as XLSX or CSV"
_KINDS = {"datetime": datetime, "date": date, "time": time}


@dataclass(frozen=True)
class BookLimits:
    """What reading one workbook may cost. Processor seconds, so that a busy machine refuses nothing good."""

    cells: int = 5_000_000
    cpu_seconds: int = 60
    wall_seconds: float = 600.0
    memory_bytes: int = 2_000_000_000


def read_workbook(
    data: bytes, name: str, limits: BookLimits = BookLimits()
) -> tuple[tuple[str, tuple[tuple[Cell, ...], ...]], ...]:
    """The worksheets of a workbook: name and rows, empty cells None.

    Raises ShopError ``locked-workbook``, ``not-a-spreadsheet``, ``file-too-large``; ``tool-missing`` where
    no process can be started.
    """
    answer = _asked(data, name, limits)
    error = answer.get("error")
    where = Where(name)
    if error == LOCKED:
        fix = "open it, remove the password, save it, and try again"
        raise ShopError("locked-workbook", "the workbook is locked with a password", fix, where)
    if error == TOO_LARGE:
        raise _too_large(limits, where)
    sheets = answer.get("sheets")
    if error is not None or not isinstance(sheets, list):
        raise ShopError("not-a-spreadsheet", f"it cannot be read as a workbook ({error})", _AGAIN, where)
    return tuple((str(title), tuple(map(_row, rows))) for title, rows in sheets)


def _asked(data: bytes, name: str, limits: BookLimits) -> dict[str, object]:
    command = [
        sys.executable, "-m", "hundredfold.runner.bookreader",
        str(limits.memory_bytes), str(limits.cpu_seconds), str(limits.cells),
    ]  # fmt: skip
    try:
        child = subprocess.Popen(
            command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL
        )
    except OSError as error:
        what = f"the process that reads workbooks could not be started ({error.strerror})"
        raise ShopError(
            "tool-missing", what, "free some memory and run again", Where(name), ExitCode.TOOL_MISSING
        ) from None
    done = threading.Event()
    threading.Thread(target=_watch, args=(child, limits, done), daemon=True).start()
    try:
        out, _ = child.communicate(data, limits.wall_seconds)
    except subprocess.TimeoutExpired:
        out = b""
    finally:
        done.set()
        child.kill()
        child.wait()
    try:
        answer = json.loads(out)
    except ValueError:  # it was ended, or ended itself, in the middle
        return {"error": TOO_LARGE}
    return answer if isinstance(answer, dict) else {"error": "no answer"}


def _watch(child: "subprocess.Popen[bytes]", limits: BookLimits, done: threading.Event) -> None:
    """End a child that takes too much, where the system's own limits are not to be had."""
    try:
        seen = psutil.Process(child.pid)
        while not done.wait(0.05):
            if seen.memory_info().rss > limits.memory_bytes or sum(seen.cpu_times()[:2]) > limits.cpu_seconds:
                child.kill()
                return
    except psutil.Error:
        return  # it ended by itself


def _row(cells: Sequence[object]) -> tuple[Cell, ...]:
    return tuple(map(_cell, cells))


def _cell(value: object) -> Cell:
    if isinstance(value, dict):
        ((kind, text),) = value.items()
        return _KINDS[kind].fromisoformat(text)  # type: ignore[no-any-return,attr-defined]
    return None if value == "" else value  # type: ignore[return-value]


def _too_large(limits: BookLimits, where: Where) -> ShopError:
    what = (
        f"reading it was stopped: its worksheets have more than {limits.cells:,} cells up to the farthest "
        f"one, or take more than {limits.cpu_seconds} seconds or {limits.memory_bytes / 1e9:g} GB"
    )
    fix = "delete what stands far to the right or far below, or save the one worksheet that is meant as CSV"
    return ShopError("file-too-large", what, fix, where)
