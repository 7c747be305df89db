"""Running work in words: what it does, how far it is, how long it may take; nothing that is not known."""

import math
import time
from collections import deque
from dataclasses import asdict, dataclass
from pathlib import Path

from hundredfold.kernel.counting import counted
from hundredfold.workshop.records.state import RunningRecord
from hundredfold.workshop.views.shop import running_now
from hundredfold.workshop.work.background import Background

_LEAST_S = 4.0  # a pace measured over less is chance


@dataclass(frozen=True)
class WorkSeen:
    """Work at one moment. ``ours`` says that this page began it and can stop it."""

    going: bool
    sentence: str
    words: str
    done: int = 0
    of_all: int = 0
    ours: bool = False

    @property
    def state(self) -> str:
        """For the page's script."""
        return "going" if self.going else "rests"

    def as_json(self) -> dict[str, object]:
        """Plain values."""
        return asdict(self)


class Pace:
    """How fast the last things went. ``clock`` in seconds."""

    def __init__(self) -> None:
        self._stage = ""
        self._seen: deque[tuple[float, int]] = deque(maxlen=12)

    def note(self, stage: str, done: int, now_s: float) -> None:
        """So many are done now."""
        if stage != self._stage or (self._seen and done < self._seen[-1][1]):
            self._seen.clear()
            self._stage = stage
        if not self._seen or done != self._seen[-1][1]:
            self._seen.append((now_s, done))

    def left_s(self, done: int, of_all: int) -> float | None:
        """Seconds that the rest takes at this pace; None where that is not known yet."""
        if len(self._seen) < 2:
            return None
        (first_s, first), (last_s, last) = self._seen[0], self._seen[-1]
        if last_s - first_s < _LEAST_S or last <= first:
            return None
        return (of_all - done) * (last_s - first_s) / (last - first)


def look_at_work(shop: Path, work: Background, pace: Pace) -> WorkSeen:
    """The work of this page, or of whoever else works on the shop."""
    going = work.going_on
    running = running_now(shop)
    ours = going is not None
    if running is None:
        return WorkSeen(ours, "Getting ready", "The program loads what it needs.", ours=ours)
    stage = running.stage or running.command
    pace.note(stage, running.done, time.monotonic())
    return WorkSeen(True, _title(running), _words(running, pace, work), running.done, running.of_all, ours)


def _title(running: RunningRecord) -> str:
    text = running.stage.partition(",")[0] or f"“{running.command}” is at work"
    return text[0].upper() + text[1:]


def _words(running: RunningRecord, pace: Pace, work: Background) -> str:
    parts = []
    if running.of_all:
        parts.append(f"{running.done:,} of {running.of_all:,} done.")
        left = pace.left_s(running.done, running.of_all)
        if left is not None:
            parts.append(f"{_about(left)} left, at the pace of the last ones.")
    rest = running.stage.partition(", ")[2]
    if rest:
        parts.append(rest[0].upper() + rest[1:] + ".")
    if work.stopping:
        parts.append("Stopping: what is under way is finished first.")
    elif work.going_on is None:
        parts.append(f"It was started elsewhere on this shop (hundredfold {running.command}).")
    return " ".join(parts) or "It has only begun."


def _about(seconds: float) -> str:
    if seconds < 50:
        return "Less than a minute"
    minutes = math.ceil(seconds / 60)
    return "About a minute" if minutes == 1 else f"About {counted(minutes, 'minute')}"
