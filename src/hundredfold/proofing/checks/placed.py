"""Checks of a design laid on a print area, whatever the blank's colour: pixels, room, edges, file size."""

from collections.abc import Iterator
from math import pi

from hundredfold.catalogue.blanks import Orientation
from hundredfold.catalogue.processes import FABRIC
from hundredfold.designs.facts import Box
from hundredfold.kernel.checks import COMMON
from hundredfold.kernel.findings import Severity
from hundredfold.kernel.units import px_to_mm
from hundredfold.mockups.sight import Sight
from hundredfold.placement.area import safe_box
from hundredfold.placement.place import Placement
from hundredfold.proofing.art.facts import TextLine
from hundredfold.proofing.registry import Hit, check
from hundredfold.proofing.subjects import Placed, Unlaid

_LETTERS_AWAY = 0.04  # of a line's width: a letter of some twenty. Common practice, no source


@check(
    "suits/room",
    subject=Unlaid,
    codes={"no-room": Severity.STOP},
    why="Keep-outs for a rim, a seam or a handle may leave nothing of a small print area.",
    example="A keep-out of 20 mm below the rim of a shot glass whose print area is 18 mm high.",
    fix="Make the keep-outs smaller, or leave the blank out.",
    known_limits="Says nothing of how the art would look in the room it found.",
    source="the blank's print area and the seller's keep-outs",
)
def room(unlaid: Unlaid) -> Iterator[Hit]:
    """There is room for the art on the print area."""
    yield Hit("no-room", unlaid.what, unlaid.fix)


@check(
    "prints/too-few-pixels",
    subject=Placed,
    codes={"below-floor": Severity.STOP, "below-target": Severity.WARN},
    limits=("dpi_floor", "dpi_target", "fabric_dpi_target"),
    why="Art enlarged past its pixels prints soft: edges blur and small words fill in. The buyer holds it "
    "at reading distance.",
    example="Art of 900 px laid 220 mm wide is 104 dpi.",
    fix="Export the master larger, or lay the art smaller on the print area.",
    known_limits="Counts the file's pixels; art that was enlarged before it was saved still looks soft. "
    "Vector art is drawn at the size it needs and never reported.",
    source="common practice, no source; at 250 dpi a pixel is 0.1 mm, about 1 arc minute at 350 mm (20/20 "
    "acuity)",
)
def too_few_pixels(placed: Placed) -> Iterator[Hit]:
    """The art has enough pixels for its printed size."""
    dpi, limits = placed.placement.effective_dpi, placed.limits
    target = limits.fabric_dpi_target if placed.blank.material in FABRIC else limits.dpi_target
    if placed.facts.vector or dpi >= max(target, limits.dpi_floor):
        return
    floor = dpi < limits.dpi_floor
    wanted = max(target, limits.dpi_floor) / dpi
    numbers = {
        "effective_dpi": round(dpi, 1),
        "limit": limits.dpi_floor if floor else target,
        "width_mm": round(placed.placement.width_mm, 1),
    }
    yield Hit(
        "below-floor" if floor else "below-target",
        f"{dpi:.0f} dpi at {placed.placement.width_mm:.0f} mm wide ({numbers['limit']:g} dpi wanted)",
        f"export the art {wanted:.1f} times as large, or print it at most "
        f"{placed.placement.width_mm / wanted:.0f} mm wide",
        numbers,
    )


@check(
    "suits/orientation",
    subject=Placed,
    codes={"upright-on-wide": Severity.WARN, "wide-on-upright": Severity.WARN},
    limits=("orientation_ratio", "orientation_fill", "visible_degrees"),
    why="Upright art on a wide print area, or the reverse, is shrunk until it fits and leaves most of the "
    "product bare. It looks like a stamp and sells like one.",
    example="A poster of 1:2 on a mug wrap of 200 x 90 mm prints 45 mm wide.",
    fix="Use the other arrangement of the art, or leave this blank out for it.",
    known_limits="Looks at the outline box of the art only; on a round body, at the face one sees.",
    source=COMMON,
)
def orientation(placed: Placed) -> Iterator[Hit]:
    """The art stands the way the blank wants it."""
    wants, limits = placed.blank.orientation, placed.limits
    place, area, places = placed.placement, placed.layout.area, placed.layout.placements
    if not placed.whole:
        return
    tall = place.height_px / place.width_px
    # Of a round body one sees a face at a time; art that fills a face does not look lost on a long wrap.
    face = face_mm(placed)
    across = area.width_mm if face is None else min(face, area.width_mm)
    shown = sum(one.width_mm for one in places) if face is None else place.width_mm
    empty_across = 1 - shown / across
    empty_down = 1 - place.height_px / area.height_px
    if (
        wants is Orientation.LANDSCAPE
        and tall >= limits.orientation_ratio
        and empty_across > limits.orientation_fill
    ):
        code, empty, words = "upright-on-wide", empty_across, ("upright", "a wide", "width")
    elif (
        wants is Orientation.PORTRAIT
        and 1 / tall >= limits.orientation_ratio
        and empty_down > limits.orientation_fill
    ):
        code, empty, words = "wide-on-upright", empty_down, ("wide", "an upright", "height")
    else:
        return
    yield Hit(
        code,
        f"{words[0]} art on {words[1]} blank: {place.width_mm:.0f} x {place.height_mm:.0f} mm, "
        f"{empty:.0%} of the {words[2]} stays bare",
        f"arrange the art {words[1].split()[1]}, or leave {placed.blank.code} out for it",
        {"bare_share": round(empty, 3), "limit": limits.orientation_fill, "height_to_width": round(tall, 3)},
    )


def face_mm(placed: Placed) -> float | None:
    """How much of a round body faces the viewer, along its girth; None where the body is not round."""
    body = placed.blank.body
    if body.diameter_mm is None:
        return None
    return body.visible_width_mm or body.diameter_mm * pi * placed.limits.visible_degrees / 360


@check(
    "prints/outside-safe",
    subject=Placed,
    codes={"off-area": Severity.STOP, "outside-safe": Severity.WARN},
    why="Goods shift by a millimetre or two in the press. What lies outside the safe area may be cut, or "
    "wrap round an edge; what lies off the print area is not printed at all.",
    example="A name set 1 mm from the border of a cushion whose partner asks for 8 mm.",
    fix="Lay the art smaller or further in.",
    known_limits="Art that is laid to fill the area, or as a pattern, is cropped on purpose and not "
    "reported.",
    source="the partner's print area and safe margin, from the blank's file",
)
def outside_safe(placed: Placed) -> Iterator[Hit]:
    """The art stays inside the safe area."""
    if not placed.whole:
        return
    area, safe = placed.layout.area, safe_box(placed.layout.area)
    over = max(
        _overhang(place, Box(0, 0, area.width_px, area.height_px)) for place in placed.layout.placements
    )
    past = max(_overhang(place, safe) for place in placed.layout.placements)
    if over > 0:
        code, what, by = "off-area", "the print area; that part is not printed", over
    elif past > 0:
        code, what, by = "outside-safe", "the safe area, where the press may cut or wrap it", past
    else:
        return
    mm = px_to_mm(by, area.dpi)
    yield Hit(
        code,
        f"the art reaches {mm:.1f} mm past {what}",
        "lay the art smaller or further in",
        {"mm": round(mm, 2)},
    )


def _overhang(place: Placement, box: Box) -> int:
    """Pixels by which a placement leaves the box on its worst side; 0 or less inside.

    Art that runs from edge to edge of the area, like a wrap, is meant to bleed there.
    """
    right, bottom = place.left_px + place.width_px, place.top_px + place.height_px
    across = max(box.left - place.left_px, right - box.right)
    if (place.left_px, right) == (0, place.area.width_px):
        across = 0
    return max(across, box.top - place.top_px, bottom - box.bottom)


@check(
    "prints/file-size",
    subject=Placed,
    codes={"too-large": Severity.STOP},
    why="A partner that takes files up to a size refuses the whole order when one is larger.",
    example="A watercolour texture of 31 MB for a partner that takes 20 MB.",
    fix="Simplify textures, or ask the partner for JPEG.",
    known_limits="Weighed only where the partner sets a limit and the art is not plainly far below it.",
    source="the partner's limit, from the blank's file",
)
def file_size(placed: Placed) -> Iterator[Hit]:
    """The print file is no larger than the partner takes."""
    size, most = placed.evidence.print_bytes, placed.layout.area.max_bytes
    if size is not None and most is not None and size > most:
        yield Hit(
            "too-large",
            f"the print file has {size / 1e6:.1f} MB, the partner takes {most / 1e6:.1f} MB",
            "simplify textures and gradients in the art, or ask the partner for another format",
            {"bytes": size, "limit": most},
        )


@check(
    "suits/visible-face",
    subject=Placed,
    codes={"words-turn-away": Severity.WARN, "turns-away": Severity.NOTE},
    why="Of a round body one sees only the front. A line of words wider than that cannot be read at one "
    "look, nor can letters that stand where the listing's first picture turns away from them.",
    example="A slogan 140 mm wide on a mug that shows 70 mm; one of 66 mm that begins at its left edge.",
    fix="Break the line in two, or lay the art narrower or nearer to the middle of the face.",
    known_limits="Words are found by their shapes; drawings may be taken for words. Wraps meant to go all "
    "round are noted too.",
    source="the blank's visible width; else the part of the girth that faces the viewer (limit below); for "
    "the first picture its plate's geometry, 4 % of a line and a third of the width of letters seen straight "
    "on: common practice, no source",
    limits=("visible_degrees",),
)
def visible_face(placed: Placed) -> Iterator[Hit]:
    """What is to be seen at one look fits on the face one sees."""
    turned = _turned_away(placed)
    if turned is not None:
        yield turned
        return
    seen, width = face_mm(placed), placed.placement.width_mm
    if seen is None or width <= seen * 1.02:  # whole pixels and a hair
        return
    lines = placed.evidence.art.lines if placed.evidence.art else ()
    words = max(((line.right - line.left) * placed.mm_per_px for line in lines), default=0.0)
    numbers = {"width_mm": round(width, 1), "visible_mm": round(seen, 1), "words_mm": round(words, 1)}
    if words > seen:
        what = f"a line of words {words:.0f} mm wide turns out of sight; the face shows {seen:.0f} mm"
        yield Hit("words-turn-away", what, "break the line in two, or lay the art narrower", numbers)
    else:
        what = f"the art is {width:.0f} mm wide, the face shows {seen:.0f} mm of it"
        yield Hit("turns-away", what, "fine for a wrap; else lay the art narrower", numbers)


def _turned_away(placed: Placed) -> Hit | None:
    """The line of words of which the first picture shows least, where letters of it are turned away."""
    sight, art = placed.evidence.sight, placed.evidence.art
    if sight is None or art is None or face_mm(placed) is None or not placed.whole:
        return None
    worst, where = 0.0, ""
    for line in (one for one in art.lines if one.sure >= placed.limits.sure_words):
        ends = min((_ends_away(sight, one, line) for one in placed.layout.placements), key=sum)
        if sum(ends) > worst:
            worst, where = sum(ends), "first" if ends[0] >= ends[1] else "last"
    if worst <= _LETTERS_AWAY:
        return None
    what = f"the {where} letters of a line of words are out of sight in the first picture ({worst:.0%} of it)"
    fix = "lay the art narrower or nearer to the middle of the face, or break the line in two"
    return Hit("words-turn-away", what, fix, {"away": round(worst, 3)})


def _ends_away(sight: Sight, placed: Placement, line: TextLine) -> tuple[float, float]:
    """Of one line on one placement, the shares out of sight at its left and at its right."""
    wide, high = placed.width_px / placed.crop.width, placed.height_px / placed.crop.height
    left, right = (placed.left_px + (x - placed.crop.left) * wide for x in (line.left, line.right))
    middle = placed.top_px + ((line.top + line.bottom) / 2 - placed.crop.top) * high
    return sight.out_of_sight(left, right, middle)
