"""Checks of the art's colours on the colour of the blank, under the ink model of its process."""

from collections.abc import Iterator

from hundredfold.catalogue.ink import InkModel
from hundredfold.kernel.checks import COMMON
from hundredfold.kernel.findings import Severity
from hundredfold.kernel.vision import Vision
from hundredfold.proofing.checks.colours import WHITE
from hundredfold.proofing.checks.reads import MILD
from hundredfold.proofing.registry import Bearing, Hit, Mends, More, check
from hundredfold.proofing.subjects import Coloured
from hundredfold.proofing.visible import best_by_darkening

WORDS = {
    InkModel.TRANSPARENT: "this process has no white ink and can only darken the blank",
    InkModel.UNDERBASE: "",
    InkModel.ONE_TONE: "an engraving shows one tone of the metal, whatever the art's colours",
}


@check(
    "ink/dark-blank",
    subject=Coloured,
    codes={"nothing-shows": Severity.STOP},
    limits=("darkest_blank_contrast",),
    why="Transparent ink filters the colour it lies on. On a dark blank there is no light to filter: every "
    "colour comes out as dark as the blank.",
    example="Any art by dye sublimation on a navy cushion.",
    fix="Choose a light colour of the blank, or a process that prints on a white underbase.",
    known_limits="A blank with a white printing patch is entered with the colour of the patch, not of the "
    "body.",
    source="common practice, no source; the limit is WCAG 2.2 SC 1.4.11 (3:1 for graphics), taken for black "
    "ink",
    bearing=Bearing(worst_by={"nothing-shows": ("best_contrast", More.BETTER)}),
)
def dark_blank(pair: Coloured) -> Iterator[Hit]:
    """The blank is light enough for ink that has no white under it."""
    if pair.too_dark_to_darken:
        best = best_by_darkening(pair.colour)
        yield Hit(
            "nothing-shows",
            f"even black ink reaches only {best:.1f}:1: {WORDS[InkModel.TRANSPARENT]}",
            "leave this colour out, or use a process with a white underbase",
            {"best_contrast": round(best, 2), "limit": pair.limits.darkest_blank_contrast},
        )


@check(
    "blank/outline-contrast",
    subject=Coloured,
    codes={"lost": Severity.STOP, "part-lost": Severity.WARN, "weak": Severity.WARN},
    limits=(
        "lost_contrast",
        "lost_difference",
        "weak_contrast",
        "lost_edge_share",
        "part_lost_share",
        "weak_edge_share",
        "weak_mean_contrast",
        "visible_ink_share",
        "read_doubt",
    ),
    why="Art whose outline has the lightness of the blank cannot be made out: navy letters on a navy shirt, "
    "white letters sublimated on a white mug. It is the costliest mistake of the trade and shows only on "
    "some colours.",
    example="Letters in #14213d on a blank in #1f2a50: 1.2 to 1 along the whole outline.",
    fix="Leave the colour out, use the light or the dark version of the art, or give it an outline.",
    known_limits="Looks at colours along the outline, not at how large the words are; reads/thumbnail does "
    "that.",
    source="WCAG 2.2 relative luminance and contrast ratio; CIEDE2000 (Sharma, Wu, Dalal 2005); limits "
    "measured",
    bearing=Bearing(
        follows={
            "lost": ("reads/thumbnail", "blank/words-contrast", *WHITE),
            "part-lost": (*MILD, "blank/words-contrast:weak", *WHITE),
            "weak": (*MILD, "blank/words-contrast:weak"),
        },
        worst_by={
            "lost": ("lost_share", More.WORSE),
            "part-lost": ("lost_share", More.WORSE),
            "weak": ("weak_share", More.WORSE),
        },
        mends=(Mends.CHANGE,),
        faint=True,
    ),
)
def outline_contrast(pair: Coloured) -> Iterator[Hit]:
    """The art stands out from the blank along its outline."""
    limits = pair.limits
    stands, art = pair.stands, pair.evidence.art
    boxed = pair.facts.opaque_border or (art is not None and art.inset_box)
    # The outline of a filled box says nothing of the art on it; art/background-box speaks of the box.
    if stands is None or boxed or pair.too_dark_to_darken:
        return
    numbers = {
        "lost_share": round(stands.lost, 3),
        "weak_share": round(stands.weak, 3),
        "contrast": round(stands.contrast, 2),
        "difference": round(stands.difference, 1),
    }
    why = "; ".join(filter(None, (f"the whole outline has {stands.contrast:.1f}:1", WORDS[pair.model])))
    fix = "leave this colour out, use a lighter or darker version of the art, or give it an outline"
    if stands.lost >= limits.lost_edge_share:
        what = f"{stands.lost:.0%} of the art's outline is lost on this colour ({why})"
        yield Hit("lost", what, fix, numbers)
    elif stands.lost >= limits.part_lost_share:
        what = f"{stands.lost:.0%} of the outline is lost on this colour, and a part of the art with it"
        yield Hit("part-lost", what, fix, numbers)
    elif (
        stands.weak >= limits.weak_edge_share
        and stands.contrast < limits.weak_mean_contrast
        and not (stands.contrast >= READ_FROM and _words_read(pair))
    ):
        faint = f"faint on this colour (under {limits.weak_contrast:g}:1; {why})"
        what = f"{stands.weak:.0%} of the outline is {faint}"
        yield Hit("weak", what, fix, numbers)


# Below this a machine still reads large words that a buyer calls washed out: they are told. By eye.
READ_FROM = 1.8


def _words_read(pair: Coloured) -> bool:
    """All words are read in the thumbnail, so that a weak outline is a matter of taste."""
    reading = pair.evidence.reading
    return reading is not None and min(reading.chance, reading.main_words) >= pair.limits.read_doubt


@check(
    "blank/colour-vision",
    subject=Coloured,
    codes={"lost-to-some": Severity.NOTE},
    limits=("colour_vision", "lost_contrast", "lost_difference", "lost_edge_share"),
    why="About one man in twelve and one woman in two hundred tells some colours apart worse than others "
    "do. Red on green of the same lightness is lost to them.",
    example="A red lettering on a green shirt of the same lightness.",
    fix="Choose a colour of another lightness.",
    known_limits="Looks at a full lack of one kind of cone; most people have a milder form. Off until its "
    "limit is 1.",
    source="Machado, Oliveira, Fernandes, IEEE TVCG 15(6), 1291-1298, 2009, severity 1.0, in linear light",
)
def colour_vision(pair: Coloured) -> Iterator[Hit]:
    """The outline is seen with a colour-vision deficiency too."""
    limits = pair.limits
    if not limits.colour_vision or pair.too_dark_to_darken:
        return
    plain = pair.stands
    if plain is None or plain.fails(limits):
        return
    for vision in Vision:
        seen = pair.stands_for(vision)
        if seen is not None and seen.fails(limits):
            yield Hit(
                "lost-to-some",
                f"{seen.lost:.0%} of the outline is lost to people with {vision} vision "
                f"({seen.contrast:.1f}:1)",
                "choose a colour of another lightness",
                {"vision": vision.value, "lost_share": round(seen.lost, 3)},
            )
            return


@check(
    "ink/soft-on-underbase",
    subject=Coloured,
    codes={"fringe": Severity.WARN},
    limits=("soft_share",),
    why="Under half-transparent ink the white underbase is still solid. Shadows, glows and smoke that melt "
    "into the background on screen print as pale, hard-edged patches.",
    example="A soft drop shadow behind letters, direct to film on a black shirt: a grey-white slab.",
    fix="Remove shadows and glows, or turn them into a halftone of solid dots.",
    known_limits="The usual one-pixel softness of edges is left out; partners that halftone the white "
    "themselves may print it well.",
    source=COMMON,
    bearing=Bearing(follows={"fringe": ("ink/rim:halo",)}),
)
def soft_on_underbase(pair: Coloured) -> Iterator[Hit]:
    """There is no half-transparent ink over an opaque white underbase."""
    share, limit = pair.facts.soft_share, pair.limits.soft_share
    if pair.model is InkModel.UNDERBASE and share > limit:
        yield Hit(
            "fringe",
            f"{share:.0%} of the ink is half transparent and will show the white underbase (limit "
            f"{limit:.0%})",
            "remove shadows and glows from the art, or turn them into solid dots",
            {"soft_share": round(share, 3), "limit": limit},
        )
