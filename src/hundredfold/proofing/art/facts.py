"""What proofing measures on a piece of art beyond DesignFacts, once. Lengths are pixels of the art."""

import json
from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass
from typing import Any


@dataclass(frozen=True)
class EdgeWindow:
    """The darkest and the lightest ink close to a stretch of outline, and its share of the outline (0-1).

    Close means within a twentieth of the art's longer side, through solid ink, so that white letters in
    a black outline are seen as what they are: an edge that shows on any blank.
    """

    dark: str  # sRGB-encoded hex
    light: str
    share: float


@dataclass(frozen=True)
class Thin:
    """So much length of lines (or of gaps between ink) of about this width."""

    width_px: float
    length_px: float


@dataclass(frozen=True)
class TextLine:
    """What looks like a line of lettering: its box, the height of its letters' bodies, and how many.

    ``windows`` are the inks where its letters end at the bare blank; their shares are of all the letters'
    outline, so that a line on a shape of its own has none, and nothing that the blank's colour could change.
    """

    left: int
    top: int
    right: int
    bottom: int
    letter_px: float  # x-height of lower case, cap height of capitals
    letters: int
    sure: float = 0.0  # how sure the reader is that these are letters (0-1); 0 where only shapes say so
    windows: tuple[EdgeWindow, ...] = ()


@dataclass(frozen=True)
class ArtFacts:
    """Deep facts of one piece of art."""

    outline_px: float  # length of the art's outline
    windows: tuple[EdgeWindow, ...]
    strokes: tuple[Thin, ...]  # thin lines only, thinnest first
    gaps: tuple[Thin, ...]  # thin gaps only, thinnest first
    soft_band_px: float  # mean width of the half-transparent rim; plain anti-aliasing gives about 1
    fringe_share: float  # of the outline, carries a rim much lighter than the ink it surrounds (0-1)
    step_share: float  # of the ink, lies in gradients that go in visible steps (0-1)
    step_px: float  # typical width of such a step
    inset_box: bool  # the ink is one filled rectangle of one border colour inside a transparent file
    lines: tuple[TextLine, ...]  # top to bottom


def art_facts_as_json(facts: ArtFacts) -> bytes:
    """Canonical JSON: sorted keys, no spaces."""
    return json.dumps(asdict(facts), sort_keys=True, separators=(",", ":")).encode()


def art_facts_from_json(data: bytes | str) -> ArtFacts:
    """The inverse of ``art_facts_as_json``. Raises KeyError or TypeError on another shape."""
    fields = dict(json.loads(data))
    fields["windows"] = _windows(fields["windows"])
    fields["strokes"] = tuple(Thin(**one) for one in fields["strokes"])
    fields["gaps"] = tuple(Thin(**one) for one in fields["gaps"])
    fields["lines"] = tuple(
        TextLine(**{**one, "windows": _windows(one["windows"])}) for one in fields["lines"]
    )
    return ArtFacts(**fields)


def _windows(plain: Sequence[Mapping[str, Any]]) -> tuple[EdgeWindow, ...]:
    return tuple(EdgeWindow(**one) for one in plain)
