"""The seller's own yes or no on a design, a blank, a colour, a channel: a row with its inverse."""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import NamedTuple, Self


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


def refused(choices: Mapping[ChoiceKey, Choice], key: ChoiceKey) -> bool:
    """Whether a standing choice keeps this back: the most exact one decides."""
    for colour in dict.fromkeys((key.colour, "")):
        for channel in dict.fromkeys((key.channel, "")):
            found = choices.get(key._replace(colour=colour, channel=channel))
            if found is not None:
                return found.answer is Answer.REFUSE
    whole = choices.get(ChoiceKey(key.design))
    return whole is not None and whole.answer is Answer.REFUSE
