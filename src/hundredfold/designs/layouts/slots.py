"""What a layout asks for: its text slots and art slots, as records."""

from dataclasses import dataclass

from hundredfold.designs.layouts.pattern import Pattern
from hundredfold.designs.layouts.transforms import Matrix
from hundredfold.designs.typesetting.curves import Curve
from hundredfold.designs.typesetting.outline import Bounds

FITS = ("none", "width", "box", "path")
ALIGNS = ("start", "middle", "end", "level")
SMALLS = ("rules", "plain", "no")
VALIGNS = ("top", "middle", "bottom")


@dataclass(frozen=True)
class Edge:
    """An outline behind the fill: its width on each side in mm, and a colour or a role's name."""

    width_mm: float
    colour: str


@dataclass(frozen=True)
class Shadow:
    """A hard shadow: its offset in mm (right, down), and a colour or a role's name."""

    right_mm: float
    down_mm: float
    colour: str


@dataclass(frozen=True)
class SpanStyle:
    """How a span of a text differs from it: a colour or a role's name, fonts, weight, size and lean."""

    fill: str
    fonts: tuple[str, ...]
    weight: int
    scale: float
    lean: float


@dataclass(frozen=True, eq=False)
class TextSlot:
    """A text of the layout, plain or with slots. Lengths are the text's own units unless named mm."""

    number: int  # marks its element in the drawing
    label: str
    pattern: Pattern
    fonts: tuple[str, ...]
    weight: int
    size: float
    x: float
    y: float
    fit: str
    box: Bounds | None
    curve: Curve | None
    rise: float  # of the letters against their path, in cap heights
    align: str
    valign: str
    case: str
    tracking: tuple[float, float]  # least and most, in em
    least_x_height_mm: float
    largest: float
    most_lines: int
    leading: float | None  # em; None leaves the ink a small gap
    gap: float  # between level lines
    small: str  # small words between level lines: with rules beside them, plain, or no such lines
    fill: str  # a colour, a role's name or a paint
    spans: tuple[SpanStyle, ...]  # the first is what a cell's *stars* ask for; then the drawing's own
    pen: tuple[str, float] | None  # a line the editor drew around the letters: colour or role, width in units
    edges: tuple[Edge, ...]  # innermost first
    shadow: Shadow | None
    band: tuple[float, float] | None  # how far ink may reach above and below its path
    same: str  # slots of one name take one size
    stack: str  # the frame it is stacked in, under what comes before
    behind: bool  # other things may lie over it
    hyphens: bool
    page: Bounds  # the drawing's edges, in its own units
    matrix: Matrix  # from its units to the drawing's
    mm_per_unit: float

    @property
    def own_style(self) -> SpanStyle:
        """The style of what is in no span."""
        return SpanStyle(self.fill, self.fonts, self.weight, 1.0, 0.0)

    @property
    def stroke(self) -> float:
        """How much its outlines and pen add to the ink's width and height, in its units."""
        edges = 2 * sum(edge.width_mm for edge in self.edges) / self.mm_per_unit
        return max(edges, self.pen[1] if self.pen else 0.0)


@dataclass(frozen=True, eq=False)
class ArtSlot:
    """A place for a picture named in the row."""

    number: int
    label: str
    pattern: Pattern
    box: Bounds
    fit: str  # inside, cover, or photo: cover for a photograph
    round: bool  # the place is a circle or an ellipse
    stack: str
    recolour: str  # "" keeps the picture's colours; else a colour or a role's name
    grows: bool  # in its stack, to fill the room that the words leave
    matrix: Matrix
