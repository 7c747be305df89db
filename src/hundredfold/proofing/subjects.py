"""What a check looks at: one frozen record of measured facts, richer from scope to scope."""

from dataclasses import dataclass
from functools import cached_property
from typing import ClassVar

from hundredfold.catalogue.blanks import Blank, BlankColour
from hundredfold.catalogue.ink import InkModel, ink_model
from hundredfold.designs.facts import DesignFacts
from hundredfold.kernel.vision import Vision
from hundredfold.mockups.sight import Sight
from hundredfold.placement.layout import AreaLayout
from hundredfold.placement.place import Placement
from hundredfold.proofing.art.facts import ArtFacts
from hundredfold.proofing.profile import Limits
from hundredfold.proofing.visible import OutlineShares, standing, too_dark_to_darken


@dataclass(frozen=True)
class Reading:
    """How likely the art's words are read in a listing picture (0-1), at this width of the art on screen."""

    chance: float  # all of them
    art_px: int
    main: float | None = None  # the tallest lines alone; None: as likely as all
    share: float = 1.0  # of the art's box that is words
    best: float = 0.0  # the chance of the main words on the colour of this blank that shows them best

    @property
    def main_words(self) -> float:
        """The chance of the main words."""
        return self.chance if self.main is None else self.main


@dataclass(frozen=True)
class Gamut:
    """How much of the ink a printer's profile cannot reach (0-1), and the mean difference it leaves there."""

    share: float
    difference: float  # CIEDE2000
    profile: str


@dataclass(frozen=True)
class Evidence:
    """Further facts, each None until it is measured. A check that needs a missing one says nothing."""

    art: ArtFacts | None = None
    reading: Reading | None = None
    gamut: Gamut | None = None
    print_bytes: int | None = None
    sight: Sight | None = None  # what the main picture shows of the print area
    type_px: float | None = None  # the smallest x-height as it was typeset, in pixels of the art


NO_EVIDENCE = Evidence()


@dataclass(frozen=True)
class BlankSubject:
    """A blank by itself, before any art."""

    about: ClassVar[str] = "a blank, before any art"

    blank: Blank
    limits: Limits

    @property
    def item(self) -> str:
        """What a finding says it is about."""
        return self.blank.code


@dataclass(frozen=True)
class Decorated:
    """A blank with everything that is laid on it, whichever design it is."""

    about: ClassVar[str] = "a blank with everything that is laid on it, so it speaks once a blank"

    blank: Blank
    nearest_to_rim_mm: float | None  # None where there is no drinking rim, or no art
    limits: Limits

    @property
    def item(self) -> str:
        """What a finding says it is about."""
        return self.blank.code


@dataclass(frozen=True)
class DesignSubject:
    """A design by itself."""

    about: ClassVar[str] = "a design by itself"

    name: str  # the art's file name as the seller knows it
    facts: DesignFacts
    limits: Limits
    evidence: Evidence = NO_EVIDENCE

    @property
    def item(self) -> str:
        """What a finding says it is about."""
        return self.name


@dataclass(frozen=True)
class Unlaid:
    """A design that found no room on a blank, with the reason and the advice in words."""

    about: ClassVar[str] = "a design that could not be laid on a blank"

    name: str
    blank: Blank
    what: str
    fix: str
    limits: Limits

    @property
    def item(self) -> str:
        """What a finding says it is about."""
        return f"{self.name} on {self.blank.code}"


@dataclass(frozen=True)
class Placed:
    """A design laid on one print area of a blank, whatever the blank's colour."""

    about: ClassVar[str] = "a design laid on a print area, whatever the blank's colour"

    name: str
    facts: DesignFacts
    blank: Blank
    layout: AreaLayout
    limits: Limits
    evidence: Evidence = NO_EVIDENCE

    @property
    def item(self) -> str:
        """What a finding says it is about."""
        return f"{self.name} on {self.blank.code}"

    @property
    def placement(self) -> Placement:
        """The first placement; a layout repeats it at one size."""
        return self.layout.placements[0]

    @property
    def whole(self) -> bool:
        """All the ink is used, once or on both faces: not cropped to fill, not a pattern."""
        return len(self.layout.placements) <= 2 and all(
            p.crop == self.facts.ink for p in self.layout.placements
        )

    @property
    def mm_per_px(self) -> float:
        """Printed millimetres of one pixel of the art."""
        return self.placement.width_mm / self.placement.crop.width


@dataclass(frozen=True)
class Coloured:
    """A design laid on one print area of a blank in one colour."""

    about: ClassVar[str] = "a design on one colour of a blank"

    name: str
    facts: DesignFacts
    blank: Blank
    layout: AreaLayout
    colour: BlankColour
    limits: Limits
    evidence: Evidence = NO_EVIDENCE

    @property
    def item(self) -> str:
        """What a finding says it is about."""
        return f"{self.name} on {self.blank.code}, {self.colour.name}"

    @property
    def model(self) -> InkModel:
        """How ink looks on this blank in this colour."""
        return ink_model(self.blank, self.colour)

    @property
    def too_dark_to_darken(self) -> bool:
        """Whether even black ink hardly shows on this blank, which the process can only darken."""
        return too_dark_to_darken(self.model, self.colour, self.limits)

    @cached_property
    def stands(self) -> OutlineShares | None:
        """How the art stands out from this colour; None where it has no outline to judge by."""
        return standing(self.blank, self.colour, self.facts, self.evidence.art, self.limits)

    def stands_for(self, vision: Vision) -> OutlineShares | None:
        """The same, seen with a colour-vision deficiency."""
        return standing(self.blank, self.colour, self.facts, self.evidence.art, self.limits, vision)


Subject = BlankSubject | Decorated | DesignSubject | Unlaid | Placed | Coloured
