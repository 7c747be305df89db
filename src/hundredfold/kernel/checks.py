"""What is known of a check: the one declaration of a finding's id, and how it is found."""

import re
from collections.abc import Mapping
from dataclasses import dataclass

from hundredfold.kernel.errors import ShopError
from hundredfold.kernel.findings import Finding, Severity

ID = re.compile(r"[a-z]+(-[a-z]+)*/[a-z]+(-[a-z]+)*")
CODE = re.compile(r"[a-z]+(-[a-z]+)*")
COMMON = "common practice, no source"


@dataclass(frozen=True)
class CheckRecord:
    """A check as plain data. ``id`` never changes once released; codes are unique within the check.

    Raises ValueError where it is incomplete, so that no finding is given unexplained.
    """

    id: str
    title: str  # what holds where nothing is found
    looks_at: str
    why: str
    example: str
    fix: str
    known_limits: str
    source: str
    codes: Mapping[str, Severity]
    limits: tuple[str, ...] = ()  # names of the limits it compares with

    def __post_init__(self) -> None:
        if not ID.fullmatch(self.id):
            raise ValueError(f"{self.id!r} is not of the form area/what-is-wrong")
        told = (self.title, self.looks_at, self.why, self.example, self.fix, self.known_limits, self.source)
        if not self.codes or not all(map(CODE.fullmatch, self.codes)) or not all(told):
            raise ValueError(f"{self.id} lacks codes or an explanation")

    def finds(
        self,
        code: str,
        item: str,
        what: str,
        fix: str,
        numbers: Mapping[str, float | int | str] | None = None,
    ) -> Finding:
        """A finding with one of the codes. A code that was not declared is our bug: LookupError."""
        return Finding(self.id, code, self.severity_of(code), item, what, fix, dict(numbers or {}))

    def finds_error(self, error: ShopError, item: str) -> Finding:
        """An error as a finding: its slug is the code."""
        return self.finds(error.slug, item, error.what, error.fix)

    def severity_of(self, code: str) -> Severity:
        """How much a code matters, unless the seller says otherwise."""
        if code not in self.codes:
            raise LookupError(f"{self.id} found {code!r}, which it does not declare")
        return self.codes[code]
