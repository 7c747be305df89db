"""One run of proofing: all designs judged one at a time, counted, and the worst of them put on the sheet."""

import heapq
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path

from hundredfold.catalogue.blanks import Blank
from hundredfold.kernel.errors import ShopError
from hundredfold.kernel.findings import Finding, Severity, worst
from hundredfold.kernel.nearest import did_you_mean
from hundredfold.placement.layout import AreaLayout
from hundredfold.proofing.designproof import DesignProof
from hundredfold.proofing.grouping import GroupedFinding, grouped_findings
from hundredfold.proofing.repair.advice import Advice
from hundredfold.proofing.sheet.cards import Card, ProofSheet, card_of
from hundredfold.proofing.sheet.faces import letters_of
from hundredfold.proofing.sheet.page import page
from hundredfold.proofing.sheet.paper import paper
from hundredfold.runner.atomic import write_whole
from hundredfold.runner.tasks import Counts
from hundredfold.workshop.proof.figures import figure
from hundredfold.workshop.proof.listable import judge_tasks, keep_judged, not_yet_judged
from hundredfold.workshop.proof.onedesign import (
    asked_of,
    matching,
    once_a_blank,
    proved,
    read_all,
    small_of,
    sold_blanks,
)
from hundredfold.workshop.proof.paperfonts import paper_fonts
from hundredfold.workshop.proof.printsizes import print_sizes
from hundredfold.workshop.proof.repairing import RepairDesk, rules_of, write_repaired
from hundredfold.workshop.records.common import finding_records
from hundredfold.workshop.records.proofs import ProofSums, ProofsView
from hundredfold.workshop.shop.bench import Bench
from hundredfold.workshop.shop.noting import Noting
from hundredfold.workshop.shop.stillmissing import still_missing
from hundredfold.workshop.steps.fromfacts import judged_bytes
from hundredfold.workshop.steps.gathering import Gathered, gather
from hundredfold.workshop.steps.kept import PROOFS, keep
from hundredfold.workshop.steps.proofrecord import counts_of, proof_record, worst_of
from hundredfold.workshop.steps.soundcache import with_sound_cache

SHEET_FOLDER = "proof"
CARDS, READY = 36, 48  # designs on the sheet that want a look, and that are ready


@dataclass(frozen=True)
class Wishes:
    """What a run is asked: designs and blanks by name (none: all), whether to keep all findings, and
    repairs."""

    designs: tuple[str, ...] = ()
    blanks: tuple[str, ...] = ()
    in_full: bool = False
    repair: bool = False


@dataclass(frozen=True)
class DesignLine:
    """One design in the table: how many of its colours pass, want a look, are stopped.

    ``proof`` is kept only where all findings were asked for.
    """

    design: str
    name: str
    passed: int
    warned: int
    stopped: int
    worst: str
    proof: DesignProof | None
    advice: tuple[Advice, ...]
    told: tuple[GroupedFinding, ...] = ()

    @property
    def badness(self) -> tuple[float, int, str]:
        """Larger is worse: the share that is stopped, then how many want a look."""
        return (self.stopped / max(1, self.passed + self.stopped), self.warned, self.design)


@dataclass(frozen=True)
class ProofRun:
    """What a run found. ``findings`` are of blanks and of files that gave no design."""

    lines: tuple[DesignLine, ...]
    findings: tuple[Finding, ...]
    sheets: tuple[Path, ...]
    repaired: tuple[Path, ...]
    counts: Counts
    blanks: tuple[Blank, ...] = ()

    def view(self) -> ProofsView:
        """The run as its record; designs only where all findings were asked for."""
        proofs = (
            replace(proof_record(line.proof, self.blanks), repairs=tuple(told.words for told in line.advice))
            for line in self.lines
            if line.proof is not None
        )
        return ProofsView(
            self.passed + self.stopped,
            self.passed,
            self.warned,
            self.stopped,
            tuple(map(str, self.sheets)),
            tuple(map(str, self.repaired)),
            tuple(proofs),
            finding_records(self.findings),
        )

    @property
    def passed(self) -> int:
        """Pairs of design and colour that may be listed, those that want a look among them."""
        return sum(line.passed for line in self.lines)

    @property
    def warned(self) -> int:
        """Pairs that may be listed and want a look first."""
        return sum(line.warned for line in self.lines)

    @property
    def stopped(self) -> int:
        """Pairs that are not listed."""
        return sum(line.stopped for line in self.lines)

    @property
    def problems(self) -> bool:
        """Whether a design cannot be listed on anything, or a file gave none."""
        return any(not line.passed for line in self.lines) or worst(self.findings) is Severity.STOP


def proof_run(
    bench: Bench,
    wishes: Wishes = Wishes(),
    stage: Callable[[str], None] = lambda _: None,
    progress: Callable[[int, int], None] = lambda _done, _all: None,
) -> ProofRun:
    """Proof the shop's designs on its blanks, look for repairs, and write the sheet.

    Raises ShopError ``unknown-design``, ``unknown-blank``, and what the shop's limits raise;
    ``cache-rotten``.
    """
    noting = Noting(bench, stage, progress)
    work = partial(_proof_run, bench, wishes, noting.stage, noting.progress)
    return with_sound_cache(bench.vault, work, noting.stage)


def _proof_run(
    bench: Bench, wishes: Wishes, stage: Callable[[str], None], progress: Callable[[int, int], None]
) -> ProofRun:
    shop = bench.shop
    asked = asked_of(shop)
    blanks = chosen_blanks(sold_blanks(shop), wishes.blanks)
    desk = RepairDesk(bench, rules_of(shop, asked.profile.limits))
    runner = bench.runner()
    stage("reading designs")
    gathered = gather(bench, runner, progress)
    only = matching(gathered, list(wishes.designs)) if wishes.designs else frozenset()
    stage("reading words as buyers see them")
    readings, counts = read_all(runner, gathered, sold_blanks(shop), asked, progress)
    bench.vault.check_read()
    stage("weighing print files where a partner sets a limit")
    sizes, weighed = print_sizes(bench, runner, gathered, blanks, progress)
    stage("judging every design on every blank")
    prove = partial(proved, bench.vault, gathered, readings, blanks, asked, sizes)
    tasks = () if wishes.blanks else judge_tasks(bench, gathered, readings, sizes, blanks, asked)
    fresh = not_yet_judged(bench, tasks)
    judged = _judged(prove(only), gathered, desk, wishes, blanks, fresh)
    bench.vault.check_read()
    keep_judged(bench, tasks, judged.fresh)
    stage("looking for repairs")
    advice, more = desk.find(runner, progress)
    lines = [replace(line, advice=advice.get(line.design, ())) for line in judged.lines]
    stage("drawing the proof sheet")
    cards = _cards(bench, gathered, _shown(judged, lines, prove), lines, progress)
    bench.vault.check_read()
    sheets = _write_sheets(bench, _sheet(bench, lines, cards, len(blanks)))
    repaired = _write_repaired(bench, gathered, lines) if wishes.repair else ()
    counts += gathered.counts + weighed + more
    lacking = still_missing(shop, len(gathered.designs))
    findings = (*shop.findings, *lacking, *once_a_blank(judged.laid, asked.profile), *gathered.findings)
    if not wishes.designs and not wishes.blanks:
        keep(bench, {PROOFS: _sums(lines, findings, sheets, repaired)})
    bench.end(counts)
    return ProofRun(tuple(lines), findings, sheets, repaired, counts, blanks)


def _sums(
    lines: Iterable[DesignLine],
    findings: tuple[Finding, ...],
    sheets: Iterable[Path],
    repaired: Iterable[Path],
) -> ProofSums:
    repairs = {line.design: tuple(told.words for told in line.advice) for line in lines if line.advice}
    return ProofSums(tuple(map(str, sheets)), tuple(map(str, repaired)), repairs, finding_records(findings))


@dataclass(frozen=True)
class _Judged:
    """Every design judged.

    By path: ``held`` are the proofs of the first few, not to be made again; ``fresh`` is what to keep.
    """

    lines: list[DesignLine]
    laid: list[tuple[Blank, AreaLayout]]
    held: dict[str, DesignProof]
    fresh: dict[str, bytes]


def _judged(
    proofs: Iterable[DesignProof],
    gathered: Gathered,
    desk: RepairDesk,
    wishes: Wishes,
    blanks: tuple[Blank, ...],
    fresh: frozenset[str],
) -> _Judged:
    done = _Judged([], [], {}, {})
    for proof in proofs:
        desk.take(proof, gathered)
        done.lines.append(line_of(proof, blanks, wishes.in_full))
        if proof.design.path in fresh:
            done.fresh[proof.design.path] = judged_bytes(proof, blanks)
        done.laid.extend((one.blank, one.layout) for one in proof.blanks if one.layout and not one.stopped)
        if len(done.held) < CARDS + READY:
            done.held[proof.design.path] = proof
    return done


def _shown(
    judged: _Judged, lines: list[DesignLine], prove: Callable[[frozenset[str]], Iterator[DesignProof]]
) -> Iterator[DesignProof]:
    """The proofs that the sheet shows; those that are not held are made again."""
    chosen = _chosen(lines)
    yield from (proof for path, proof in judged.held.items() if path in chosen)
    again = chosen - judged.held.keys()
    if again:
        yield from prove(frozenset(again))


def _cards(
    bench: Bench,
    gathered: Gathered,
    proofs: Iterable[DesignProof],
    lines: list[DesignLine],
    progress: Callable[[int, int], None],
) -> dict[str, Card]:
    """The cards of these proofs, by path."""
    line_at = {line.design: line for line in lines}
    cards: dict[str, Card] = {}
    for proof in proofs:
        cards[proof.design.path] = _card(bench, gathered, proof, line_at[proof.design.path])
        progress(len(cards), min(len(lines), CARDS + READY))
    return cards


def chosen_blanks(blanks: tuple[Blank, ...], codes: tuple[str, ...]) -> tuple[Blank, ...]:
    """The blanks with these codes, or all. Raises ShopError ``unknown-blank``."""
    known = {blank.code: blank for blank in blanks}
    for code in codes:
        if code not in known:
            raise ShopError(
                "unknown-blank", f'no blank has the code "{code}"', did_you_mean(code, list(known))
            )
    return tuple(blank for blank in blanks if not codes or blank.code in codes)


def line_of(proof: DesignProof, blanks: tuple[Blank, ...], in_full: bool = False) -> DesignLine:
    """Count a design's colours."""
    passed, warned, stopped = counts_of(proof, blanks)
    told = grouped_findings(proof)
    return DesignLine(
        proof.design.path,
        proof.design.title,
        passed,
        warned,
        stopped,
        worst_of(told),
        proof if in_full else None,
        (),
        told,
    )


def _chosen(lines: list[DesignLine]) -> set[str]:
    """The designs that the sheet shows: the worst, and the first of those that are ready."""
    bad = [line for line in lines if line.stopped or line.warned]
    ready = [line.design for line in lines if not line.stopped and not line.warned]
    return {line.design for line in heapq.nlargest(CARDS, bad, key=lambda line: line.badness)} | set(
        ready[:READY]
    )


def _card(bench: Bench, gathered: Gathered, proof: DesignProof, line: DesignLine) -> Card:
    small = small_of(bench.vault, gathered, proof.design)
    return card_of(proof, small, figure, line.advice, line.passed, line.stopped)


def _sheet(bench: Bench, lines: list[DesignLine], cards: Mapping[str, Card], blanks: int) -> ProofSheet:
    ordered = sorted(lines, key=lambda line: line.badness, reverse=True)
    shown = [line for line in ordered if line.design in cards]
    bad = [line for line in ordered if line.stopped or line.warned]
    return ProofSheet(
        shop=bench.shop.settings.name,
        designs=len(lines),
        blanks=blanks,
        passed=sum(line.passed for line in lines),
        warned=sum(line.warned for line in lines),
        stopped=sum(line.stopped for line in lines),
        cards=tuple(cards[line.design] for line in shown if line.stopped or line.warned),
        ready=tuple(cards[line.design] for line in shown if not line.stopped and not line.warned),
        left_out=max(0, len(bad) - CARDS),
    )


def _write_sheets(bench: Bench, sheet: ProofSheet) -> tuple[Path, ...]:
    folder = bench.shop.paths.root / SHEET_FOLDER
    folder.mkdir(exist_ok=True)
    html, pdf = folder / "proof-sheet.html", folder / "proof-sheet.pdf"
    write_whole(html, page(sheet).encode("utf-8"))
    write_whole(pdf, paper(sheet, paper_fonts(letters_of(sheet), bench.shop.paths.fonts)))
    return html, pdf


def _write_repaired(bench: Bench, gathered: Gathered, lines: list[DesignLine]) -> tuple[Path, ...]:
    """Every proposed change as a file of its own, once for each design and change."""
    folder = bench.shop.paths.root / SHEET_FOLDER / "repaired"
    files = {design.path: gathered.files[design.id] for design in gathered.designs}
    made: dict[tuple[str, object], Path] = {}
    for line in lines:
        for told in line.advice:
            if told.change is not None and (line.design, told.change) not in made:
                place = sum(design == line.design for design, _ in made)
                path = write_repaired(Path(files[line.design]), line.design, told, folder, place)
                if path is not None:
                    made[line.design, told.change] = path
    return tuple(made.values())
