"""The seller's own yes or no on a design, a blank, a colour, a channel: a row with its inverse."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import product
from typing import NamedTuple, Self

from hundredfold.ledger.keys import ListingKey


class Answer(StrEnum):
    """What was chosen. ``OPEN`` takes an earlier answer back and leaves the thing to the proof."""

    ALLOW = "allow"
    REFUSE = "refuse"
    OPEN = "open"


class ChoiceKey(NamedTuple):
    """What a choice is about; "" stands for all: every blank, every colour, every channel."""

    design: str  # id
    blank: str = ""
    colour: str = ""
    channel: str = ""


@dataclass(frozen=True)
class Choice:
    """One choice, with the seller's reason."""

    key: ChoiceKey
    answer: Answer
    reason: str = ""

    def as_data(self) -> dict[str, object]:
        """Plain values for the ledger; the design is the row's subject."""
        key = self.key
        return {
            "blank": key.blank,
            "colour": key.colour,
            "channel": key.channel,
            "answer": self.answer.value,
            "reason": self.reason,
        }

    @classmethod
    def from_data(cls, design: str, data: Mapping[str, object]) -> Self:
        """The inverse of ``as_data``. Raises ValueError for an answer that is none."""
        blank, colour, channel, reason = (str(data.get(name, "")) for name in _NAMES)
        return cls(ChoiceKey(design, blank, colour, channel), Answer(str(data["answer"])), reason)


_NAMES = ("blank", "colour", "channel", "reason")


def standing_choice(choices: Mapping[ChoiceKey, Choice], key: ChoiceKey) -> Choice | None:
    """The choice that decides here: the most exact one, a blank before a colour before a channel."""
    wider = product(*((name, "") if name else ("",) for name in (key.blank, key.colour, key.channel)))
    return next(
        (choices[found] for spot in wider if (found := ChoiceKey(key.design, *spot)) in choices), None
    )


def refused(choices: Mapping[ChoiceKey, Choice], key: ChoiceKey) -> bool:
    """Whether a standing choice keeps this back."""
    found = standing_choice(choices, key)
    return found is not None and found.answer is Answer.REFUSE


def on_channel(
    colours: Sequence[str],
    overruled: Collection[str],
    listing: ListingKey,
    choices: Mapping[ChoiceKey, Choice],
) -> tuple[str, ...]:
    """The colours that may go to a listing's channel: none refused there, and of those that passed by the
    seller's word alone only what was allowed for this channel."""
    kept = []
    for colour in colours:
        found = standing_choice(choices, ChoiceKey(listing.design, listing.blank, colour, listing.channel))
        answer = found.answer if found is not None else Answer.OPEN
        if answer is Answer.ALLOW or (answer is Answer.OPEN and colour not in overruled):
            kept.append(colour)
    return tuple(kept)
