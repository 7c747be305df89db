"""What a check looks at: one frozen record of measured facts, richer from scope to scope."""

from dataclasses import dataclass

from hundredfold.catalogue.blanks import Blank, BlankColour
from hundredfold.designs.facts import DesignFacts
from hundredfold.placement.place import Placement
from hundredfold.proofing.profile import Limits


@dataclass(frozen=True)
class Bare:
    """A blank by itself, before any art."""

    blank: Blank
    limits: Limits

    @property
    def item(self) -> str:
        """What a finding says it is about."""
        return self.blank.code


@dataclass(frozen=True)
class Alone:
    """A design by itself."""

    name: str  # the art's file name as the seller knows it
    facts: DesignFacts
    limits: Limits

    @property
    def item(self) -> str:
        """What a finding says it is about."""
        return self.name


@dataclass(frozen=True)
class Placed:
    """A design laid on one print area of a blank, whatever the blank's colour."""

    name: str
    facts: DesignFacts
    blank: Blank
    placement: Placement
    limits: Limits

    @property
    def item(self) -> str:
        """What a finding says it is about."""
        return f"{self.name} on {self.blank.code}"


@dataclass(frozen=True)
class Coloured:
    """A design laid on one print area of a blank in one colour."""

    name: str
    facts: DesignFacts
    blank: Blank
    placement: Placement
    colour: BlankColour
    limits: Limits

    @property
    def item(self) -> str:
        """What a finding says it is about."""
        return f"{self.name} on {self.blank.code}, {self.colour.name}"


Subject = Bare | Alone | Placed | Coloured
