"""Reasons for refusals put together: one that comes three times is a pattern, what they share its cause."""

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from hundredfold.learning.words import fold
from hundredfold.ledger.events import Event, Happened
from hundredfold.ledger.keys import SkuKey

PATTERN = 3  # refusals for one reason, common practice, no source
_OF_THE_ROW = re.compile(r"\"[^\"]*\"|'[^']*'|\d+|[^\w\s]")


@dataclass(frozen=True)
class Refusals:
    """Refusals for one reason, and what all their listings have in common beside it."""

    reason: str  # as the first of them says it
    skus: tuple[str, ...]
    shared: tuple[str, ...]  # "the blank MUG-325", "the colour navy"

    @property
    def is_pattern(self) -> bool:
        """Whether it has come too often for chance."""
        return len(self.skus) >= PATTERN


def refusals_of(events: Iterable[Event], owners: Mapping[str, SkuKey]) -> tuple[Refusals, ...]:
    """The refusals among ledger rows by reason, the most frequent first.

    Reasons that differ only in numbers, quoted words or SKUs are one.
    """
    groups: dict[str, list[Event]] = {}
    for event in events:
        if event.happened is Happened.REFUSED:
            groups.setdefault(_kind(str(event.data.get("reason", "")), event.subject), []).append(event)
    found = []
    for rows in groups.values():
        skus = tuple(sorted({row.subject for row in rows}))
        keys = [owners[sku] for sku in skus if sku in owners]
        found.append(Refusals(str(rows[0].data.get("reason", "")), skus, tuple(_shared(keys))))
    return tuple(sorted(found, key=lambda one: (-len(one.skus), one.reason)))


def _kind(reason: str, sku: str) -> str:
    return " ".join(_OF_THE_ROW.sub(" ", fold(reason.replace(sku, " "))).split())


def _shared(keys: list[SkuKey]) -> Iterator[str]:
    for name in ("blank", "colour", "size", "design"):
        values = {getattr(key, name) for key in keys}
        if len(keys) > 1 and len(values) == 1 and (value := values.pop()):
            yield f"the {name} {value}"
