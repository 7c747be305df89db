"""What can be made out of art on a blank colour: the arithmetic behind the checks, the advice and the
repair."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from hundredfold.catalogue.blanks import Blank, BlankColour
from hundredfold.catalogue.ink import InkModel, ink_look, ink_model
from hundredfold.designs.facts import DesignFacts, EdgeColour, InkColour
from hundredfold.kernel.colour import Floats, Srgb, contrast_ratio, linear_of, relative_luminance
from hundredfold.kernel.difference import colour_difference
from hundredfold.kernel.vision import Vision, seen_with
from hundredfold.proofing.art.facts import ArtFacts, EdgeWindow
from hundredfold.proofing.profile import Limits
from hundredfold.proofing.readings import Look


@dataclass(frozen=True)
class OutlineShares:
    """How art stands out from a blank colour along its outline; shares of the outline, 0-1."""

    lost: float
    weak: float
    contrast: float  # geometric mean, WCAG ratio
    difference: float  # mean CIEDE2000

    def fails(self, limits: Limits) -> bool:
        """The art cannot be made out."""
        return self.lost >= limits.lost_edge_share and self.contrast < limits.weak_contrast


NOTHING = OutlineShares(0.0, 0.0, 1.0, 0.0)


def linear_inks(
    entries: Sequence[InkColour] | Sequence[EdgeColour] | Sequence[EdgeWindow], field: str = "hex"
) -> tuple[Floats, Floats]:
    """Linear-light colours (n x 3) and their shares."""
    colours = np.array([_linear(getattr(one, field)) for one in entries]).reshape(-1, 3)
    return colours, np.array([one.share for one in entries])


@lru_cache(maxsize=4096)
def _linear(code: str) -> tuple[float, ...]:
    return tuple(linear_of(Srgb.parse(code)))


def too_dark_to_darken(model: InkModel, colour: BlankColour, limits: Limits) -> bool:
    """Whether even black ink hardly shows on this colour, which the process can only darken."""
    return model is InkModel.TRANSPARENT and best_by_darkening(colour) < limits.darkest_blank_contrast


def best_by_darkening(colour: BlankColour) -> float:
    """The contrast of black ink on this colour."""
    return float(contrast_ratio(relative_luminance(linear_of(colour.srgb)), 0.0))


def standing(
    blank: Blank,
    colour: BlankColour,
    facts: DesignFacts,
    art: ArtFacts | None,
    limits: Limits,
    vision: Vision | None = None,
) -> OutlineShares | None:
    """How the art stands out from the blank; None where it has no outline to judge by.

    ``vision`` looks with a colour-vision deficiency. With deep facts, by the darkest and lightest ink near
    each stretch of outline; else by the outline's own colours, which then count as lost only as far as the
    ink inside does not show either.
    """
    ground = linear_of(colour.srgb)
    if art is not None and art.windows:
        dark, shares = linear_inks(art.windows, "dark")
        light, _ = linear_inks(art.windows, "light")
        looks = [ink_look(blank, colour, dark), ink_look(blank, colour, light)]
        return _standing(_seen([np.broadcast_to(ground, dark.shape), *looks], vision), shares, limits)
    if not facts.outline:
        return None
    edge, shares = linear_inks(facts.outline)
    looks = [np.broadcast_to(ground, edge.shape), ink_look(blank, colour, edge)]
    found = _standing(_seen(looks, vision), shares, limits)
    if facts.inks and ink_model(blank, colour) is not InkModel.ONE_TONE:
        ink, parts = linear_inks(facts.inks)
        ratio = contrast_ratio(relative_luminance(ink_look(blank, colour, ink)), relative_luminance(ground))
        carried = float(parts[ratio >= limits.weak_contrast].sum() / parts.sum())
        if carried >= limits.visible_ink_share:
            found = OutlineShares(0.0, found.weak, found.contrast, found.difference)
    return found


def stands_on(windows: Sequence[EdgeWindow], look: Look, limits: Limits) -> OutlineShares | None:
    """The same for the inks near an outline in a look; None where there is no outline."""
    if not windows:
        return None
    return _standing(looks_in(windows, look), np.array([one.share for one in windows]), limits)


def looks_in(windows: Sequence[EdgeWindow], look: Look) -> list[Floats]:
    """The bare blank, the dark and the light inks of these windows, in linear light as a look shows them."""
    dark, light = (linear_inks(windows, field)[0] for field in ("dark", "light"))
    ground = np.broadcast_to(linear_of(Srgb.parse(look.blank)), dark.shape)
    if look.tone:
        dark = light = np.broadcast_to(linear_of(Srgb.parse(look.tone)), dark.shape)
    if look.transparent:
        dark, light = ground * dark, ground * light
    return [ground, dark, light]


def _seen(looks: list[Floats], vision: Vision | None) -> list[Floats]:
    return looks if vision is None else [seen_with(vision, look) for look in looks]


def apart(looks: Sequence[Floats]) -> tuple[Floats, Floats]:
    """The greatest WCAG ratio and CIEDE2000 among what is seen together at each place."""
    lights = np.stack([relative_luminance(look) for look in looks])
    pairs = [(one, other) for place, one in enumerate(looks) for other in looks[:place]]
    ones, others = (np.stack(some) for some in zip(*pairs, strict=True))
    ratio = contrast_ratio(lights.max(axis=0), lights.min(axis=0))
    return ratio, colour_difference(ones, others).max(axis=0)


def _standing(looks: list[Floats], shares: Floats, limits: Limits) -> OutlineShares:
    ratio, difference = apart(looks)
    lost = (ratio < limits.lost_contrast) & (difference < limits.lost_difference)
    return OutlineShares(
        lost=_mean(lost, shares),
        weak=_mean(ratio < limits.weak_contrast, shares),
        contrast=float(np.exp(_mean(np.log(ratio), shares))),
        difference=_mean(difference, shares),
    )


def _mean(values: Floats | NDArray[np.bool_], shares: Floats) -> float:
    return float((values * shares).sum() / shares.sum())
