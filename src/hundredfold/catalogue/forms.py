"""What each form of goods is and can do: one record a form, which every room asks.

A new form is one entry here and its plate (tools/plates/README.md). Shares and ratios are common practice, no
source, where nothing else is said.
"""

from dataclasses import dataclass
from enum import StrEnum

ABOVE = 0.4  # of the free height lies above the art: where the eye takes the middle to be
HANDLE_VIEWS = ("handle-right", "handle-left")
FRONT_VIEW = ("front",)


@dataclass(frozen=True)
class PrintedSide:
    """The side of a vessel that takes ink: diameters at its upper and lower edge, its height along the axis,
    and how high its lower edge stands above the table. Millimetres."""

    top_mm: float
    bottom_mm: float
    height_mm: float
    foot_mm: float


@dataclass(frozen=True)
class PlateSet:
    """The plates of one body of a form. ``wide_mm`` and ``high_mm`` are the whole body they were made of,
    without handles, loops and sleeves; ``side`` is a vessel's printed side; ``files`` are the sha256 of the
    seller's own, by view."""

    name: str
    wide_mm: float
    high_mm: float
    side: PrintedSide | None = None
    files: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True)
class Traits:
    """What holds for all goods of a form."""

    plates: tuple[PlateSet, ...]
    drinkware: bool = False
    handled: bool = False  # a handle parts the side into two faces
    cone_measures: bool = False  # a tapered print area speaks for the body's size
    above: float = ABOVE  # share of the free height that lies above the art
    face_share: float | None = None  # of its width, what faces the eye; None: all of it
    # The goods' outline by the body's own measures, where no picture tells it.
    outline_wide: float = 1.0
    outline_high: float = 1.0
    # What of a flat outline is no part of its measures.
    loops: bool = False  # straps or a loop above the body
    sleeves: bool = False  # beside the body

    @property
    def views(self) -> tuple[str, ...]:
        """The views there is a plate of."""
        return HANDLE_VIEWS if self.handled else FRONT_VIEW


class Form(StrEnum):
    """The body a blank's plate and geometry are chosen by, with what it can do."""

    _value_: str
    traits: Traits

    def __new__(cls, value: str, traits: Traits) -> "Form":
        """A member is its word, as a blank's file has it."""
        made = str.__new__(cls, value)
        made._value_ = value
        made.traits = traits
        return made

    MUG = (
        "mug",
        Traits(
            (
                PlateSet("mug-325", 82, 95, PrintedSide(82, 82, 85, 6)),
                PlateSet("mug-445", 87, 118, PrintedSide(87, 87, 108, 6)),
            ),
            drinkware=True,
            handled=True,
            outline_wide=1.42,
        ),
    )
    ENAMEL_MUG = (
        "enamel mug",
        Traits(
            (PlateSet("enamel-mug", 86, 80, PrintedSide(86, 86, 72, 5.5)),),
            drinkware=True,
            handled=True,
            outline_wide=1.42,
        ),
    )
    TUMBLER = (
        "tumbler",
        Traits(
            (
                PlateSet("tumbler-600", 88, 178, PrintedSide(88, 72, 165, 1)),
                PlateSet("tumbler-880", 98, 206, PrintedSide(98, 76, 190, 4)),
            ),
            drinkware=True,
            cone_measures=True,
        ),
    )
    SHOT_GLASS = (
        "shot glass",
        Traits((PlateSet("shot-glass", 60, 58, PrintedSide(59.714, 49, 50, 6)),), drinkware=True),
    )
    TRAVEL_MUG = (
        "travel mug",
        Traits((PlateSet("travel-mug", 80, 170, PrintedSide(80, 80, 98, 46.6)),), drinkware=True),
    )
    CUSHION = "cushion", Traits((PlateSet("cushion", 450, 450),), above=0.5, face_share=0.74)
    TEA_TOWEL = "tea towel", Traits((PlateSet("tea-towel", 500, 700),), loops=True)
    TOTE_BAG = "tote bag", Traits((PlateSet("tote-bag", 380, 420),), loops=True, outline_high=1.32)
    T_SHIRT = (
        "t-shirt",
        Traits((PlateSet("t-shirt", 530, 720),), above=0.0, sleeves=True, outline_wide=1.54),
    )
