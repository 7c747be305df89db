"""Whether each line of words stands out from the blank, whatever the rest of the art does."""

from collections.abc import Iterator, Sequence

from hundredfold.kernel.counting import counted
from hundredfold.kernel.findings import Severity
from hundredfold.proofing.checks.colours import WHITE
from hundredfold.proofing.checks.contrast import WORDS
from hundredfold.proofing.checks.reads import MILD
from hundredfold.proofing.profile import Limits
from hundredfold.proofing.readings import look_of
from hundredfold.proofing.registry import Bearing, Hit, Mends, More, check
from hundredfold.proofing.subjects import Coloured
from hundredfold.proofing.wordlines import LineStanding, box_of, line_standings, place_of, share_lost

FIX = "leave this colour out, give these words another ink, or put a shape or an outline behind them"
_OUTLINE_IN_PART = ("blank/outline-contrast:part-lost", "blank/outline-contrast:weak")


@check(
    "blank/words-contrast",
    subject=Coloured,
    codes={"lost": Severity.STOP, "part-lost": Severity.WARN, "weak": Severity.WARN},
    limits=(
        "sure_words",
        "lost_words_contrast",
        "dark_words_contrast",
        "dark_luminance",
        "lost_words_difference",
        "lost_words_share",
        "part_words_share",
        "part_lost_share",
        "faint_words_contrast",
    ),
    why="Art in several inks can stand out while one line of its words is gone: the buyer gets a sentence "
    "without its end, and sends it back.",
    example='"Tower Captain" in red above "please stand when I say stand" in cream, on a white mug.',
    fix="Leave the colour out, give the line another ink, or set it on a shape or in an outline.",
    known_limits="Looks at lines, not at single words, and at ink as if it were solid. What only shapes "
    "tell, such as a word of three huge letters, may be ornament: it is a stop only where much of the art is "
    "lost with it. Letters on a shape of the art itself are read off that shape and not judged here.",
    source="WCAG 2.2 relative luminance and contrast ratio; CIEDE2000 (Sharma, Wu, Dalal 2005); figures in "
    "docs/findings.md",
    bearing=Bearing(
        follows={
            "lost": ("reads/thumbnail", *_OUTLINE_IN_PART, *WHITE),
            "part-lost": (*MILD, *_OUTLINE_IN_PART, *WHITE),
            "weak": MILD,
        },
        worst_by={
            "lost": ("contrast", More.BETTER),
            "part-lost": ("lost_share", More.WORSE),
            "weak": ("contrast", More.BETTER),
        },
        mends=(Mends.CHANGE,),
        faint=True,
    ),
)
def words_contrast(pair: Coloured) -> Iterator[Hit]:
    """Every line of words stands out from the blank."""
    art, limits = pair.evidence.art, pair.limits
    if art is None or pair.too_dark_to_darken:
        return
    look = look_of(pair.blank, pair.colour, 0)
    stands = line_standings(art.lines, look, limits)
    whole = share_lost(art.windows, look, limits)
    lost = [one for one in stands if one.fails(limits, whole)]
    part = [one for one in stands if one.lost >= _worth_a_word(one, limits)]
    weak = [one for one in stands if one.faint(limits)]
    if lost:
        yield _hit("lost", lost, "lost on this colour", pair)
    elif part:
        gone = max(one.lost for one in part) >= limits.lost_words_share
        yield _hit("part-lost", part, "lost on this colour" if gone else "lost in part on this colour", pair)
    elif weak:
        yield _hit("weak", weak, f"faint on this colour, under {limits.faint_words_contrast:g}:1", pair)


def _worth_a_word(one: LineStanding, limits: Limits) -> float:
    """The share of a line's outline whose loss is told: what may be no words must be lost altogether."""
    return limits.part_words_share if one.sure(limits) else limits.lost_words_share


def _hit(code: str, lines: Sequence[LineStanding], how: str, pair: Coloured) -> Hit:
    art = pair.evidence.art
    assert art is not None
    worst = max(lines, key=lambda one: (one.lost, -one.contrast))
    where = ("" if worst.sure(pair.limits) else "what may be ") + place_of(worst.line, art.lines)
    others = f" and {counted(len(lines) - 1, 'more line')} are" if len(lines) > 1 else " is"
    ratio = f"{worst.contrast:.1f}:1" + (f"; {WORDS[pair.model]}" if WORDS[pair.model] else "")
    numbers: dict[str, float | int | str] = {
        "where": where,
        "lines": len(lines),
        "lost_share": round(worst.lost, 3),
        "contrast": round(worst.contrast, 2),
        "difference": round(worst.difference, 1),
        **box_of(worst.line, pair.facts.ink),
    }
    return Hit(code, f"{where}{others} {how} ({ratio})", FIX, numbers)
