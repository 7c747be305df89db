"""One run of proofing: all designs judged, counted, and the worst of them put on the sheet."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from hundredfold.build.tasks import Counts
from hundredfold.catalogue.blanks import Blank
from hundredfold.kernel.errors import ShopError
from hundredfold.kernel.findings import Finding, Severity, worst
from hundredfold.kernel.nearest import did_you_mean
from hundredfold.proofing.proof import BlankProof, DesignProof
from hundredfold.workshop.bench import Bench
from hundredfold.workshop.gathering import gather
from hundredfold.workshop.proofing import asked_of, matching, proved, read_all, sold_blanks

SHEET_FOLDER = "proof"


@dataclass(frozen=True)
class Line:
    """One design in the table: its proof, and how many of its colours pass, want a look, are stopped."""

    proof: DesignProof
    passed: int
    warned: int
    stopped: int

    @property
    def worst(self) -> str:
        """The worst finding, as a sentence that says where."""
        finding = worst_finding(self.proof)
        if finding is None:
            return ""
        _, _, where = finding.item.partition(" on ")
        return f"{where}: {finding.what}" if where else finding.what


@dataclass(frozen=True)
class ProofRun:
    """What a run found. ``findings`` are of files that gave no design."""

    lines: tuple[Line, ...]
    findings: tuple[Finding, ...]
    sheets: tuple[Path, ...]
    counts: Counts

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
    def pairs(self) -> int:
        """All pairs."""
        return self.passed + self.stopped

    @property
    def problems(self) -> bool:
        """Whether a design cannot be listed on anything, or a file gave none."""
        return any(not line.passed for line in self.lines) or worst(self.findings) is Severity.STOP


def proof_run(
    bench: Bench,
    named: list[str],
    codes: list[str],
    stage: Callable[[str], None] = lambda _: None,
    progress: Callable[[int, int], None] = lambda _done, _all: None,
) -> ProofRun:
    """Proof the shop's designs (or those named) on its blanks (or those with these codes).

    Raises ShopError ``unknown-design``, ``unknown-blank``, and what the shop's limits raise.
    """
    asked = asked_of(bench.shop)
    blanks = chosen_blanks(sold_blanks(bench.shop), codes)
    stage("reading designs")
    runner = bench.runner()
    gathered = gather(bench, runner, progress)
    only = matching(gathered, named) if named else frozenset()
    stage("reading words as buyers see them")
    readings, counts = read_all(bench, runner, gathered, sold_blanks(bench.shop), asked, progress)
    stage("judging every design on every blank")
    proofs = proved(bench.vault, gathered, readings, blanks, asked, only)
    lines = [line_of(one, blanks) for one in proofs]
    counts += gathered.counts
    bench.end(counts)
    return ProofRun(tuple(lines), (*bench.shop.findings, *gathered.findings), (), counts)


def chosen_blanks(blanks: tuple[Blank, ...], codes: list[str]) -> tuple[Blank, ...]:
    """The blanks with these codes, or all. Raises ShopError ``unknown-blank``."""
    known = {blank.code: blank for blank in blanks}
    for code in codes:
        if code not in known:
            raise ShopError(
                "unknown-blank", f'no blank has the code "{code}"', did_you_mean(code, list(known))
            )
    return tuple(blank for blank in blanks if not codes or blank.code in codes)


def line_of(proof: DesignProof, blanks: tuple[Blank, ...]) -> Line:
    """Count a design's colours."""
    if proof.stopped:
        return Line(proof, 0, 0, sum(len({v.colour for v in blank.offered()}) for blank in blanks))
    listable = [
        (blank, one) for blank in proof.blanks for one in blank.colours if _passes(blank, one.stopped)
    ]
    warned = sum(
        worst((*proof.findings, *blank.findings, *one.findings)) is Severity.WARN for blank, one in listable
    )
    total = sum(len(blank.colours) for blank in proof.blanks)
    return Line(proof, len(listable), warned, total - len(listable))


def _passes(blank: BlankProof, stopped: bool) -> bool:
    return not stopped and worst(blank.findings) is not Severity.STOP


def worst_finding(proof: DesignProof) -> Finding | None:
    """The finding to speak of first: at the worst severity the art's own, a blank's, a colour's."""
    found = [finding for finding in proof.all_findings() if finding.severity > Severity.NOTE]
    return max(found, key=lambda finding: finding.severity, default=None)
