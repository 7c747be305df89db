"""`hundredfold proof`: judge every design on every blank and colour."""

from typing import TYPE_CHECKING, Annotated

import typer

from hundredfold.cli.options import HERE, JsonOption, ShopOption
from hundredfold.cli.printing import print_findings, print_json, print_table, say, say_folded
from hundredfold.cli.watching import ProgressDisplay
from hundredfold.kernel.counting import counted
from hundredfold.kernel.errors import ExitCode, ShopError

if TYPE_CHECKING:
    from hundredfold.proofing.designproof import BlankProof
    from hundredfold.workshop.proof.alldesigns import DesignLine, ProofRun
    from hundredfold.workshop.records.proofs import ProofsView


_HEADERS = ("design", "list", "look", "stop", "worst")


def run(
    designs: Annotated[
        list[str] | None,
        typer.Argument(
            metavar="[DESIGN]...",
            help="Designs by file name; without any, all of them.",
            show_default=False,
        ),
    ] = None,
    blanks: Annotated[
        list[str] | None,
        typer.Option("--blank", metavar="CODE", help="Only on this blank; may be given again."),
    ] = None,
    repair: Annotated[
        bool,
        typer.Option("--repair", help="Write the proposed repairs as new files in proof/repaired."),
    ] = False,
    shop: ShopOption = HERE,
    as_json: JsonOption = False,
) -> ExitCode:
    """Judge every design on every blank and colour, and write the proof sheet.

    The sheet (proof/proof-sheet.html and .pdf in the shop folder) shows the worst first, in pictures. Nothing
    of yours is changed; a second run measures only what is new.

    Example:  hundredfold proof

    Example, one design in full:  hundredfold proof proud-beekeeper.png
    """
    from hundredfold.workshop.proof.alldesigns import Wishes, proof_run
    from hundredfold.workshop.records.shape import as_json as document
    from hundredfold.workshop.shop.bench import bench  # lazily: image libraries load slowly
    from hundredfold.workshop.shop.desk import Turn
    from hundredfold.workshop.views.designs import proofs_view

    wishes = Wishes(tuple(designs or ()), tuple(blanks or ()), bool(designs) or as_json, repair)
    try:
        with bench(shop, "proof", turn=Turn.RUN) as tools, ProgressDisplay(quiet=as_json) as watching:
            done = proof_run(tools, wishes, watching.stage, watching.progress)
    except ShopError as error:
        kept = proofs_view(shop, wishes.designs, wishes.blanks) if error.slug == "shop-in-use" else None
        if repair or kept is None or kept.as_of is None:
            raise
        return _tell_kept(kept, as_json)
    if as_json:
        print_json(document(done.view()))
    else:
        _show(done, in_full=bool(designs))
    return ExitCode.PROBLEMS if done.problems else ExitCode.DONE


def _tell_kept(kept: "ProofsView", as_json: bool) -> ExitCode:
    from hundredfold.workshop.records.shape import as_json as document

    if as_json:
        print_json(document(kept))
    else:
        _show_kept(kept)
    stopped = any(one.severity == "stop" for one in kept.findings)
    return ExitCode.PROBLEMS if stopped or any(not one.passed for one in kept.designs) else ExitCode.DONE


def _show_kept(kept: "ProofsView") -> None:
    """What was judged last, while another run works on the shop."""
    from hundredfold.workshop.records.shape import as_json as document
    from hundredfold.workshop.steps.packfiles import finding_from_json

    print_findings(finding_from_json(document(one)) for one in kept.findings)
    rows = [
        (one.design.rsplit("/", 1)[-1], str(one.passed), str(one.warned), str(one.stopped), one.worst)
        for one in kept.designs
    ]
    if rows:
        print_table(_HEADERS, rows, right="lrrr")
    if kept.as_of:
        say_folded(kept.as_of.note)


def _show(done: "ProofRun", in_full: bool) -> None:
    print_findings(done.findings)
    if in_full:
        for line in done.lines:
            _show_design(line)
    elif done.lines:
        rows = [_row(line) for line in done.lines]
        print_table(_HEADERS, rows, right="lrrr")
    pairs = counted(done.passed + done.stopped, "pair of design and colour", "pairs of design and colour")
    look = f" ({done.warned} of them after a look)" if done.warned else ""
    say(f"proofed {pairs}: {done.passed} to list{look}, {done.stopped} left out")
    for path in done.repaired:
        say(f"a repaired version is {path}; move it into designs to use it")
    say(f"the proof sheet is {done.sheets[0]}, and as PDF beside it")
    say(done.counts.line())


def _row(line: "DesignLine") -> tuple[str, ...]:
    name = line.design.rsplit("/", 1)[-1]
    return (name, str(line.passed), str(line.warned), str(line.stopped), line.worst)


def _show_design(line: "DesignLine") -> None:
    if line.proof is None:
        return
    rows = [
        (blank.blank.code, _colours(blank, best=True), _colours(blank, best=False), _barred(blank))
        for blank in line.proof.blanks
    ]
    headers = ("blank", "best", "also", "left out")
    print_table(headers, rows, title=line.proof.design.path)
    for one in line.told:
        say_folded(f"{one.finding.severity.word}: {one.sentence()}", f"  try: {one.finding.fix}")
    for told in line.advice:
        say(f"repair: {told.words}")


def _colours(blank: "BlankProof", best: bool) -> str:
    chosen = [one.colour.name for one in blank.colours if one.best is best and not one.stopped]
    return ", ".join(chosen) if blank.listable else ""


def _barred(blank: "BlankProof") -> str:
    if not blank.listable and not all(one.stopped for one in blank.colours):
        return "all"
    return ", ".join(one.colour.name for one in blank.colours if one.stopped)
