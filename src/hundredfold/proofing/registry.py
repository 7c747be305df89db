"""Checks of the proof: a function on one subject, and all that is known of what it finds.

The record is what a person may read (kernel/checks.py). Beside it stands what bears on other checks: what
only follows from a finding of this one, which of two cases is the worse, and what mends it.
"""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from types import MappingProxyType
from typing import Generic, TypeVar

from hundredfold.kernel.checks import CheckRecord
from hundredfold.kernel.findings import Finding, Severity
from hundredfold.proofing.profile import STANDARD, Profile, about_limit, limit_names
from hundredfold.proofing.subjects import Subject

S = TypeVar("S", bound=Subject)


class Mends(StrEnum):
    """What can cure a stop without another motif."""

    CHANGE = "an outline, a light or a dark version, or a patch"
    SIZE = "larger words"


class More(StrEnum):
    """Whether a case is worse the more of a number it has, or the less."""

    WORSE = "more"
    BETTER = "less"


@dataclass(frozen=True)
class Hit:
    """What a check found: one of its codes, a sentence with the numbers, and what to do."""

    code: str
    what: str
    fix: str
    numbers: Mapping[str, float | int | str] = field(default_factory=dict)


@dataclass(frozen=True)
class Bearing:
    """What a check has to do with others. All three are by code, or hold for the whole check."""

    # What only follows from a code and would say the same thing twice: "CHECK" or "CHECK:CODE".
    follows: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    # The number that says how bad a case of a code is.
    worst_by: Mapping[str, tuple[str, More]] = field(default_factory=dict)
    mends: tuple[Mends, ...] = ()
    faint: bool = False  # a warning of it says that a part of the art hardly shows on this colour


ALONE = Bearing()


@dataclass(frozen=True)
class Check(Generic[S]):
    """A check: its record, what it looks at, its arithmetic, and what it has to do with others."""

    record: CheckRecord
    subject: type[S]
    function: Callable[[S], Iterator[Hit]]
    bearing: Bearing = ALONE

    def __post_init__(self) -> None:
        if unknown := set(self.record.limits) - set(limit_names()):
            raise ValueError(f"{self.id} names limits that do not exist: {sorted(unknown)}")
        if unknown := {*self.bearing.follows, *self.bearing.worst_by} - set(self.codes):
            raise ValueError(f"{self.id} tells of codes it does not have: {sorted(unknown)}")

    @property
    def id(self) -> str:
        """``area/what-is-wrong``."""
        return self.record.id

    @property
    def codes(self) -> Mapping[str, Severity]:
        """What it may find, each with its usual severity."""
        return self.record.codes

    def run(self, subject: S, profile: Profile = STANDARD) -> Iterator[Finding]:
        """The findings on one subject. A code that was not declared is our bug: LookupError."""
        if self.id in profile.off:
            return
        for hit in self.function(subject):
            usual = self.record.severity_of(hit.code)
            severity, why = profile.severities.get((self.id, hit.code), (usual, ""))
            what = hit.what + self._changes(profile, why)
            yield Finding(self.id, hit.code, severity, subject.item, what, hit.fix, hit.numbers)

    def _changes(self, profile: Profile, severity_reason: str) -> str:
        """The seller's own changes that bear on a finding, in brackets with their reasons."""
        parts = []
        for name in self.record.limits:
            if name in profile.reasons:
                limit = about_limit(name)
                mine = getattr(profile.limits, name)
                parts.append(
                    f"your limit {mine:g} {limit.unit} instead of {limit.value:g}: {profile.reasons[name]}"
                )
        if severity_reason:
            parts.append(f"your severity: {severity_reason}")
        return f" ({'; '.join(parts)})" if parts else ""


def check(
    name: str,
    *,
    subject: type[S],
    codes: Mapping[str, Severity],
    why: str,
    example: str,
    fix: str,
    known_limits: str,
    source: str,
    limits: tuple[str, ...] = (),
    bearing: Bearing = ALONE,
) -> Callable[[Callable[[S], Iterator[Hit]]], Check[S]]:
    """Make a Check of a function. Its docstring is the title.

    Raises ValueError where the declaration is incomplete, so that no check ships unexplained.
    """

    def declare(function: Callable[[S], Iterator[Hit]]) -> Check[S]:
        record = CheckRecord(
            id=name,
            title=(function.__doc__ or "").strip(),
            looks_at=subject.about,
            why=why,
            example=example,
            fix=fix,
            known_limits=known_limits,
            source=source,
            codes=MappingProxyType(dict(codes)),
            limits=limits,
        )
        return Check(record, subject, function, bearing)

    return declare
