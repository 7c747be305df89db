"""Checks of the art's colours on the colour of the blank, under the ink model of its process."""

from collections.abc import Iterator

import numpy as np
from numpy.typing import ArrayLike

from hundredfold.catalogue.ink import InkModel, ink_look, ink_model
from hundredfold.kernel.colour import Floats, Srgb, contrast_ratio, linear_of, relative_luminance
from hundredfold.kernel.difference import colour_difference
from hundredfold.kernel.findings import Severity
from hundredfold.proofing.profile import COMMON
from hundredfold.proofing.registry import Hit, check
from hundredfold.proofing.subjects import Coloured

WORDS = {
    InkModel.TRANSPARENT: "this process has no white ink and can only darken the blank",
    InkModel.UNDERBASE: "the art keeps its own colours on a white underbase",
    InkModel.ONE_TONE: "an engraving shows one tone of the metal, whatever the art's colours",
}


def _linear(hexes: tuple[str, ...]) -> Floats:
    return np.array([linear_of(Srgb.parse(text)) for text in hexes]).reshape(-1, 3)


def _weighted(values: ArrayLike, shares: Floats) -> float:
    return float((np.asarray(values) * shares).sum() / shares.sum())


def too_dark_to_darken(pair: Coloured) -> bool:
    """Whether even black ink hardly shows on this blank, which the process can only darken."""
    if ink_model(pair.blank, pair.colour) is not InkModel.TRANSPARENT:
        return False
    ground = relative_luminance(linear_of(pair.colour.srgb))
    return bool(contrast_ratio(ground, 0.0) < pair.limits.darkest_blank_contrast)


@check(
    "ink/dark-blank",
    subject=Coloured,
    codes={"nothing-shows": Severity.STOP},
    limits=("darkest_blank_contrast",),
    why="Transparent ink filters the colour it lies on. On a dark blank there is no light to filter: every "
    "colour "
    "comes out as dark as the blank.",
    example="Any art by dye sublimation on a navy cushion.",
    fix="Choose a light colour of the blank, or a process that prints on a white underbase.",
    known_limits="A blank with a white printing patch is entered with the colour of the patch, not of the "
    "body.",
    source="common practice, no source; the limit is WCAG 2.2 SC 1.4.11 (3:1 for graphics), taken for "
    "black ink",
)
def dark_blank(pair: Coloured) -> Iterator[Hit]:
    """The blank is light enough for ink that has no white under it."""
    if too_dark_to_darken(pair):
        best = float(contrast_ratio(relative_luminance(linear_of(pair.colour.srgb)), 0.0))
        yield Hit(
            "nothing-shows",
            f"even black ink reaches only {best:.1f}:1 on {pair.colour.name}: {WORDS[InkModel.TRANSPARENT]}",
            "leave this colour out, or use a process with a white underbase",
            {"best_contrast": round(best, 2), "limit": pair.limits.darkest_blank_contrast},
        )


def _visible_ink(pair: Coloured) -> float:
    """Share of the ink that stands out from the blank: white letters in a black outline read on black."""
    inks = pair.facts.inks
    if not inks:
        return 0.0
    looks = ink_look(pair.blank, pair.colour, _linear(tuple(ink.hex for ink in inks)))
    ratio = contrast_ratio(relative_luminance(looks), relative_luminance(linear_of(pair.colour.srgb)))
    return _weighted(ratio >= pair.limits.weak_contrast, np.array([ink.share for ink in inks]))


@check(
    "blank/outline-contrast",
    subject=Coloured,
    codes={"lost": Severity.STOP, "weak": Severity.WARN},
    limits=(
        "lost_contrast",
        "lost_difference",
        "weak_contrast",
        "lost_edge_share",
        "weak_edge_share",
        "visible_ink_share",
    ),
    why="Art whose outline has the lightness of the blank cannot be made out: navy letters on a navy "
    "shirt, white "
    "letters sublimated on a white mug. It is the costliest mistake of the trade and shows only on some "
    "colours.",
    example="Letters in #14213d on a blank in #1f2a50: 1.2 to 1 along the whole outline.",
    fix="Leave the colour out, use the light or the dark version of the art, or give it an outline.",
    known_limits="Looks at colours along the outline, not at how large the words are; reads/thumbnail does "
    "that.",
    source="WCAG 2.2 relative luminance and contrast ratio; CIEDE2000 (Sharma, Wu, Dalal 2005); limits "
    "measured",
)
def outline_contrast(pair: Coloured) -> Iterator[Hit]:
    """The art stands out from the blank along its outline."""
    facts, limits = pair.facts, pair.limits
    if not facts.outline or too_dark_to_darken(pair):
        return
    shares = np.array([edge.share for edge in facts.outline])
    ground = linear_of(pair.colour.srgb)
    looks = ink_look(pair.blank, pair.colour, _linear(tuple(edge.hex for edge in facts.outline)))
    ratio = contrast_ratio(relative_luminance(looks), relative_luminance(ground))
    apart = colour_difference(looks, ground)
    lost = _weighted((ratio < limits.lost_contrast) & (apart < limits.lost_difference), shares)
    weak = _weighted(ratio < limits.weak_contrast, shares)
    typical = float(np.exp(_weighted(np.log(ratio), shares)))
    numbers = {
        "lost_share": round(lost, 3),
        "weak_share": round(weak, 3),
        "contrast": round(typical, 2),
        "difference": round(_weighted(apart, shares), 1),
    }
    model = WORDS[ink_model(pair.blank, pair.colour)]
    fix = f"leave {pair.colour.name} out, use a lighter or darker version of the art, or give it an outline"
    if lost >= limits.lost_edge_share and _visible_ink(pair) < limits.visible_ink_share:
        what = f"{lost:.0%} of the outline cannot be told from the blank ({typical:.1f}:1; {model})"
        yield Hit("lost", what, fix, numbers)
    elif max(lost, weak) >= limits.weak_edge_share:
        what = (
            f"{weak:.0%} of the outline is faint, under {limits.weak_contrast:g}:1 ({typical:.1f}:1; {model})"
        )
        yield Hit("weak", what, fix, numbers)


@check(
    "ink/soft-on-underbase",
    subject=Coloured,
    codes={"fringe": Severity.WARN},
    limits=("soft_share",),
    why="Under half-transparent ink the white underbase is still solid. Shadows, glows and smoke that melt "
    "into the "
    "background on screen print as pale, hard-edged patches.",
    example="A soft drop shadow behind letters, direct to film on a black shirt: a grey-white slab.",
    fix="Remove shadows and glows, or turn them into a halftone of solid dots.",
    known_limits="The usual one-pixel softness of edges is left out; partners that halftone the white "
    "themselves may "
    "print it well.",
    source=COMMON,
)
def soft_on_underbase(pair: Coloured) -> Iterator[Hit]:
    """There is no half-transparent ink over an opaque white underbase."""
    share, limit = pair.facts.soft_share, pair.limits.soft_share
    if ink_model(pair.blank, pair.colour) is InkModel.UNDERBASE and share > limit:
        yield Hit(
            "fringe",
            f"{share:.0%} of the ink is half transparent and will show the white underbase (limit "
            f"{limit:.0%})",
            "remove shadows and glows from the art, or turn them into solid dots",
            {"soft_share": round(share, 3), "limit": limit},
        )
