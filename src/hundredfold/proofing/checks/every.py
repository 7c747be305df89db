"""All checks of the proof, in the order they are run, and what they have to do with each other."""

from collections.abc import Iterator, Mapping
from types import MappingProxyType
from typing import Any

from hundredfold.kernel.findings import Finding, Severity
from hundredfold.proofing.checks import (
    blankalone,
    colours,
    contrast,
    decorated,
    designalone,
    fine,
    pictured,
    placed,
    reads,
    words,
)
from hundredfold.proofing.registry import Check, Mends, More

Kind = tuple[str, str]  # a check and one of its codes


def _gather() -> tuple[Check[Any], ...]:
    found = [*blankalone.CHECKS] + [
        value
        for module in (pictured, decorated, designalone, placed, fine, contrast, words, colours, reads)
        for value in vars(module).values()
        if isinstance(value, Check)
    ]
    if len({one.id for one in found}) != len(found):
        raise ValueError("two checks share an id")
    return tuple(found)


def _kinds(named: str) -> Iterator[Kind]:
    """What ``CHECK`` or ``CHECK:CODE`` stands for. Raises LookupError where there is none such."""
    check, _, code = named.partition(":")
    if code and code not in CODES[check]:
        raise LookupError(f"there is no {named}")
    yield from ((check, each) for each in CODES[check] if code in ("", each))


CHECKS: tuple[Check[Any], ...] = _gather()
BY_ID: Mapping[str, Check[Any]] = MappingProxyType({one.id: one for one in CHECKS})
CODES: Mapping[str, tuple[str, ...]] = MappingProxyType({one.id: tuple(one.codes) for one in CHECKS})

_FOLLOWS: Mapping[Kind, frozenset[Kind]] = {
    (one.id, code): frozenset(kind for name in named for kind in _kinds(name))
    for one in CHECKS
    for code, named in one.bearing.follows.items()
}
_WORST_BY: Mapping[Kind, tuple[str, More]] = {
    (one.id, code): by for one in CHECKS for code, by in one.bearing.worst_by.items()
}
_NONE: frozenset[Kind] = frozenset()


def following(finding: Finding) -> frozenset[Kind]:
    """What only follows from a finding, and would say the same thing twice."""
    return _FOLLOWS.get(finding.kind, _NONE)


def can_be_ranked(finding: Finding) -> bool:
    """Whether a number of the finding says how bad the case is."""
    return finding.kind in _WORST_BY


def badness(finding: Finding) -> tuple[float, float]:
    """What tells the worse of two findings of one kind: the severity first, then the number that tells."""
    name, more = _WORST_BY.get(finding.kind, ("", More.WORSE))
    sign = 1 if more is More.WORSE else -1
    return finding.severity, sign * float(finding.numbers.get(name, 0))


def mends(finding: Finding) -> tuple[Mends, ...]:
    """What can cure a finding without another motif."""
    return BY_ID[finding.check].bearing.mends if finding.check in BY_ID else ()


def is_faint(finding: Finding) -> bool:
    """Whether it says that the art, or a part of it, is lost or hardly shows on this colour."""
    known = BY_ID.get(finding.check)
    return known is not None and known.bearing.faint and finding.severity > Severity.NOTE
