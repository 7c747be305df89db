"""The month: from the designs folder to packs on disk, day 1 first; a second run makes nothing again."""

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, timedelta

from hundredfold.handoff.rows import sku_keys
from hundredfold.kernel.counting import counted
from hundredfold.kernel.findings import Finding, Severity
from hundredfold.ledger.events import Happened
from hundredfold.ledger.give import give_skus
from hundredfold.ledger.keys import ListingKey, PackKey, SkuKey
from hundredfold.ledger.state import LedgerState
from hundredfold.planning.listings import Action, Plan, PlannedListing
from hundredfold.planning.month import held_back, later_packs, plan_month, planned_events
from hundredfold.runner.running import Runner, Watching
from hundredfold.runner.space import check_space
from hundredfold.runner.tasks import Counts, Failed, GroupDone, Outcome, Output, Task
from hundredfold.workshop.handover.retiring import missing_design, missing_findings, retired_findings
from hundredfold.workshop.handover.verifying import in_pack, verify_folder
from hundredfold.workshop.listing.choices import chosen
from hundredfold.workshop.listing.lightdark import better_versions
from hundredfold.workshop.listing.offers import (
    Offer,
    Proof,
    allowed,
    barred,
    ending_offer,
    endings,
    offers,
)
from hundredfold.workshop.listing.texts import Texts
from hundredfold.workshop.month.finished import FinishedMonth, finished_month, remember_month
from hundredfold.workshop.month.leftoverpacks import remove_strays
from hundredfold.workshop.month.mainpictures import judge_main_pictures
from hundredfold.workshop.month.packing import Load, PackDone, Packer
from hundredfold.workshop.month.planrecord import plan_record
from hundredfold.workshop.proof.listable import judge_all
from hundredfold.workshop.proof.onedesign import asked_of, once_a_blank, read_all, sold_blanks
from hundredfold.workshop.proof.printsizes import print_sizes
from hundredfold.workshop.records.common import finding_records, worst_first
from hundredfold.workshop.records.month import MonthRecord, PlanRecord
from hundredfold.workshop.shop.bench import Bench
from hundredfold.workshop.shop.checks import NOT_MADE
from hundredfold.workshop.shop.folder import Shop
from hundredfold.workshop.shop.noting import Noting
from hundredfold.workshop.shop.stillmissing import still_missing
from hundredfold.workshop.steps.allsteps import make
from hundredfold.workshop.steps.gathering import Gathered, gather
from hundredfold.workshop.steps.identity import known_designs
from hundredfold.workshop.steps.kept import MONTH, PLAN, keep
from hundredfold.workshop.steps.making import Groups, pieces_of, unique_tasks

# Of a picture or print file of a kind this shop has never made (measured on the sample shop).
UNKNOWN_BYTES = 400_000
# Designs whose pictures are made in one go: enough to be worth loading a plate, few enough to see progress.
PICTURES_TOGETHER = 8


@dataclass(frozen=True)
class Telling:
    """What the caller hears while the month is prepared."""

    stage: Callable[[str], None] = lambda _: None
    progress: Callable[[int, int], None] = lambda _done, _all: None
    pack_done: Callable[[PackDone], None] = lambda _: None


@dataclass(frozen=True)
class Prepared:
    """A shop's month up to the plan."""

    gathered: Gathered
    proved: tuple[Proof, ...]
    offers: Mapping[ListingKey, Offer]
    plan: Plan
    state: LedgerState
    skus: Mapping[SkuKey, str]
    findings: tuple[Finding, ...]
    counts: Counts


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


def prepare(
    bench: Bench,
    runner: Runner,
    start: date,
    days: int,
    telling: Telling = Telling(),
    look_only: bool = False,
) -> Prepared:
    """Gather, proof, price, word and plan; the plan and new SKUs are noted in the ledger.

    With ``look_only`` they are not: the plan that stands, and packs made by it, stay as they are.
    """
    telling.stage("reading designs")
    gathered = gather(bench, runner, telling.progress)
    shop = bench.shop
    telling.stage("judging every design on every blank")
    state = bench.ledger()
    blanks, asked = sold_blanks(shop), asked_of(shop)
    readings, counts = read_all(runner, gathered, blanks, asked, telling.progress)
    sizes, weighed = print_sizes(bench, runner, gathered, blanks, telling.progress)
    held = barred(shop, gathered.designs, blanks)
    proved, judged = judge_all(bench, runner, gathered, readings, sizes, blanks, asked, telling.progress)
    kept_to = tuple(chosen(allowed(proved, held, state.retired), state.choices))
    may_go = better_versions(kept_to, state.listed)
    offered, unpriced = offers(shop, may_go, state, start)
    told = {key: listed.content for key, listed in state.listed.items()}
    candidates = [offer.candidate(told.get(offer.key, {})) for offer in offered]
    plan = plan_month(candidates, shop.channels, state, start, days, endings(shop, state))
    by_key = {offer.key: offer for offer in offered} | _end_offers(bench, gathered, plan, state)
    skus = _numbered(bench, plan, state, look_only)
    stopped = (finding for findings in held.values() for finding in findings)
    laid = ((one.blank, layout) for one in may_go if one.colours for layout in one.layouts.values())
    findings = (
        *_of_designs(shop, gathered, state, once_a_blank(laid, asked.profile)),
        *map(not_made, judged.failures),
        *stopped,
        *unpriced,
        *held_back(plan),
    )
    counts += gathered.counts + weighed + judged.counts
    return Prepared(gathered, proved, by_key, plan, state, skus, findings, counts)


def _of_designs(
    shop: Shop, gathered: Gathered, state: LedgerState, cautions: Iterable[Finding]
) -> Iterator[Finding]:
    """What the shop's files and designs say by themselves, with the cautions of its blanks."""
    yield from shop.findings
    if not state.listed:
        yield from still_missing(shop, len(gathered.designs))
    yield from cautions
    yield from gathered.findings
    yield from missing_findings(shop, gathered.gone, state)
    yield from retired_findings(gathered.designs, state)


def _numbered(bench: Bench, plan: Plan, state: LedgerState, look_only: bool) -> dict[SkuKey, str]:
    """Every SKU of the shop, those of the plan included; plan and new SKUs are noted."""
    shop = bench.shop
    wanted = [
        key
        for planned in plan.listings
        if planned.action is not Action.END
        for key in sku_keys(planned, shop.blank(planned.key.blank), shop.channel(planned.key.channel))
    ]
    given, new_skus = give_skus(wanted, state, shop.settings.sku_prefix)
    if not look_only:
        bench.store.append([*planned_events(plan, state), *new_skus])
    return {**state.skus, **given}


def _end_offers(bench: Bench, gathered: Gathered, plan: Plan, state: LedgerState) -> dict[ListingKey, Offer]:
    """What ends are written from; a design's file may be missing by then, or broken."""
    ends = [planned.key for planned in plan.listings if planned.action is Action.END]
    if not ends:
        return {}
    known = known_designs(bench.store.events(kinds={Happened.DESIGN_SEEN}))
    designs = {key: missing_design(one) for key, one in known.items()}
    designs |= {design.id: design for design in gathered.designs}
    texts = Texts(bench.shop, state)
    known_ends = [key for key in ends if key.design in designs]
    return {key: ending_offer(bench.shop, texts, designs[key.design], key) for key in known_ends}


def month(bench: Bench, start: date, days: int, telling: Telling = Telling()) -> MonthReport:
    """Prepare the month and make its packs. What is already made and unchanged is left alone.

    Raises ShopError ``disk-full`` before any work when the disk cannot hold what is missing.
    """
    noting = Noting(bench, telling.stage, telling.progress)
    telling = replace(telling, stage=noting.stage, progress=noting.progress)
    telling.stage("looking for changes")
    settled = finished_month(bench, start, days)
    if settled is not None:
        bench.end(settled.counts)
        return MonthReport(settled.packs, settled.counts, settled.summary, settled.to_do)
    runner = bench.runner()
    prepared = prepare(bench, runner, start, days, telling)
    keep(bench, {PLAN: plan_record(prepared.plan, prepared.offers, prepared.findings, summary_of(prepared))})
    loads = _loads(bench, prepared)
    making = _Making(bench, prepared, loads, telling)
    tasks = runner.assess(unique_tasks(_tasks(loads)))
    needed = 2 * tasks.needed_bytes(
        bench.store.builds.mean_bytes(), UNKNOWN_BYTES
    )  # once cached, once packed
    if tasks.to_make:
        there = f"{tasks.current} there already; needs about {needed / 1e6:.0f} MB of disk"
        telling.stage(f"making {counted(tasks.to_make, 'file')}, {there}")
    check_space(bench.shop.paths.root, needed)
    watching = Watching(group_done=making.group_done, progress=telling.progress)
    outcome = runner.run(tasks, make, watching)
    making.finish()
    broken, looked = judge_main_pictures(runner, bench.vault, loads.values(), outcome)
    telling.stage("proving the new packs")
    report = _report(bench, prepared, making, outcome + looked, broken)
    _finish(bench, start, days, report, making.done)
    return report


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


def _finish(bench: Bench, start: date, days: int, report: MonthReport, done: Sequence[PackDone]) -> None:
    for pack in done:
        for name, written in pack.written.items():
            bench.memo.learn(pack.folder / name, pack.files[name], written)
    if not report.problems:
        files = {f"{pack.key}/{name}": digest for pack in done for name, digest in pack.files.items()}
        month = FinishedMonth(report.packs, report.counts, report.summary, report.to_do, files)
        remember_month(bench, start, days, month)
    keep(bench, {MONTH: _record(start, days, report)})
    bench.end(report.counts)


def _record(start: date, days: int, report: MonthReport) -> MonthRecord:
    counts, found = report.counts, worst_first(finding_records(report.to_do))
    packs = tuple(map(str, report.packs))
    sums = (counts.made, counts.reused, counts.failed)
    return MonthRecord(start.isoformat(), days, packs, *sums, report.summary, found, report.problems)


def look_ahead(bench: Bench, start: date, days: int, telling: Telling = Telling()) -> PlanRecord:
    """The plan of a month as it would be made now, kept for readers; the ledger stays as it is."""
    noting = Noting(bench, telling.stage, telling.progress)
    telling = replace(telling, stage=noting.stage, progress=noting.progress)
    prepared = prepare(bench, bench.runner(), start, days, telling, look_only=True)
    plan = plan_record(prepared.plan, prepared.offers, prepared.findings, summary_of(prepared))
    keep(bench, {PLAN: plan})
    bench.end(prepared.counts)
    return plan


def summary_of(prepared: Prepared) -> tuple[str, ...]:
    """The month in a few lines."""
    plan, proved = prepared.plan, prepared.proved
    stopped = sum(1 for proof in proved if not proof.colours)
    designs = counted(len(prepared.gathered.designs), "design")
    pairs = counted(len(proved), "pair of design and blank", "pairs of design and blank")
    held = f", {stopped} stopped by the proof (hundredfold proof says why)" if stopped else ""
    lines = [f"{designs}, {pairs}: {len(proved) - stopped} can be listed{held}"]
    for channel in sorted({listing.key.channel for listing in plan.listings}):
        here = [listing for listing in plan.listings if listing.key.channel == channel]
        rows, used = sum(one.rows for one in here), len({listing.day for listing in here})
        goods = f"{counted(len(here), 'listing')} with {counted(rows, 'row')}"
        lines.append(f"{channel}: {goods} on {counted(used, 'day')}")
    if plan.later:
        stand = counted(len(plan.later), "listing stands", "listings stand")
        first, last = min(plan.later.values()), max(plan.later.values())
        lines.append(
            f"{stand} as planned for later days ({first if first == last else f'{first} to {last}'}); "
            "this run left those days alone"
        )
    if plan.left_over:
        wait = counted(len(plan.left_over), "more listing waits", "more listings wait")
        lines.append(f"{wait}: the daily caps are full in these {counted(plan.days, 'day')}")
    return tuple(lines)


def not_made(failed: Failed) -> Finding:
    """A failure as a finding."""
    what, fix = failed.why.what or failed.why.sentence, failed.why.fix or "mend what it says"
    return NOT_MADE.finds("failed", failed.item, what, f"{fix}; it is tried again next time")


def _loads(bench: Bench, prepared: Prepared) -> dict[PackKey, list[Load]]:
    """The planned listings by pack, packs in order of day, then channel."""
    loads: dict[PackKey, list[Load]] = {}
    grouping = _Grouping(prepared.plan)
    for planned in prepared.plan.listings:
        offer = prepared.offers.get(planned.key)
        if offer is None:
            continue
        design = offer.design
        small = prepared.gathered.small.get(design.id, "")
        key = PackKey(planned.key.channel, planned.day.isoformat())
        pieces = pieces_of(offer, small, grouping.of(planned, design.path))
        loads.setdefault(key, []).append(Load(planned, offer, pieces))
    return dict(sorted(loads.items(), key=lambda pair: (pair[0].day, pair[0].channel)))


class _Grouping:
    """Which tasks are made together.

    The first day's are groups of their own, so that its packs need not wait for the rest. After that, all
    print files of a design come from one decoding, and pictures of one blank, a handful of designs at a
    time, from one loading of its plate; whatever the channel, so that one mock-up serves every size.
    """

    def __init__(self, plan: Plan) -> None:
        self._first = plan.listings[0].day if plan.listings else None
        self._on_blank: Counter[str] = Counter()
        self._part: dict[tuple[str, str], int] = {}

    def of(self, planned: PlannedListing, path: str) -> Groups:
        blank = planned.key.blank
        if planned.day == self._first:
            return Groups(f"{path}, first day", f"pictures of {blank}, first day")
        if (blank, path) not in self._part:
            self._part[blank, path] = self._on_blank[blank] // PICTURES_TOGETHER
            self._on_blank[blank] += 1
        return Groups(path, f"pictures of {blank}, {self._part[blank, path]}")


def _tasks(loads: Mapping[PackKey, Sequence[Load]]) -> Iterable[Task]:
    """Every task, those of one group together, groups in order of the first day that needs them."""
    groups: dict[str, list[Task]] = {}
    for pack in loads.values():
        for load in pack:
            for task in load.pieces.tasks:
                groups.setdefault(task.group, []).append(task)
    return [task for group in groups.values() for task in group]


@dataclass
class _Making:
    """Writes each pack as soon as its files and all packs before it are there."""

    bench: Bench
    prepared: Prepared
    loads: Mapping[PackKey, Sequence[Load]]
    telling: Telling
    done: list[PackDone] = field(default_factory=list)

    def __post_init__(self) -> None:
        self._packer = Packer(self.bench, self.prepared.state, self.prepared.skus)
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
