"""A finding: something a person should know about an item, with the numbers and what to do."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from enum import IntEnum


class Severity(IntEnum):
    """How much a finding matters. A stop keeps the item out of the plan."""

    NOTE = 1
    WARN = 2
    STOP = 3

    @property
    def word(self) -> str:
        """The lower-case word shown to people and written to files."""
        return self.name.lower()


@dataclass(frozen=True)
class Finding:
    """One finding. ``check`` is ``area/what-is-wrong``; ``code`` is unique within the check.

    ``item`` says what it is about (``proud-beekeeper.png on MUG-325, navy``), ``numbers`` holds the
    measured values and thresholds by name so that faces can show them without parsing the sentence.
    """

    check: str
    code: str
    severity: Severity
    item: str
    what: str
    fix: str
    numbers: Mapping[str, float | int | str] = field(default_factory=dict, hash=False)

    @property
    def kind(self) -> tuple[str, str]:
        """What is wrong, wherever it is: the check and its code."""
        return self.check, self.code

    def __str__(self) -> str:
        return f"{self.severity.word}: {self.item}: {self.what}\n  try: {self.fix}"

    def as_json(self) -> dict[str, object]:
        """Plain values, in a fixed key order."""
        return {
            "check": self.check,
            "code": self.code,
            "severity": self.severity.word,
            "item": self.item,
            "what": self.what,
            "try": self.fix,
            "numbers": dict(sorted(self.numbers.items())),
        }


def worst(findings: Iterable[Finding]) -> Severity | None:
    """The highest severity among the findings, or None when there are none."""
    return max((finding.severity for finding in findings), default=None)
