"""What a screen says, in the words of a person who is no programmer: no ratios, no codes, no broken units."""

import re
from datetime import datetime

from hundredfold.catalogue.processes import Process
from hundredfold.web.clock import now
from hundredfold.web.days import day_words

# A contrast, such as 1.6:1, says nothing to whoever looks at the picture beside it.
_RATIO = r"\d+(?:\.\d+)?:1"
_IN_BRACKETS = re.compile(rf"\s*\((?:{_RATIO}|[^()]*\b(?:has|under) {_RATIO}[^()]*)\)")
_IN_BRACKETS_FIRST = re.compile(rf"\({_RATIO}; ")
_UNDER = re.compile(rf",? under {_RATIO}")
_UNIT = re.compile(r"(\d) (ml|mm|cm|in|oz|px|g|kg)\b")
_WAYS = {
    Process.SUBLIMATION: "dye sublimation",
    Process.DTG: "printed on the cloth",
    Process.DTF: "film transfer",
    Process.UV: "UV print",
    Process.ENGRAVING: "laser engraving",
}


def plain(text: str) -> str:
    """A finding without its ratios; each is kept with the check, for whoever asks."""
    text = _IN_BRACKETS_FIRST.sub("(", _IN_BRACKETS.sub("", text))
    return _UNDER.sub("", text)


def whole(text: str) -> str:
    """A number is never parted from its unit at a line's end."""
    return _UNIT.sub("\\1\N{NO-BREAK SPACE}\\2", text)


def way(process: str) -> str:
    """How a blank is decorated, as one says it."""
    return next((words for one, words in _WAYS.items() if one.value == process), process)


def pack_words(name: str, pack: str) -> str:
    """A pack such as ``north/2027-01-02`` as its channel's name and day."""
    return f"{name}, {day_words(pack.rpartition('/')[2])}"


def when_words(at: str) -> str:
    """A moment kept in UTC, as said here: ``today at 14:05``; "" where there is none."""
    if not at:
        return ""
    here = datetime.fromisoformat(at.replace("Z", "+00:00")).astimezone()
    day = "today" if here.date() == now().date() else f"on {day_words(here.date().isoformat())}"
    return f"{day} at {here:%H:%M}"
