"""Judging: every check that fits a subject, on stored facts alone.

``judge`` is one design on one blank in one colour; the others judge what does not depend on the colour, so
that forty colours do not repeat it forty times. No image is opened: a changed limit is arithmetic again.
"""

from collections.abc import Iterable, Iterator

from hundredfold.catalogue.blanks import Blank, BlankColour
from hundredfold.designs.facts import DesignFacts
from hundredfold.kernel.errors import ShopError
from hundredfold.kernel.findings import Finding
from hundredfold.placement.layout import AreaLayout
from hundredfold.placement.place import Placement
from hundredfold.placement.rim import nearest_to_rim_mm
from hundredfold.proofing.checks.every import CHECKS, following
from hundredfold.proofing.profile import STANDARD, Profile
from hundredfold.proofing.registry import Check
from hundredfold.proofing.subjects import (
    NO_EVIDENCE,
    BlankSubject,
    Coloured,
    Decorated,
    DesignSubject,
    Evidence,
    Placed,
    Subject,
    Unlaid,
)

Laid = Placement | AreaLayout

_BY_SCOPE: dict[type[Subject], tuple[Check[Subject], ...]] = {
    scope: tuple(one for one in CHECKS if one.subject is scope)
    for scope in (BlankSubject, Decorated, DesignSubject, Unlaid, Placed, Coloured)
}


def run_checks(subject: Subject, profile: Profile = STANDARD) -> Iterator[Finding]:
    """The findings of every check that looks at this kind of subject."""
    for one in _BY_SCOPE[type(subject)]:
        yield from one.run(subject, profile)


def one_cause(found: Iterable[Finding], beside: Iterable[Finding] = ()) -> tuple[Finding, ...]:
    """The findings without those that only follow from another of them, or from one ``beside`` them.

    Ink that is lost on the blank is also not read there; one sentence is enough.
    """
    kept = tuple(found)
    follows = {kind for one in (*kept, *beside) for kind in following(one)}
    return tuple(one for one in kept if one.kind not in follows)


def judge_blank(blank: Blank, *, profile: Profile = STANDARD) -> tuple[Finding, ...]:
    """What is wrong with a blank before any art is laid on it."""
    return tuple(run_checks(BlankSubject(blank, profile.limits), profile))


def judge_decorated(
    blank: Blank, layouts: Iterable[AreaLayout], *, profile: Profile = STANDARD
) -> tuple[Finding, ...]:
    """What is to be said once of a blank for everything that is laid on it."""
    return tuple(run_checks(Decorated(blank, nearest_to_rim_mm(blank, layouts), profile.limits), profile))


def judge_design(
    name: str, facts: DesignFacts, *, profile: Profile = STANDARD, evidence: Evidence = NO_EVIDENCE
) -> tuple[Finding, ...]:
    """What is wrong with a design wherever it is printed. ``name`` is the art's file name."""
    return tuple(run_checks(DesignSubject(name, facts, profile.limits, evidence), profile))


def judge_unlaid(
    name: str, blank: Blank, reason: ShopError, *, profile: Profile = STANDARD
) -> tuple[Finding, ...]:
    """A design that could not be laid on a blank; ``reason`` is what laying it out raised."""
    return tuple(run_checks(Unlaid(name, blank, reason.what, reason.fix, profile.limits), profile))


def judge_placed(
    name: str,
    facts: DesignFacts,
    blank: Blank,
    laid: Laid,
    *,
    profile: Profile = STANDARD,
    evidence: Evidence = NO_EVIDENCE,
) -> tuple[Finding, ...]:
    """What is wrong with a design laid on a print area of a blank, whatever the blank's colour."""
    return tuple(run_checks(Placed(name, facts, blank, _layout(laid), profile.limits, evidence), profile))


def judge_colour(
    name: str,
    facts: DesignFacts,
    blank: Blank,
    colour: BlankColour,
    laid: Laid,
    *,
    profile: Profile = STANDARD,
    evidence: Evidence = NO_EVIDENCE,
) -> tuple[Finding, ...]:
    """What is wrong with a design on a blank in this colour and not with the same blank in another."""
    pair = Coloured(name, facts, blank, _layout(laid), colour, profile.limits, evidence)
    return tuple(run_checks(pair, profile))


def judge(
    name: str,
    facts: DesignFacts,
    blank: Blank,
    colour: BlankColour,
    laid: Laid,
    *,
    profile: Profile = STANDARD,
    evidence: Evidence = NO_EVIDENCE,
) -> tuple[Finding, ...]:
    """Everything about one design on one blank in one colour; worst first, then in the checks' order."""
    found = [
        *judge_blank(blank, profile=profile),
        *judge_design(name, facts, profile=profile, evidence=evidence),
        *judge_placed(name, facts, blank, laid, profile=profile, evidence=evidence),
        *judge_colour(name, facts, blank, colour, laid, profile=profile, evidence=evidence),
    ]
    return tuple(sorted(one_cause(found), key=lambda finding: -finding.severity))


def _layout(laid: Laid) -> AreaLayout:
    return laid if isinstance(laid, AreaLayout) else AreaLayout(laid.area, (laid,))
