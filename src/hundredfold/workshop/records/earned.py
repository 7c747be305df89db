"""Records of what was earned, one JSON shape for every face.

Amounts are text with the currency's decimals.
"""

from dataclasses import dataclass

from hundredfold.workshop.records.common import FindingRecord


@dataclass(frozen=True)
class DifferenceRecord:
    """What made a result differ from its plan: more than nothing where it was better."""

    part: str
    amount: str


@dataclass(frozen=True)
class EarnedRecord:
    """One line of the report. ``estimated`` names the costs that no report has told yet."""

    name: str
    units: int
    returned: int
    income: str
    costs: dict[str, str]
    profit: str
    planned: str
    why: tuple[DifferenceRecord, ...]
    estimated: tuple[str, ...]
    views: int
    clicks: int


@dataclass(frozen=True)
class DriftRecord:
    """A charge that is no longer what prices were reckoned with, a piece."""

    what: str
    about: str
    month: str
    currency: str
    pieces: int
    planned: str
    charged: str


@dataclass(frozen=True)
class SalesView:
    """What the shop earned from ``first`` to ``last`` (YYYY-MM), by one heading, in its own currency."""

    first: str
    last: str
    by: str
    currency: str
    lines: tuple[EarnedRecord, ...]
    total: EarnedRecord | None
    untied: tuple[tuple[str, int], ...]  # SKUs of nobody, and their pieces
    drifts: tuple[DriftRecord, ...]
    findings: tuple[FindingRecord, ...]


@dataclass(frozen=True)
class StatementPartRecord:
    """One channel in one currency of a statement; costs are negative."""

    channel: str
    currency: str
    lines: int
    pieces: int
    sums: dict[str, str]
    sold: str
    profit: str


@dataclass(frozen=True)
class StatementView:
    """A statement's sums; ``caution`` is to be shown with them."""

    shop: str
    title: str
    first: str
    last: str
    registered: bool
    parts: tuple[StatementPartRecord, ...]
    caution: tuple[str, ...]
