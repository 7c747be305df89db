"""The proof of a design: every blank and colour judged, the colours ranked, the best few marked."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from hundredfold.catalogue.blanks import Blank, BlankColour, PrintArea
from hundredfold.catalogue.ink import InkModel, ink_look, ink_model, mark_tone
from hundredfold.designs.design import Design
from hundredfold.kernel.colour import linear_of
from hundredfold.kernel.difference import colour_difference
from hundredfold.kernel.errors import ShopError
from hundredfold.kernel.findings import Finding, Severity, worst
from hundredfold.placement.layout import Layout, lay_out, usual_wish
from hundredfold.proofing.art.packing import ProofFacts
from hundredfold.proofing.judge import judge_blank, judge_colour, judge_design, judge_placed, judge_unlaid
from hundredfold.proofing.profile import STANDARD, Profile
from hundredfold.proofing.reading.predict import chance_read
from hundredfold.proofing.softproof import Printer
from hundredfold.proofing.subjects import Evidence, Gamut, Reading
from hundredfold.proofing.thumb import art_px
from hundredfold.proofing.visible import Standing, linear_inks, standing

# A typical listing page shows pictures this wide; a channel's own thumbnail size goes first.
THUMBNAIL_PX = 160
BEST_COLOURS = 3  # marked where the shop sets no number


@dataclass(frozen=True)
class ColourProof:
    """A design on one colour of a blank. ``score`` (0-1) ranks colours that are not stopped."""

    colour: BlankColour
    findings: tuple[Finding, ...]
    standing: Standing | None
    chance: float | None  # that the words are read in the thumbnail; None: no words, or not measured
    score: float
    best: bool = False

    @property
    def stopped(self) -> bool:
        """Not to be listed."""
        return worst(self.findings) is Severity.STOP


@dataclass(frozen=True)
class BlankProof:
    """A design on one blank. ``layout`` is None where it could not be laid out, and then no colour is judged.

    ``findings`` hold for every colour. ``colours`` come best first, the stopped ones last.
    """

    blank: Blank
    layout: Layout | None
    art_px: int  # width of the art in the thumbnail
    findings: tuple[Finding, ...]
    colours: tuple[ColourProof, ...]

    @property
    def stopped(self) -> bool:
        """No colour of this blank may be listed."""
        return worst(self.findings) is Severity.STOP or all(one.stopped for one in self.colours)

    @property
    def listable(self) -> tuple[str, ...]:
        """Codes of the colours that passed, best first."""
        if worst(self.findings) is Severity.STOP:
            return ()
        return tuple(one.colour.code for one in self.colours if not one.stopped)


@dataclass(frozen=True)
class DesignProof:
    """A design on every blank. ``findings`` are of the art itself."""

    design: Design
    findings: tuple[Finding, ...]
    blanks: tuple[BlankProof, ...]

    @property
    def stopped(self) -> bool:
        """The art itself must not be listed."""
        return worst(self.findings) is Severity.STOP

    def all_findings(self) -> tuple[Finding, ...]:
        """Every finding, the art's first."""
        placed = (
            f for one in self.blanks for f in (*one.findings, *(f for c in one.colours for f in c.findings))
        )
        return (*self.findings, *placed)


@dataclass(frozen=True)
class Asked:
    """What a proof is asked to be judged by."""

    profile: Profile = STANDARD
    thumbnail_px: int = THUMBNAIL_PX
    best: int = BEST_COLOURS
    printer: Printer | None = None


def prove(
    design: Design, facts: ProofFacts | None, blanks: Iterable[Blank], asked: Asked = Asked()
) -> DesignProof:
    """Judge a design on blanks. Without deep facts, the checks that need them say nothing."""
    art = facts.art if facts else None
    gamut = _gamut(design, asked)
    evidence = Evidence(art=art, gamut=gamut)
    found = judge_design(design.path, design.facts, profile=asked.profile, evidence=evidence)
    if worst(found) is Severity.STOP or design.facts.ink.empty:
        return DesignProof(design, found, ())
    proofs = tuple(_on_blank(design, facts, blank, evidence, asked) for blank in blanks)
    return DesignProof(design, found, proofs)


def _gamut(design: Design, asked: Asked) -> Gamut | None:
    if asked.printer is None:
        return None
    return asked.printer.gamut(design.facts.inks, asked.profile.limits.gamut_difference)


def _on_blank(
    design: Design, facts: ProofFacts | None, blank: Blank, evidence: Evidence, asked: Asked
) -> BlankProof:
    layouts, failed = _layouts(design, blank, asked)
    found = [*judge_blank(blank, profile=asked.profile), *failed]
    for layout in layouts:
        found += judge_placed(
            design.path, design.facts, blank, layout, profile=asked.profile, evidence=evidence
        )
    findings = _once(found)
    if not layouts:
        return BlankProof(blank, None, 0, findings, ())
    width = art_px(blank, layouts[0], asked.thumbnail_px)
    offered = {variant.colour for variant in blank.offered()}
    colours = [
        _on_colour(design, facts, blank, colour, layouts[0], width, evidence, asked)
        for colour in blank.colours
        if colour.code in offered
    ]
    return BlankProof(blank, layouts[0], width, findings, ranked(colours, asked.best))


def _layouts(design: Design, blank: Blank, asked: Asked) -> tuple[list[Layout], list[Finding]]:
    """The usual layout on each distinct print area; a finding where the art finds no room."""
    layouts: list[Layout] = []
    failed: list[Finding] = []
    for area in dict.fromkeys(replace(area, for_sizes=()) for area in blank.areas):
        layout = usual_layout(design, blank, area)
        if isinstance(layout, Layout):
            layouts.append(layout)
        else:
            failed += judge_unlaid(design.path, blank, layout, profile=asked.profile)
    return layouts, failed


def usual_layout(design: Design, blank: Blank, area: PrintArea) -> Layout | ShopError:
    """Both faces of a handled mug where they have room, else the middle; the reason where there is none."""
    try:
        return lay_out(design.facts.ink, blank, area, usual_wish(blank, design.facts.ink))
    except ShopError:
        try:
            return lay_out(design.facts.ink, blank, area)
        except ShopError as error:
            return error


def _once(found: Sequence[Finding]) -> tuple[Finding, ...]:
    """Print areas of several sizes repeat a finding; each code once, and only at its check's worst."""
    kept: dict[tuple[str, str], Finding] = {}
    worst_of: dict[str, Severity] = {}
    for finding in sorted(found, key=lambda one: -one.severity):
        if worst_of.setdefault(finding.check, finding.severity) == finding.severity:
            kept.setdefault((finding.check, finding.code), finding)
    return tuple(kept.values())


def _on_colour(
    design: Design,
    facts: ProofFacts | None,
    blank: Blank,
    colour: BlankColour,
    layout: Layout,
    width: int,
    evidence: Evidence,
    asked: Asked,
) -> ColourProof:
    chance = chance_on(facts, blank, colour, width)
    reading = None if chance is None else Reading(chance, width)
    found = judge_colour(
        design.path,
        design.facts,
        blank,
        colour,
        layout,
        profile=asked.profile,
        evidence=replace(evidence, reading=reading),
    )
    stands = standing(design.facts, evidence.art, blank, colour, asked.profile.limits)
    ordered = tuple(sorted(found, key=lambda one: -one.severity))
    return ColourProof(colour, ordered, stands, chance, _score(design, blank, colour, stands, chance))


def chance_on(facts: ProofFacts | None, blank: Blank, colour: BlankColour, width: int) -> float | None:
    """The chance that the words are read at this width; None without words or facts."""
    if facts is None:
        return None
    model = ink_model(blank, colour)
    words = facts.words_in(mark_tone(blank) if model is InkModel.ONE_TONE else None)
    transparent = model is InkModel.TRANSPARENT
    return chance_read(words, colour.srgb, transparent_ink=transparent, art_width_px=width).chance


def _score(
    design: Design, blank: Blank, colour: BlankColour, stands: Standing | None, chance: float | None
) -> float:
    """How well the art sits on a colour, 0-1: it reads (0.6), stands out (0.25), keeps its colours (0.15).

    Common practice, no source: buyers choose by what they can read, then by what catches the eye.
    """
    contrast = 0.0 if stands is None else min(1.0, float(np.log(max(stands.contrast, 1.0)) / np.log(4.5)))
    reads = chance if chance is not None else (1.0 - stands.weak if stands else 0.5)
    kept = 1.0
    if design.facts.inks:
        drawn, shares = linear_inks(design.facts.inks)
        moved = colour_difference(drawn, ink_look(blank, colour, drawn))
        kept = 1.0 - min(1.0, float((moved * shares).sum() / shares.sum()) / 25.0)
    return round(0.6 * reads + 0.25 * contrast + 0.15 * kept, 4)


def ranked(colours: Sequence[ColourProof], best: int) -> tuple[ColourProof, ...]:
    """Best first: not stopped, then fewer and milder findings, then the higher score; the best few marked.

    Of colours that look alike (under 5 CIEDE2000) only the first is marked: a listing of three navies sells
    no better than one.
    """
    order = sorted(
        colours,
        key=lambda one: (one.stopped, sum(f.severity for f in one.findings if f.severity > 1), -one.score),
    )
    marked: list[BlankColour] = []
    result = []
    for one in order:
        apart = all(_apart(one.colour, other) >= 5 for other in marked)
        chosen = not one.stopped and len(marked) < best and apart
        if chosen:
            marked.append(one.colour)
        result.append(replace(one, best=chosen))
    return tuple(result)


def _apart(first: BlankColour, second: BlankColour) -> float:
    """CIEDE2000 of the bodies, or of insides and handles where those differ more."""
    insides = (first.second or first.srgb, second.second or second.srgb)
    pairs = ((first.srgb, second.srgb), insides)
    return max(float(colour_difference(linear_of(one), linear_of(other))) for one, other in pairs)
