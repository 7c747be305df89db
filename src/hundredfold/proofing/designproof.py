"""The proof of a design: every blank and colour judged, the colours ranked, the best few marked."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache
from math import log
from types import MappingProxyType

from hundredfold.catalogue.blanks import Blank, BlankColour, PrintArea
from hundredfold.catalogue.ink import ink_look
from hundredfold.designs.design import Design
from hundredfold.kernel.colour import Srgb, linear_of
from hundredfold.kernel.difference import colour_difference
from hundredfold.kernel.errors import ShopError
from hundredfold.kernel.findings import Finding, Severity, worst
from hundredfold.mockups.sight import Sight
from hundredfold.placement.layout import AreaLayout, ArtSpot, lay_out, usual_wish
from hundredfold.placement.nudge import nudged
from hundredfold.proofing.allowing import is_allowed, lifted
from hundredfold.proofing.art.facts import ArtFacts
from hundredfold.proofing.checks.every import is_faint
from hundredfold.proofing.profile import STANDARD, Profile
from hundredfold.proofing.readings import Chances, Look, look_of
from hundredfold.proofing.runchecks import (
    judge_blank,
    judge_design,
    judge_placed,
    judge_unlaid,
    one_cause,
    run_checks,
)
from hundredfold.proofing.softproof import Printer
from hundredfold.proofing.subjects import Coloured, Evidence, Gamut, Reading
from hundredfold.proofing.thumb import art_px
from hundredfold.proofing.visible import OutlineShares, linear_inks

# A typical listing page shows pictures this wide; a channel's own thumbnail size goes first.
THUMBNAIL_PX = 160
NOT_READ: Chances = MappingProxyType({})
# By the blank's code and its print area for every size: bytes of the print file, where they are known.
PrintSizes = Mapping[tuple[str, PrintArea], int]
NOT_WEIGHED: PrintSizes = MappingProxyType({})
BEST_COLOURS = 3  # marked where the shop sets no number


@dataclass(frozen=True)
class ColourProof:
    """A design on one colour of a blank. ``score`` (0-1) ranks colours that are not stopped."""

    colour: BlankColour
    findings: tuple[Finding, ...]
    standing: OutlineShares | None
    chance: float | None  # that the main words are read in the thumbnail; None: no words, or not measured
    score: float
    best: bool = False
    overruled: bool = False  # it would be stopped, had the seller not allowed it

    @property
    def stopped(self) -> bool:
        """Not to be listed."""
        return worst(self.findings) is Severity.STOP

    @property
    def faint(self) -> bool:
        """The art, or a line of its words, is lost in part or hardly shows."""
        return any(map(is_faint, self.findings))


@dataclass(frozen=True)
class BlankProof:
    """A design on one blank. ``layout`` is None where it could not be laid out, and then no colour is judged.

    ``findings`` hold for every colour. ``colours`` come best first, the stopped ones last.
    """

    blank: Blank
    layout: AreaLayout | None
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


@dataclass(frozen=True)
class Asked:
    """What a proof is asked to be judged by.

    ``sights`` are what main pictures show, by the blank's code and its print area for every size.
    """

    profile: Profile = STANDARD
    thumbnail_px: int = THUMBNAIL_PX
    best: int = BEST_COLOURS
    printer: Printer | None = None
    sights: Mapping[tuple[str, PrintArea], Sight] = field(default_factory=dict)

    def art_px(self, blank: Blank, layout: AreaLayout) -> int:
        """Width of the art in a thumbnail of the main picture."""
        return art_px(blank, layout, self.thumbnail_px, self.sight(blank, layout))

    def sight(self, blank: Blank, layout: AreaLayout) -> Sight | None:
        """What the main picture shows of a layout's print area; None where it is not known."""
        return self.sights.get((blank.code, replace(layout.area, for_sizes=())))


def prove(
    design: Design,
    art: ArtFacts | None,
    blanks: Iterable[Blank],
    asked: Asked = Asked(),
    chances: Chances = NOT_READ,
    sizes: PrintSizes = NOT_WEIGHED,
) -> DesignProof:
    """Judge a design on blanks. Without facts, chances or sizes, the checks that need them say nothing."""
    gamut = _gamut(design, asked)
    evidence = Evidence(art=art, gamut=gamut, type_px=design.smallest_type * design.facts.width_px or None)
    found = judge_design(design.path, design.facts, profile=asked.profile, evidence=evidence)
    if worst(found) is Severity.STOP or design.facts.ink.empty:
        return DesignProof(design, found, ())
    proofs = tuple(_on_blank(design, blank, evidence, asked, chances, sizes) for blank in blanks)
    return DesignProof(design, found, proofs)


def _gamut(design: Design, asked: Asked) -> Gamut | None:
    if asked.printer is None:
        return None
    return asked.printer.gamut(design.facts.inks, asked.profile.limits.gamut_difference)


def looks_wanted(design: Design, blanks: Iterable[Blank], asked: Asked = Asked()) -> set[Look]:
    """Every look that proving this design on these blanks asks the chance of."""
    wanted: set[Look] = set()
    if design.facts.ink.empty:
        return wanted
    for blank in blanks:
        area = next(iter(blank.areas), None)
        layout = usual_layout(design, blank, area) if area else None
        if isinstance(layout, AreaLayout):
            width = asked.art_px(blank, layout)
            wanted |= {look_of(blank, colour, width) for colour in _offered(blank)}
    return wanted


def _offered(blank: Blank) -> tuple[BlankColour, ...]:
    offered = {variant.colour for variant in blank.offered()}
    return tuple(colour for colour in blank.colours if colour.code in offered)


def _on_blank(
    design: Design, blank: Blank, evidence: Evidence, asked: Asked, chances: Chances, sizes: PrintSizes
) -> BlankProof:
    layouts, failed = _layouts(design, blank, asked)
    if not blank.offered():  # told once, of the blank itself
        return BlankProof(blank, layouts[0] if layouts else None, 0, (), ())
    found = [*judge_blank(blank, profile=asked.profile), *failed]
    for layout in layouts:
        weighed = replace(
            evidence,
            print_bytes=sizes.get((blank.code, layout.area)),
            sight=asked.sight(blank, layout),
        )
        found += judge_placed(
            design.path, design.facts, blank, layout, profile=asked.profile, evidence=weighed
        )
    strict = one_cause(_once(found))
    findings = lifted(strict, is_allowed(design, blank.code))
    if not layouts:
        return BlankProof(blank, None, 0, findings, ())
    width = asked.art_px(blank, layouts[0])
    colours = []
    looks = {colour: chances.get(look_of(blank, colour, width)) for colour in _offered(blank)}
    best = max((chance.main for chance in looks.values() if chance is not None), default=0.0)
    for colour, chance in looks.items():
        reading = None if chance is None else Reading(chance.whole, width, chance.main, chance.share, best)
        pair = Coloured(
            design.path,
            design.facts,
            blank,
            layouts[0],
            colour,
            asked.profile.limits,
            replace(evidence, reading=reading),
        )
        one = _on_colour(pair, asked.profile, findings, is_allowed(design, blank.code, colour.code))
        colours.append(replace(one, overruled=one.overruled or findings != strict))
    return BlankProof(blank, layouts[0], width, findings, ranked(colours, asked.best))


def _layouts(design: Design, blank: Blank, asked: Asked) -> tuple[list[AreaLayout], list[Finding]]:
    """The usual layout on each distinct print area; a finding where the art finds no room."""
    layouts: list[AreaLayout] = []
    failed: list[Finding] = []
    for area in dict.fromkeys(replace(area, for_sizes=()) for area in blank.areas):
        layout = usual_layout(design, blank, area)
        if isinstance(layout, AreaLayout):
            layouts.append(layout)
        else:
            failed += judge_unlaid(design.path, blank, layout, profile=asked.profile)
    return layouts, failed


def usual_layout(design: Design, blank: Blank, area: PrintArea) -> AreaLayout | ShopError:
    """Both faces of a handled mug where they have room, else the middle; the reason where there is none.

    The seller's own place and size on this blank is kept to.
    """
    laid = _laid(design, blank, area)
    own = design.nudges.get(blank.code)
    return nudged(laid, blank, own) if own is not None and isinstance(laid, AreaLayout) else laid


def _laid(design: Design, blank: Blank, area: PrintArea) -> AreaLayout | ShopError:
    usual = usual_wish(blank)
    try:
        return lay_out(design.facts.ink, blank, area, usual)
    except ShopError:
        try:
            return lay_out(design.facts.ink, blank, area, replace(usual, where=ArtSpot.MIDDLE))
        except ShopError as error:
            return error


def _once(found: Sequence[Finding]) -> tuple[Finding, ...]:
    """Print areas of several sizes repeat a finding; each code once, and only at its check's worst."""
    kept: dict[tuple[str, str], Finding] = {}
    worst_of: dict[str, Severity] = {}
    for finding in sorted(found, key=lambda one: -one.severity):
        if worst_of.setdefault(finding.check, finding.severity) == finding.severity:
            kept.setdefault(finding.kind, finding)
    return tuple(kept.values())


def _on_colour(pair: Coloured, profile: Profile, beside: tuple[Finding, ...], allowed: bool) -> ColourProof:
    strict = one_cause(run_checks(pair, profile), beside)
    lenient = lifted(strict, allowed)
    found = sorted(lenient, key=lambda one: -one.severity)
    chance = pair.evidence.reading.main_words if pair.evidence.reading else None
    score = _score(pair, chance)
    return ColourProof(pair.colour, tuple(found), pair.stands, chance, score, overruled=lenient != strict)


def _score(pair: Coloured, chance: float | None) -> float:
    """How well the art sits on a colour, 0-1: it reads (0.6), stands out (0.25), keeps its colours (0.15).

    Common practice, no source: buyers choose by what they can read, then by what catches the eye.
    """
    stands = pair.stands
    contrast = 0.0 if stands is None else min(1.0, log(max(stands.contrast, 1.0)) / log(4.5))
    reads = chance if chance is not None else (1.0 - stands.weak if stands else 0.5)
    kept = 1.0
    if pair.facts.inks:
        drawn, shares = linear_inks(pair.facts.inks)
        moved = colour_difference(drawn, ink_look(pair.blank, pair.colour, drawn))
        kept = 1.0 - min(1.0, float((moved * shares).sum() / shares.sum()) / 25.0)
    return round(0.6 * reads + 0.25 * contrast + 0.15 * kept, 4)


def ranked(colours: Sequence[ColourProof], best: int) -> tuple[ColourProof, ...]:
    """Best first: not stopped, then fewer and milder findings, then the higher score; the best few marked.

    A colour on which a part of the art is lost or faint is marked only where every colour has that. Of
    colours that look alike (under 5 CIEDE2000) only the first is marked: a listing of three navies sells no
    better than one.
    """
    order = sorted(
        colours,
        key=lambda one: (one.stopped, sum(f.severity for f in one.findings if f.severity > 1), -one.score),
    )
    clean = any(not one.stopped and not one.faint for one in order)
    marked: list[BlankColour] = []
    result = []
    for one in order:
        apart = all(_apart(one.colour, other) >= 5 for other in marked)
        chosen = not one.stopped and len(marked) < best and apart and not (clean and one.faint)
        if chosen:
            marked.append(one.colour)
        result.append(replace(one, best=chosen))
    return tuple(result)


def _apart(first: BlankColour, second: BlankColour) -> float:
    """CIEDE2000 of the bodies, or of insides and handles where those differ more."""
    insides = (first.second or first.srgb, second.second or second.srgb)
    pairs = ((first.srgb, second.srgb), insides)
    return max(_difference(one, other) for one, other in pairs)


@lru_cache(maxsize=4096)
def _difference(one: Srgb, other: Srgb) -> float:
    # The same few colours of a shop's blanks are compared anew for each design.
    return float(colour_difference(linear_of(one), linear_of(other)))
