"""What a seller may list against the proof: stops that are a matter of taste become warnings."""

from collections.abc import Iterable
from dataclasses import replace

from hundredfold.designs.design import Design
from hundredfold.kernel.findings import Finding, Severity

# No word of the seller's makes these good: the goods cannot be printed so, or the partner refuses the file.
NEVER = (
    "catalogue/",
    "art/",
    "ink/dark-blank",
    "picture/",
    "prints/outside-safe",
    "prints/file-size",
    "suits/no-room",
)


def can_be_allowed(check: str) -> bool:
    """Whether a stop of this check is the seller's to lift."""
    return not check.startswith(NEVER)


def is_allowed(design: Design, blank: str, colour: str = "") -> bool:
    """Whether the seller lists a design here whatever the proof says; "" for every colour."""
    spots = {(blank, colour), (blank, ""), ("", colour), ("", "")}
    return not spots.isdisjoint(design.allowed)


def lifted(found: Iterable[Finding], allowed: bool) -> tuple[Finding, ...]:
    """The findings; where the seller allows it, stops that are theirs to lift are warnings."""
    return tuple(_warning(one) if allowed and _liftable(one) else one for one in found)


def _liftable(one: Finding) -> bool:
    return one.severity is Severity.STOP and can_be_allowed(one.check)


def _warning(one: Finding) -> Finding:
    return replace(one, severity=Severity.WARN, what=f"{one.what}; you allowed it")
