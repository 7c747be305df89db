"""Checks as plain data: a function on one subject, with everything a person may ask about it."""

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Generic, TypeVar

from hundredfold.kernel.findings import Finding, Severity
from hundredfold.proofing.profile import STANDARD, Profile, about_limit, limit_names
from hundredfold.proofing.subjects import Subject

S = TypeVar("S", bound=Subject)
ID = re.compile(r"[a-z]+(-[a-z]+)*/[a-z]+(-[a-z]+)*")


@dataclass(frozen=True)
class Hit:
    """What a check found: one of its codes, a sentence with the numbers, and what to do."""

    code: str
    what: str
    fix: str
    numbers: Mapping[str, float | int | str] = field(default_factory=dict)


@dataclass(frozen=True)
class Check(Generic[S]):
    """A check. ``id`` never changes once released; codes are unique within the check."""

    id: str
    subject: type[S]
    codes: Mapping[str, Severity]
    limits: tuple[str, ...]  # names of the limits it compares with
    title: str
    why: str
    example: str
    fix: str
    known_limits: str
    source: str
    function: Callable[[S], Iterator[Hit]]

    def run(self, subject: S, profile: Profile = STANDARD) -> Iterator[Finding]:
        """The findings on one subject. A code that was not declared is our bug: LookupError."""
        if self.id in profile.off:
            return
        for hit in self.function(subject):
            if hit.code not in self.codes:
                raise LookupError(f"{self.id} found {hit.code!r}, which it does not declare")
            severity, why = profile.severities.get((self.id, hit.code), (self.codes[hit.code], ""))
            what = hit.what + self._changes(profile, why)
            yield Finding(self.id, hit.code, severity, subject.item, what, hit.fix, hit.numbers)

    def _changes(self, profile: Profile, severity_reason: str) -> str:
        """The seller's own changes that bear on a finding, in brackets with their reasons."""
        parts = []
        for name in self.limits:
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
) -> Callable[[Callable[[S], Iterator[Hit]]], Check[S]]:
    """Make a Check of a function. Its docstring is the title.

    Raises ValueError where the declaration is incomplete, so that no check ships unexplained.
    """
    if not ID.fullmatch(name):
        raise ValueError(f"{name!r} is not of the form area/what-is-wrong")
    if not codes or not all((why, example, fix, known_limits, source)):
        raise ValueError(f"{name} lacks codes or an explanation")
    if unknown := set(limits) - set(limit_names()):
        raise ValueError(f"{name} names limits that do not exist: {sorted(unknown)}")

    def declare(function: Callable[[S], Iterator[Hit]]) -> Check[S]:
        title = (function.__doc__ or "").strip()
        if not title:
            raise ValueError(f"{name} has no title: write a docstring")
        frozen = MappingProxyType(dict(codes))
        return Check(name, subject, frozen, limits, title, why, example, fix, known_limits, source, function)

    return declare
