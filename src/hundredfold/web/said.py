"""What an action says when it is done, and how it is taken back."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Said:
    """``decision`` is the number in the history that undo takes back; 0 where there is nothing to undo.

    ``goto`` is the page that comes next. ``more`` are further sentences, such as one for each file left out.
    """

    sentence: str
    goto: str = "/"
    decision: int = 0
    more: tuple[str, ...] = ()

    def as_json(self) -> dict[str, object]:
        """Plain values for the page's script."""
        return {
            "said": self.sentence, "goto": self.goto, "decision": self.decision, "more": list(self.more)
        }  # fmt: skip
