"""What several records hold: a finding as it is shown, and when a record was true."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Annotated

from pydantic import Field

from hundredfold.kernel.findings import Finding


@dataclass(frozen=True)
class FindingRecord:
    """A finding as it is shown and stored; ``fix`` is called "try" in JSON."""

    check: str
    code: str
    severity: str  # note, warn, stop
    item: str
    what: str
    fix: Annotated[str, Field(alias="try")]
    numbers: dict[str, int | float | str]


@dataclass(frozen=True)
class AsOf:
    """When a kept record was true, and whether the shop's files have changed since."""

    at: str  # UTC
    run: int
    older_than_files: bool
    note: str  # a sentence for the seller; empty where there is nothing to say


def finding_record(finding: Finding) -> FindingRecord:
    """The finding's record."""
    one = finding
    numbers = dict(sorted(one.numbers.items()))
    return FindingRecord(one.check, one.code, one.severity.word, one.item, one.what, one.fix, numbers)


def finding_records(findings: Iterable[Finding]) -> tuple[FindingRecord, ...]:
    """Records of findings, in their order."""
    return tuple(map(finding_record, findings))


def worst_first(findings: Iterable[FindingRecord]) -> tuple[FindingRecord, ...]:
    """Stops, then looks, then notes; within one severity as they came."""
    order = {"stop": 0, "warn": 1, "note": 2}
    return tuple(sorted(findings, key=lambda one: order[one.severity]))
