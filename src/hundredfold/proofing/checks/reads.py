"""Whether the words are read in the listing's picture."""

from collections.abc import Iterator

from hundredfold.kernel.findings import Severity
from hundredfold.proofing.registry import Hit, check
from hundredfold.proofing.subjects import Coloured


@check(
    "reads/thumbnail",
    subject=Coloured,
    codes={"unreadable": Severity.STOP, "doubtful": Severity.WARN},
    limits=("read_stop", "read_doubt"),
    why="Buyers see the picture in a page of results, where the art is 60 to 240 px wide. Words that die "
    "there are "
    "never clicked on, however well they print.",
    example="A thin script of five lines on a tumbler, 70 px wide in a thumbnail of 160 px.",
    fix="Fewer and larger words, a heavier face, or a colour with more contrast; an outline where the "
    "checks offer one.",
    known_limits="A chance learnt from machine readers on rendered art, not from shoppers; outlined and "
    "worn lettering "
    "is where it errs most. Art without words is not judged by it.",
    source="measured on our own labelled set; figures and worst mistakes in docs/accuracy.md",
)
def thumbnail(pair: Coloured) -> Iterator[Hit]:
    """The words are read in the thumbnail."""
    reading, limits = pair.evidence.reading, pair.limits
    if reading is None or reading.chance >= limits.read_doubt:
        return
    dead = reading.chance < limits.read_stop
    words = "will hardly be read" if dead else "may not be read"
    yield Hit(
        "unreadable" if dead else "doubtful",
        f"the words {words} with the art {reading.art_px} px wide in the picture (chance "
        f"{reading.chance:.0%})",
        "use fewer and larger words, or a colour with more contrast",
        {"chance": round(reading.chance, 3), "art_px": reading.art_px},
    )
