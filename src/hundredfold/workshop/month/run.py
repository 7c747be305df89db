"""The month: from the designs folder to packs on disk, day 1 first; a second run makes nothing again."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, timedelta

from hundredfold.kernel.counting import counted
from hundredfold.kernel.findings import Finding
from hundredfold.ledger.keys import PackKey
from hundredfold.ledger.state import LedgerState
from hundredfold.planning.month import later_packs
from hundredfold.runner.diskerrors import say_bytes
from hundredfold.runner.running import Watching
from hundredfold.runner.space import check_space
from hundredfold.runner.tasks import Counts, GroupDone, Outcome, Output
from hundredfold.workshop.handover.verifying import in_pack, verify_folder
from hundredfold.workshop.month.closing import MonthAsked, MonthReport, close_month
from hundredfold.workshop.month.finished import finished_month
from hundredfold.workshop.month.leftoverpacks import remove_strays
from hundredfold.workshop.month.loads import loads_of, tasks_of
from hundredfold.workshop.month.mainpictures import judge_main_pictures
from hundredfold.workshop.month.packing import Load, PackDone, Packer
from hundredfold.workshop.month.planrecord import plan_record
from hundredfold.workshop.month.preparing import SILENT, Prepared, Telling, not_made, prepare, summary_of
from hundredfold.workshop.records.month import PlanRecord
from hundredfold.workshop.shop.bench import Bench
from hundredfold.workshop.shop.noting import Noting
from hundredfold.workshop.steps.allsteps import make
from hundredfold.workshop.steps.kept import PLAN, keep
from hundredfold.workshop.steps.making import unique_tasks

# Of a picture or print file of a kind this shop has never made (measured on the sample shop).
UNKNOWN_BYTES = 400_000


def month(bench: Bench, start: date, days: int, telling: Telling = SILENT) -> MonthReport:
    """Prepare the month and make its packs. What is already made and unchanged is left alone.

    Raises ShopError ``disk-full`` before any work when the disk cannot hold what is missing.
    """
    noting = Noting(bench, telling.stage, telling.progress)
    telling = replace(telling, stage=noting.stage, progress=noting.progress)
    telling.stage("looking for changes")
    begun = bench.store.last_number()
    settled = finished_month(bench, start, days)
    if settled is not None:
        bench.end(settled.counts)
        return MonthReport(settled.packs, settled.counts, settled.summary, settled.to_do)
    runner = bench.runner()
    prepared = prepare(bench, runner, start, days, telling)
    keep(bench, {PLAN: plan_record(prepared.plan, prepared.offers, prepared.findings, summary_of(prepared))})
    loads = loads_of(bench, prepared)
    making = _Making(bench, prepared, loads, telling)
    tasks = runner.assess(unique_tasks(tasks_of(loads)))
    needed = 2 * tasks.needed_bytes(
        bench.store.builds.mean_bytes(), UNKNOWN_BYTES
    )  # once cached, once packed
    if tasks.to_make:
        there = f"{tasks.current} there already; needs about {say_bytes(needed)} of disk"
        telling.stage(f"making {counted(tasks.to_make, 'file')}, {there}")
    check_space(bench.shop.paths.root, needed)
    watching = Watching(group_done=making.group_done, progress=telling.progress)
    outcome = runner.run(tasks, make, watching)
    making.finish()
    broken, looked = judge_main_pictures(runner, bench.vault, loads.values(), outcome)
    telling.stage("proving the new packs")
    report = _report(bench, prepared, making, outcome + looked, broken)
    return close_month(bench, report, making.done, MonthAsked(start, days, begun))


def _report(
    bench: Bench, prepared: Prepared, making: "_Making", outcome: Outcome, broken: Sequence[Finding]
) -> MonthReport:
    done = making.done
    counts = prepared.counts + outcome.counts
    for pack in done:
        counts += pack.counts
    counts += Counts(read=bench.memo.read, rehashed=bench.memo.rehashed)
    findings = [
        *prepared.findings,
        *map(not_made, outcome.failures),
        *(finding for pack in done for finding in pack.findings),
        *broken,
        *_proved(bench, done),
        *remove_strays(bench, [*(pack.key for pack in done), *later_packs(prepared.plan)], prepared.state),
    ]
    return MonthReport(tuple(pack.key for pack in done), counts, summary_of(prepared), tuple(findings))


def _proved(bench: Bench, done: Sequence[PackDone]) -> Iterator[Finding]:
    """What re-opening every pack written in this run from disk finds wrong; nothing, if we did our work."""
    fresh = [pack for pack in done if pack.counts.made]
    state = bench.ledger() if fresh else LedgerState()
    for pack in fresh:
        for finding in verify_folder(bench.shop, state, pack.folder):
            yield in_pack(str(pack.key), finding)


def look_ahead(bench: Bench, start: date, days: int, telling: Telling = SILENT) -> PlanRecord:
    """The plan of a month as it would be made now, kept for readers; the ledger stays as it is."""
    noting = Noting(bench, telling.stage, telling.progress)
    telling = replace(telling, stage=noting.stage, progress=noting.progress)
    prepared = prepare(bench, bench.runner(), start, days, telling, look_only=True)
    plan = plan_record(prepared.plan, prepared.offers, prepared.findings, summary_of(prepared))
    keep(bench, {PLAN: plan})
    bench.end(prepared.counts)
    return plan


@dataclass
class _Making:
    """Writes each pack as soon as its files and all packs before it are there."""

    bench: Bench
    prepared: Prepared
    loads: Mapping[PackKey, Sequence[Load]]
    telling: Telling
    done: list[PackDone] = field(default_factory=list)

    def __post_init__(self) -> None:
        self._packer = Packer(self.bench, self.prepared.state, self.prepared.skus, self.prepared.barcodes)
        self._outputs: dict[tuple[str, str], Output] = {}
        self._queue = list(self.loads)
        self._settled: set[tuple[str, str]] = set()
        self._needs = {
            key: {(piece.item, piece.step) for load in loads for piece in load.pieces.pieces}
            for key, loads in self.loads.items()
        }

    def group_done(self, done: GroupDone) -> None:
        """Take in a finished group and write the packs that waited for it."""
        self._outputs.update(done.outputs)
        self._settled.update(done.names)
        while self._queue and self._needs[self._queue[0]] <= self._settled:
            self._pack(self._queue.pop(0))

    def finish(self) -> None:
        """Write what is left: packs of nothing but ends, and packs some of whose files failed."""
        while self._queue:
            self._pack(self._queue.pop(0))

    def _pack(self, key: PackKey) -> None:
        pack = self._packer.pack(key, self.loads[key], self._outputs)
        self.done.append(pack)
        self.telling.pack_done(pack)


def default_start(bench: Bench, today: date) -> date:
    """The first day of the month to prepare: the shop's setting, else tomorrow."""
    return bench.shop.settings.month_start or today + timedelta(days=1)
