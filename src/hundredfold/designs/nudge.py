"""The seller's own place and size of a design on a blank, as a change to the usual one."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Self

_NAMES = (("scale", 1.0), ("right_mm", 0.0), ("down_mm", 0.0))


@dataclass(frozen=True)
class Nudge:
    """``scale`` of the usual width, 1 or less; the way from the usual middle, millimetres right and down."""

    scale: float = 1.0
    right_mm: float = 0.0
    down_mm: float = 0.0

    @property
    def nothing(self) -> bool:
        """Whether it changes nothing."""
        return self == Nudge()

    def as_data(self) -> dict[str, float]:
        """Plain values for the ledger."""
        return {"scale": self.scale, "right_mm": self.right_mm, "down_mm": self.down_mm}

    @classmethod
    def from_data(cls, data: Mapping[str, object]) -> Self:
        """The inverse of ``as_data``."""
        scale, right, down = (float(str(data.get(name, was))) for name, was in _NAMES)
        return cls(scale, right, down)
