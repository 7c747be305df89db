"""The light and the dark version of one row are one idea: a colour of a blank is sold with the better one."""

import math
from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import replace

from hundredfold.kernel.colour import linear_of, relative_luminance
from hundredfold.ledger.keys import ListingKey
from hundredfold.ledger.state import Listed, Standing
from hundredfold.workshop.listing.offers import Proof

# Black and white stand out equally from this luminance (WCAG 2.2, contrast ratio); what is darker is dark.
_DARK = math.sqrt(1.05 * 0.05) - 0.05
_CLEARLY = 0.1  # better on the scale of scores, 0 to 1; common practice, no source


def better_versions(proved: Sequence[Proof], listed: Mapping[ListingKey, Listed]) -> tuple[Proof, ...]:
    """The proofs in order, colours that another version of the same row suits better taken out of each.

    The version for dark goods suits dark colours and the other light ones, unless the colour's own score, how
    well the art reads, stands out and keeps its colours, clearly says otherwise: near scores must not split a
    blank's colours between two listings. A colour that is out already stays where it is.
    """
    rivals: dict[tuple[str, str], list[Proof]] = defaultdict(list)
    for proof in proved:
        if proof.design.row:
            rivals[(proof.design.row, proof.blank.code)].append(proof)
    out = {
        (key.design, key.blank, colour)
        for key, one in listed.items()
        if one.standing is not Standing.ENDED
        for colour in one.colours
    }
    return tuple(_left(proof, rivals[(proof.design.row, proof.blank.code)], out) for proof in proved)


def _left(proof: Proof, rivals: Sequence[Proof], out: set[tuple[str, str, str]]) -> Proof:
    if len(rivals) < 2:
        return proof
    kept = tuple(colour for colour in proof.colours if _best(colour, rivals, out) is proof)
    best = tuple(colour for colour in proof.best if colour in kept)
    # A version whose best colours went to the other still has its next best.
    return replace(proof, colours=kept, best=best or kept[: len(proof.best)])


def _best(colour: str, rivals: Sequence[Proof], out: set[tuple[str, str, str]]) -> Proof:
    ground = relative_luminance(linear_of(rivals[0].blank.colour(colour).srgb))
    meant = "dark" if ground < _DARK else "light"

    def order(one: Proof) -> tuple[bool, float]:
        is_out = (one.design.id, one.blank.code, colour) in out
        return not is_out, -one.scores.get(colour, 0.0) - (_CLEARLY if one.design.version == meant else 0.0)

    return min((proof for proof in rivals if colour in proof.colours), key=order)
