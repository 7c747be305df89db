"""What the proof sheet shows of a design: its telling pictures, one sentence, and its colours on every
blank."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Any

import cv2
import numpy as np
from numpy.typing import NDArray

from hundredfold.catalogue.blanks import Blank, BlankColour
from hundredfold.designs.design import Design
from hundredfold.designs.facts import Box
from hundredfold.kernel.counting import counted
from hundredfold.kernel.findings import Finding, Severity, worst
from hundredfold.placement.layout import AreaLayout
from hundredfold.proofing.checks.every import mends
from hundredfold.proofing.designproof import BlankProof, ColourProof, DesignProof, usual_layout
from hundredfold.proofing.grouping import grouped_findings
from hundredfold.proofing.reading.art import SmallArt
from hundredfold.proofing.readings import look_of
from hundredfold.proofing.registry import Mends
from hundredfold.proofing.repair.advice import Advice
from hundredfold.proofing.repair.changes import Kind, changed
from hundredfold.proofing.repair.verdicts import straight
from hundredfold.proofing.sheet.ring import ringed
from hundredfold.wording.casing import every_word

Pixels = NDArray[Any]
# Draws what lies in a design's box (RGBA, straight alpha, of any size) on a blank; RGB, sRGB-encoded.
Draw = Callable[[Blank, BlankColour, AreaLayout, Box, Pixels], Pixels]
_QUALITY = 82
MOST_ALSO, MOST_PLACES = 3, 3
WHITE_PAGE = "ink/box-shows"
# What the marks of a swatch mean.
STATES = {"best": "best", "fine": "fine", "look": "look first", "stop": "left out"}
# The words that findings speak of outlines with.
GLOSSARY = (
    ("Outline:", "where the art meets the blank, round every shape and letter"),
    ("Lost:", "what cannot be told from the blank, outline or words"),
    ("Faint:", "what is seen, with little contrast"),
    ("1.5:1", "is a contrast of lightness; 1:1 is none, 21:1 is black on white"),
    ("Chance of being read:", "how likely the words are read in the shop's small picture"),
)
_CHANGED = {Kind.OUTLINE: "With an outline", Kind.RECOLOUR: "Another ink", Kind.PATCH: "On a patch"}


@dataclass(frozen=True)
class Figure:
    """A picture with its words. ``mark`` is "stop", "repair", "best" or "look"."""

    jpeg: bytes
    mark: str
    head: str
    caption: str


@dataclass(frozen=True)
class Swatch:
    """A colour of a blank, and what becomes of it: "best", "fine", "look" or "stop"."""

    name: str
    body: str  # hex
    second: str  # hex, "" for one tone
    state: str


@dataclass(frozen=True)
class Strip:
    """The colours of a blank that has any to list, best first."""

    blank: str
    swatches: tuple[Swatch, ...]


@dataclass(frozen=True)
class Card:
    """One design."""

    name: str
    file: str
    severity: str  # "stop", "warn" or "fine"
    sentence: str
    advice: str
    figures: tuple[Figure, ...]
    strips: tuple[Strip, ...]
    passed: int
    stopped: int
    also: tuple[str, ...] = ()  # what else wants a look, a sentence each
    barred: tuple[
        str, ...
    ] = ()  # the blanks that are left out in every colour, with the reason if it is theirs


@dataclass(frozen=True)
class ProofSheet:
    """All of it. ``cards`` are worst first; ``ready`` need no look."""

    shop: str
    designs: int
    blanks: int
    passed: int
    warned: int
    stopped: int
    cards: tuple[Card, ...]
    ready: tuple[Card, ...]
    left_out: int  # designs that want a look and found no place on the sheet


def totals_of(sheet: ProofSheet) -> tuple[tuple[tuple[str, str], ...], str]:
    """The three numbers of a sheet, each with its words, and what they were counted on."""
    numbers = (
        (f"{sheet.passed:,}", "to list"),
        (f"{sheet.warned:,}", "of them want a look"),
        (f"{sheet.stopped:,}", "left out"),
    )
    designs, blanks = counted(sheet.designs, "design"), counted(sheet.blanks, "blank")
    return numbers, f"{designs} on {blanks}: {sheet.passed + sheet.stopped:,} pairs of design and colour."


def card_of(
    proof: DesignProof,
    small: SmallArt | None,
    draw: Draw,
    advice: Sequence[Advice],
    passed: int,
    stopped: int,
) -> Card:
    """The card of a design; ``advice`` is what was found for it, for opaque and for transparent ink."""
    telling = _telling(proof, advice)
    finding = _worst_of(proof, telling)
    art = straight(small) if small is not None else None
    figures = _figures(proof, telling, art, draw, advice) if art is not None else ()
    told = _advice_for(telling, advice) if telling and finding in telling[1].findings else None
    return Card(
        name=every_word(proof.design.title) or proof.design.path.rpartition("/")[2],
        file=proof.design.path,
        severity={Severity.STOP: "stop", Severity.WARN: "warn"}.get(finding.severity, "fine")
        if finding
        else "fine",
        sentence=_sentence(finding, telling),
        advice=_advice_words(finding, told),
        figures=figures,
        strips=tuple(_strip(one) for one in proof.blanks if not one.stopped),
        passed=passed,
        stopped=stopped,
        also=_also(proof, finding),
        barred=tuple(_barred(one) for one in proof.blanks if one.stopped),
    )


Telling = tuple[BlankProof, ColourProof]


def _telling(proof: DesignProof, advice: Sequence[Advice]) -> Telling | None:
    """The pair that shows best what is wrong: one that can be mended or avoided, the plainest of these."""
    pairs = [(blank, one) for blank in proof.blanks if blank.layout for one in blank.colours]
    if not pairs:
        return None

    def plainness(pair: Telling) -> tuple[int, bool, bool, float, float]:
        blank, one = pair
        severity = worst((*blank.findings, *one.findings)) or 0
        mendable = _change_for(pair, advice) is not None
        contrast = one.standing.contrast if one.standing else 21.0
        return (-int(severity), not mendable, not blank.listable, -_box_shows(one), contrast)

    return min(pairs, key=plainness)


def _box_shows(one: ColourProof) -> float:
    """How plainly a white page is seen on a colour (CIEDE2000): there the most contrast is the worst."""
    return max(
        (float(found.numbers.get("difference", 0)) for found in one.findings if found.check == WHITE_PAGE),
        default=0.0,
    )


def _worst_of(proof: DesignProof, telling: Telling | None) -> Finding | None:
    found = list(proof.findings)
    if telling is not None:
        found += [*telling[0].findings, *telling[1].findings]
    return max(
        (one for one in found if one.severity > Severity.NOTE), key=lambda one: one.severity, default=None
    )


def _sentence(finding: Finding | None, telling: Telling | None) -> str:
    if finding is None:
        return "Nothing to look at."
    text = finding.what[0].upper() + finding.what[1:]
    if telling is None or " on " not in finding.item:
        return f"{text}."
    blank, one = telling
    place = blank.blank.name
    if finding in one.findings:
        place += f" in {one.colour.name}"
    return f"{place}: {finding.what}."


def _advice_words(finding: Finding | None, told: Advice | None) -> str:
    if told is not None:
        return f"Proposed: {told.words}." if told.change else f"{told.words[0].upper()}{told.words[1:]}."
    return f"{finding.fix[0].upper()}{finding.fix[1:]}." if finding else ""


def _advice_for(pair: Telling, advice: Sequence[Advice]) -> Advice | None:
    """The change that serves this stopped pair, or why there is none for what stopped it."""
    blank, one = pair
    if not one.stopped or worst(blank.findings) is Severity.STOP:
        return None
    look = look_of(blank.blank, one.colour, blank.art_px)
    serving = [told for told in advice if told.serves(look)]
    # Where ink is lost on the colour, the size of the words is beside the point.
    size = Mends.SIZE in mends(one.findings[0])
    return next((told for told in serving if told.change is not None or size or told.enlarge == 1.0), None)


def _change_for(pair: Telling, advice: Sequence[Advice]) -> Advice | None:
    told = _advice_for(pair, advice)
    return told if told is not None and told.change is not None else None


def _figures(
    proof: DesignProof, telling: Telling | None, art: Pixels, draw: Draw, advice: Sequence[Advice]
) -> tuple[Figure, ...]:
    if telling is None:
        return ()

    def figure(pair: Telling, pixels: Pixels, mark: str, head: str) -> Figure:
        blank, one = pair
        assert blank.layout is not None
        ink, layout = proof.design.facts.ink, blank.layout
        if pixels.shape != art.shape:
            ink, layout = _laid_again(proof.design, pair, pixels.shape[1] / art.shape[1], pixels)
        drawn = draw(blank.blank, one.colour, layout, ink, pixels)
        return Figure(jpeg_of(drawn), mark, head, f"{blank.blank.name}, {one.colour.name}")

    blank, one = telling
    figures = []
    severity = worst((*proof.findings, *blank.findings, *one.findings))
    if severity is not None and severity > Severity.NOTE:
        head = "Stopped" if severity is Severity.STOP else "Have a look"
        marked = ringed(art, one.findings)
        figures.append(figure(telling, marked, "stop" if severity is Severity.STOP else "look", head))
    told = _change_for(telling, advice)
    if told is not None and told.change is not None:
        fresh = changed(art, told.change)
        figures.append(figure(telling, fresh, "repair", _CHANGED[told.change.kind]))
    best = _best(proof, blank)
    if (best is not None and (best[0], best[1].colour) != (blank, one.colour)) or (
        best is not None and not figures
    ):
        figures.append(figure(best, art, "best", "Best colour"))
    return tuple(figures)


def _laid_again(design: Design, pair: Telling, wider: float, pixels: Pixels) -> tuple[Box, AreaLayout]:
    """The ink box and the layout of art that a change made ``wider`` times as wide."""
    blank, ink = pair[0], design.facts.ink
    assert blank.layout is not None
    width = round(ink.width * wider)
    grown = Box(0, 0, width, round(width * pixels.shape[0] / pixels.shape[1]))
    layout = usual_layout(
        replace(design, facts=replace(design.facts, ink=grown)), blank.blank, blank.layout.area
    )
    return (grown, layout) if isinstance(layout, AreaLayout) else (ink, blank.layout)


def _best(proof: DesignProof, near: BlankProof) -> Telling | None:
    """The best colour of the same blank, else of any."""
    for blank in (near, *proof.blanks):
        if blank.layout is not None and blank.listable:
            return blank, next(one for one in blank.colours if not one.stopped)
    return None


def jpeg_of(picture: Pixels) -> bytes:
    """A JPEG of an sRGB-encoded RGB picture."""
    done, code = cv2.imencode(
        ".jpg", np.ascontiguousarray(picture[..., ::-1]), [cv2.IMWRITE_JPEG_QUALITY, _QUALITY]
    )
    if not done:
        raise ValueError("the picture could not be packed as JPEG")
    return code.tobytes()


def _also(proof: DesignProof, said: Finding | None) -> tuple[str, ...]:
    """The other things that want a look, where they are most; a sentence each."""
    told = [one for one in grouped_findings(proof) if one.finding.severity > Severity.NOTE]
    others = [one for one in told if said is None or one.finding.kind != said.kind]
    return tuple(one.sentence(most=MOST_PLACES) for one in others[:MOST_ALSO])


def _barred(one: BlankProof) -> str:
    reason = next((f.what for f in one.findings if f.severity is Severity.STOP), "")
    return f"{one.blank.name} ({reason})" if reason else one.blank.name


def _strip(one: BlankProof) -> Strip:
    swatches = tuple(
        Swatch(
            c.colour.name, c.colour.srgb.hex, c.colour.second.hex if c.colour.second else "", _state(one, c)
        )
        for c in one.colours
    )
    return Strip(one.blank.name, swatches)


def _state(blank: BlankProof, one: ColourProof) -> str:
    """What holds for the whole blank holds for each of its colours."""
    found = worst((*blank.findings, *one.findings))
    if found is Severity.STOP:
        return "stop"
    if found is Severity.WARN:
        return "look"
    return "best" if one.best else "fine"
