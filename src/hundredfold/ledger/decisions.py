"""Rows of the ledger that were decided together: a file adopted, a design retired, a pack handed over."""

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass

from hundredfold.ledger.events import Event, Happened
from hundredfold.ledger.fold import LASTING, standing_numbers

# Facts about the shop itself: they hurt nobody by staying when what came with them is taken back.
STAYS = frozenset({Happened.DESIGN_SEEN, Happened.SKU_GIVEN, Happened.BARCODE_GIVEN})


@dataclass(frozen=True)
class Decision:
    """One decision with its rows, in order. ``standing`` of them still count.

    ``undoes`` is the decision that this one took back, 0 where it is no undo.
    """

    id: int
    events: tuple[Event, ...]
    standing: int
    undoes: int = 0

    @property
    def stands(self) -> bool:
        """Whether anything of it still counts."""
        return self.standing > 0

    @property
    def lasting(self) -> bool:
        """Whether it left the house, or is a fact: no row in a book takes it back."""
        kinds = {event.happened for event in self.events}
        return bool(kinds & (LASTING - STAYS)) or kinds <= STAYS

    @property
    def what(self) -> str:
        """What was decided, in a few words: "adopted (200 rows)", "took back 12"."""
        if self.undoes:
            return f"took back {self.undoes}"
        kinds = Counter(map(_word, self.events))
        return ", ".join(kind if count == 1 else f"{kind} ({count} rows)" for kind, count in kinds.items())

    @property
    def about(self) -> str:
        """Its subject; of several the first, and how many more."""
        subjects = list(dict.fromkeys(_about(event) for event in self.events))
        return subjects[0] if len(subjects) == 1 else f"{subjects[0]} and {len(subjects) - 1} more"


def decisions_of(events: Iterable[Event]) -> tuple[Decision, ...]:
    """The decisions of all these rows, oldest first."""
    every = list(events)
    standing = standing_numbers(every)
    of_row = {event.number: event.decision for event in every}
    together: dict[int, list[Event]] = {}
    for event in every:
        together.setdefault(event.decision, []).append(event)
    return tuple(
        Decision(
            number,
            tuple(rows),
            sum(row.number in standing for row in rows),
            next((of_row.get(row.undoes, row.undoes) for row in rows if row.undoes is not None), 0),
        )
        for number, rows in together.items()
    )


def _word(event: Event) -> str:
    answer = event.data.get("answer") if event.happened is Happened.CHOSEN else None
    return f"chose: {answer}" if answer else event.happened.value


def _about(event: Event) -> str:
    if event.happened is not Happened.CHOSEN:
        return event.subject
    where = [str(event.data[name]) for name in ("blank", "colour", "channel") if event.data.get(name)]
    reason = f": {event.data['reason']}" if event.data.get("reason") else ""
    return f"{event.data.get('path', event.subject)} ({', '.join(where) or 'everywhere'}){reason}"
