"""Whether the words are read in the listing's picture."""

from collections.abc import Iterator

from hundredfold.kernel.findings import Severity
from hundredfold.proofing.registry import Bearing, Hit, Mends, More, check
from hundredfold.proofing.subjects import Coloured

# What a stronger finding on the same colour says as well.
MILD = ("reads/thumbnail:doubtful", "reads/thumbnail:picture-first", "reads/thumbnail:small-lines")


@check(
    "reads/thumbnail",
    subject=Coloured,
    codes={
        "unreadable": Severity.STOP,
        "doubtful": Severity.WARN,
        "picture-first": Severity.NOTE,
        "small-lines": Severity.NOTE,
    },
    limits=("read_stop", "read_doubt", "read_better", "read_words_share", "sure_words"),
    why="Buyers see the picture in a page of results, where the art is 60 to 240 px wide. Words that die "
    "there are never clicked on, however well they print.",
    example="A thin script of five lines on a tumbler, 70 px wide in a thumbnail of 160 px.",
    fix="Fewer and larger words, a heavier face, or a colour with more contrast; an outline where the "
    "checks offer one.",
    known_limits="A chance learnt from machine readers on rendered art, not from shoppers; outlined and "
    "worn lettering is where it errs most. The main words are the tallest lines; of art that is mostly "
    "picture, words that no colour shows are a note only, and so is what only may be words. Art "
    "without words is not judged.",
    source="measured on our own labelled set; figures and worst mistakes in docs/accuracy.md",
    bearing=Bearing(
        follows={
            "unreadable": (
                "blank/outline-contrast:part-lost",
                "blank/outline-contrast:weak",
                "blank/words-contrast:part-lost",
                "blank/words-contrast:weak",
            )
        },
        worst_by=dict.fromkeys(("doubtful", "picture-first", "unreadable"), ("main", More.BETTER)),
        mends=(Mends.CHANGE, Mends.SIZE),
    ),
)
def thumbnail(pair: Coloured) -> Iterator[Hit]:
    """The words are read in the thumbnail."""
    reading, art, limits = pair.evidence.reading, pair.evidence.art, pair.limits
    if reading is None or (art is not None and not art.lines):  # grain that the reader alone takes for words
        return
    main, at = reading.main_words, f"with the art {reading.art_px} px wide in the picture"
    numbers = {"chance": round(reading.chance, 3), "main": round(main, 3), "art_px": reading.art_px}
    fix = "use fewer and larger words, or a colour with more contrast"
    if art is not None and not any(line.sure >= limits.sure_words for line in art.lines):
        if main < limits.read_stop:
            what = f"what may be words is hardly read {at}"
            yield Hit("picture-first", what, "fine for a picture or a pattern", numbers)
        return
    may = "may not" if main >= limits.read_stop else "will hardly"
    what = f"the words {may} be read {at} (chance of being read {main:.0%})"
    picture = reading.share < limits.read_words_share
    elsewhere = reading.best >= max(limits.read_doubt, main + limits.read_better)
    if main < limits.read_doubt and picture and elsewhere:
        yield Hit("doubtful", what, "list a colour on which they are read", numbers)
    elif main < limits.read_doubt and picture:
        yield Hit("picture-first", f"{what}; the picture speaks for them", "fine where it does", numbers)
    elif main < limits.read_stop:
        yield Hit("unreadable", what, fix, numbers)
    elif main < limits.read_doubt:
        yield Hit("doubtful", what, fix, numbers)
    elif reading.chance < limits.read_stop:
        what = f"the main words are read {at}, the smaller lines are not"
        yield Hit(
            "small-lines", what, "fine where the main words say enough; else enlarge the others", numbers
        )
