"""Checks of fine detail at its printed size: lines, gaps, small words, steps in gradients."""

from collections.abc import Iterator

from hundredfold.catalogue.processes import FABRIC
from hundredfold.kernel.checks import COMMON
from hundredfold.kernel.findings import Severity
from hundredfold.kernel.units import points_to_mm
from hundredfold.proofing.art.facts import Thin
from hundredfold.proofing.registry import Bearing, Hit, More, check
from hundredfold.proofing.subjects import Placed

SEAM_PX = 1.5  # gaps up to so wide are where two shapes of a drawing meet: nothing is lost when they fill in


def _apart(value: float, limit: float, digits: int = 2) -> tuple[str, str]:
    """Both numbers with as few digits, at least ``digits``, as show that they differ; four at most."""
    for count in range(digits, 5):
        shown = f"{value:.{count}f}", f"{limit:.{count}f}"
        if shown[0] != shown[1]:
            break
    return shown


def _thin_mm(
    thin: tuple[Thin, ...], placed: Placed, limit_mm: float, least_px: float = 0.0
) -> tuple[float, float]:
    """Printed length of what is thinner than the limit, and the width most of it has (both mm)."""
    below = [one for one in thin if one.width_px > least_px and one.width_px * placed.mm_per_px < limit_mm]
    length = sum(one.length_px for one in below) * placed.mm_per_px
    if not below:
        return 0.0, 0.0
    return length, max(below, key=lambda one: one.length_px).width_px * placed.mm_per_px


@check(
    "prints/thin-lines",
    subject=Placed,
    codes={"lines": Severity.WARN, "gaps": Severity.WARN},
    limits=("line_pt", "gap_pt", "fabric_line_pt", "fabric_gap_pt", "thin_length_mm", "thin_share"),
    why="A hairline breaks up or vanishes in print, and a hair-thin gap between two inks fills in. On cloth "
    "the weave and the spread of the ink ask for more than on a glazed or coated body.",
    example="A fine outline of 3 px in art of 4500 px laid 60 mm wide is 0.04 mm, a ninth of a point.",
    fix="Thicken the lines and open the gaps in the master, or print the art larger.",
    known_limits="Looks at the shape of all ink; thin lines drawn on top of other ink are not measured.",
    source="printers' help pages (0.25 pt) and SWOP 11 (0.007 in reverse) for hard goods; cloth: " + COMMON,
)
def thin_lines(placed: Placed) -> Iterator[Hit]:
    """Lines and gaps are thick enough to print."""
    art, limits = placed.evidence.art, placed.limits
    if art is None:
        return
    fabric = placed.blank.material in FABRIC
    cases = (
        (
            "lines",
            art.strokes,
            limits.fabric_line_pt if fabric else limits.line_pt,
            "break up",
            "thicken the lines",
        ),
        ("gaps", art.gaps, limits.fabric_gap_pt if fabric else limits.gap_pt, "fill in", "open the gaps"),
    )
    surface = "on cloth" if fabric else "on this surface"
    for code, thin, points, happens, mend in cases:
        length, width = _thin_mm(thin, placed, points_to_mm(points), SEAM_PX if code == "gaps" else 0.0)
        if length >= max(limits.thin_length_mm, limits.thin_share * art.outline_px * placed.mm_per_px):
            wide, least = _apart(width, points_to_mm(points))
            yield Hit(
                code,
                f"{length:.0f} mm of {code} about {wide} mm wide will {happens} {surface} "
                f"({points:g} pt is {least} mm)",
                f"{mend} in the master, or print the art larger",
                {"length_mm": round(length, 1), "width_mm": round(width, 3), "limit_pt": points},
            )


@check(
    "suits/small-words",
    subject=Placed,
    codes={"too-small": Severity.STOP, "small": Severity.WARN},
    limits=("small_letters_mm", "tiny_letters_mm", "words_letters"),
    why="Art made for a shirt carries words that shrink to nothing on a shot glass. The buyer holds the "
    "thing in the hand and cannot read the joke.",
    example="A second line of 1/40 of the art's height on a print area 35 mm high: 0.9 mm letters.",
    fix="Leave the small line out for this blank, set it larger, or leave the blank out.",
    known_limits="Words of a layout are measured by their type. In other art they are found by their "
    "shapes: fine ornament may be taken for words. Judged for a viewing distance of 400 mm.",
    source="visual angle, h = 2 D tan(angle / 2); Legge and Bigelow 2011",
    bearing=Bearing(
        follows={
            "too-small": ("reads/thumbnail", "prints/thin-lines"),
            "small": ("reads/thumbnail:small-lines",),
        },
        worst_by={"small": ("letters_mm", More.BETTER), "too-small": ("largest_mm", More.BETTER)},
    ),
)
def small_words(placed: Placed) -> Iterator[Hit]:
    """The smallest words are tall enough to read in the hand."""
    art, limits, set_px = placed.evidence.art, placed.limits, placed.evidence.type_px
    rows = [line for line in art.lines if line.letters >= limits.words_letters] if art else []
    sure = [line for line in rows if line.sure >= limits.sure_words]
    found = [line.letter_px for line in sure or rows]
    # Where the words were typeset by us, their true height; what the shapes say, of art from elsewhere.
    smallest = set_px if set_px is not None else min(found, default=None)
    if smallest is None:
        return
    largest = max([smallest, *(line.letter_px for line in art.lines)] if art else [smallest])
    words = bool(sure) or set_px is not None  # else grain, or a pattern, may be all that looks like words
    least, most = smallest * placed.mm_per_px, largest * placed.mm_per_px
    tiny = words and most < limits.tiny_letters_mm
    if least < limits.small_letters_mm:
        which = "even the largest words are" if tiny else "the smallest words are"
        shown, limit = (most, limits.tiny_letters_mm) if tiny else (least, limits.small_letters_mm)
        tall, wanted = _apart(shown, limit, 1)
        yield Hit(
            "too-small" if tiny else "small",
            f"{which} {tall} mm tall (at least {wanted} mm wanted)",
            f"enlarge them {limits.small_letters_mm / shown:.1f} times, drop small lines for this blank, "
            "or leave this blank out",
            {"letters_mm": round(least, 2), "largest_mm": round(most, 2), "limit_mm": limit},
        )


@check(
    "prints/banding",
    subject=Placed,
    codes={"steps": Severity.WARN},
    limits=("step_mm", "step_share"),
    why="A gradient saved with too few colours prints as stripes, which even surfaces like a mug's show "
    "plainly.",
    example="A sunset of 12 flat stripes left by saving with a palette of 32 colours.",
    fix="Export again with 8 bits a channel and no palette, or add a little grain to the gradient.",
    known_limits="Posters drawn in flat stripes on purpose look the same to it.",
    source=COMMON,
)
def banding(placed: Placed) -> Iterator[Hit]:
    """Gradients are smooth."""
    art, limits = placed.evidence.art, placed.limits
    if art is None:
        return
    step = art.step_px * placed.mm_per_px
    if art.step_share > limits.step_share and step >= limits.step_mm:
        yield Hit(
            "steps",
            f"{art.step_share:.0%} of the ink lies in gradients with visible steps, about {step:.1f} mm wide",
            "export again without a palette, or add a little grain to the gradient",
            {"share": round(art.step_share, 3), "step_mm": round(step, 2)},
        )
