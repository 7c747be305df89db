"""The plan, and what a month came to, as records."""

from dataclasses import dataclass
from typing import Annotated

from pydantic import Field

from hundredfold.workshop.records.common import AsOf, FindingRecord


@dataclass(frozen=True)
class PlannedLine:
    """A listing on its day; the least and the greatest price of its variants."""

    day: str
    channel: str
    action: str
    blank: str
    design: str  # path
    colours: tuple[str, ...]
    reason: str
    rows: int
    lowest: str  # such as "12.95"; empty where nothing is priced
    highest: str
    currency: str


@dataclass(frozen=True)
class PlanRecord:
    """A plan. ``left_over`` maps a listing that has no day to the reason."""

    start: str
    days: int
    plan: tuple[PlannedLine, ...]
    left_over: Annotated[dict[str, str], Field(alias="left over")]
    summary: tuple[str, ...]
    findings: tuple[FindingRecord, ...]
    as_of: AsOf | None = None  # None: just now


@dataclass(frozen=True)
class MonthRecord:
    """What a month came to, problems or none."""

    start: str
    days: int
    packs: tuple[str, ...]
    made: int
    reused: int
    failed: int
    summary: tuple[str, ...]
    findings: tuple[FindingRecord, ...]
    problems: bool
    as_of: AsOf | None = None
