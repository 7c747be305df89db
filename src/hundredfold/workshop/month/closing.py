"""The end of a month: what it came to is kept, and what came in while it was prepared is told."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date

from hundredfold.kernel.findings import Finding, Severity
from hundredfold.ledger.keys import PackKey
from hundredfold.runner.tasks import Counts
from hundredfold.workshop.month.finished import FinishedMonth, remember_month
from hundredfold.workshop.month.meanwhile import came_in
from hundredfold.workshop.month.packing import PackDone
from hundredfold.workshop.records.common import finding_records, worst_first
from hundredfold.workshop.records.month import MonthRecord
from hundredfold.workshop.shop.bench import Bench
from hundredfold.workshop.steps.kept import MONTH, keep


@dataclass(frozen=True)
class MonthReport:
    """What a month came to. ``to_do`` are the findings a person should look at."""

    packs: tuple[PackKey, ...]
    counts: Counts
    summary: tuple[str, ...]
    to_do: tuple[Finding, ...]

    @property
    def problems(self) -> bool:
        """Whether a person has to do something before all that was wanted is there."""
        return self.counts.failed > 0 or any(f.severity is Severity.STOP for f in self.to_do)


@dataclass(frozen=True)
class MonthAsked:
    """Which month was asked for, and the newest row of the ledger when it began."""

    start: date
    days: int
    begun: int


def close_month(
    bench: Bench, report: MonthReport, done: Sequence[PackDone], asked: MonthAsked
) -> MonthReport:
    """Keep what the month came to, and end the run; gives the report with what came in meanwhile.

    A month that something came in to is not remembered as finished: the next run takes it up.
    """
    for pack in done:
        for name, written in pack.written.items():
            bench.memo.learn(pack.folder / name, pack.files[name], written)
    late = came_in(bench, asked.begun)
    if not report.problems and not late.sentences:
        files = {f"{pack.key}/{name}": digest for pack in done for name, digest in pack.files.items()}
        month = FinishedMonth(report.packs, report.counts, report.summary, report.to_do, files)
        remember_month(bench, asked.start, asked.days, late.last_row, month)
    report = replace(report, summary=(*report.summary, *late.sentences))
    keep(bench, {MONTH: _record(asked, report)})
    bench.end(report.counts)
    return report


def _record(asked: MonthAsked, report: MonthReport) -> MonthRecord:
    counts, found = report.counts, worst_first(finding_records(report.to_do))
    packs = tuple(map(str, report.packs))
    sums = (counts.made, counts.reused, counts.failed)
    start = asked.start.isoformat()
    return MonthRecord(start, asked.days, packs, *sums, report.summary, found, report.problems)
