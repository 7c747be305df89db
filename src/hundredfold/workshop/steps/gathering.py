"""From the designs folder to designs: who each file is, and what was measured on it."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from hundredfold.designs.alike import exact_twins, near_twins
from hundredfold.designs.design import Design
from hundredfold.designs.measure import facts_from_json
from hundredfold.kernel.findings import Finding
from hundredfold.ledger.events import Happened
from hundredfold.runner.running import Runner, Watching
from hundredfold.runner.tasks import Counts, Outcome, Task
from hundredfold.workshop.listing.choices import allowed_designs
from hundredfold.workshop.shop.bench import Bench
from hundredfold.workshop.shop.checks import COPY, LOOK_ALIKE
from hundredfold.workshop.shop.madelist import Made, all_made, described
from hundredfold.workshop.shop.naming import DesignNames, shop_names
from hundredfold.workshop.shop.ownplates import paths_of
from hundredfold.workshop.steps.allsteps import MEASURE, PROOF_FACTS, SMALL_ART, make
from hundredfold.workshop.steps.artfiles import art_digests, art_files, unusable
from hundredfold.workshop.steps.artwork import ArtWanted
from hundredfold.workshop.steps.identity import KnownDesign, gone_designs, identify, known_designs
from hundredfold.workshop.steps.placed import nudges_of, placed_designs

Progress = Callable[[int, int], None]
MEND = "mend or replace the file"


@dataclass(frozen=True)
class Gathered:
    """The designs of a run, sorted by path; what could not be used is in the findings."""

    designs: tuple[Design, ...]
    files: Mapping[str, str]  # design id -> absolute path of its art
    facts: Mapping[str, str]  # design id -> digest in the vault of its facts
    deep: Mapping[str, str]  # design id -> digest in the vault of what proofing measured
    small: Mapping[str, str]  # design id -> digest in the vault of the small copy
    gone: Mapping[str, KnownDesign]  # designs seen once whose file is missing now, by id
    findings: tuple[Finding, ...]
    counts: Counts


def gather(bench: Bench, runner: Runner, progress: Progress | None = None) -> Gathered:
    """All designs with their facts. New names and new art are noted in the ledger at once."""
    files, findings = art_files(bench.shop.files)
    digests, unreadable = art_digests(bench, files)
    known = known_designs(bench.store.events(kinds={Happened.DESIGN_SEEN}))
    who = identify(digests, known)
    bench.store.append(who.news)
    tasks = [task for path in sorted(who.ids) for task in facts_tasks(path, digests[path])]
    runner.knows({digests[path]: files[path] for path in who.ids})
    for blank in bench.shop.blanks:
        runner.knows(paths_of(bench.shop.paths.plates, blank))
    outcome = runner.run(tasks, make, Watching(progress=progress))
    made, unread = all_made(bench.shop.files)
    described = _designs(bench, shop_names(bench.shop), who.ids, outcome, made)
    designs = allowed_designs(placed_designs(described, nudges_of(bench.store)), bench.store)
    # One file fails in both its measurings for one reason: say it once.
    reasons = {failed.item: failed.why for failed in outcome.failures}
    failed = [unusable(path, why.what, why.fix or MEND) for path, why in reasons.items()]
    copies = [_copy(path, used) for path, used in sorted(who.copies.items())]
    return Gathered(
        designs,
        {design.id: str(files[design.path]) for design in designs},
        _outputs(designs, outcome, MEASURE.name),
        _outputs(designs, outcome, PROOF_FACTS.name),
        _outputs(designs, outcome, SMALL_ART.name),
        gone_designs(known, who.ids, files),
        (*findings, *unreadable, *unread, *failed, *copies, *same_pixels(designs), *_twins(designs, made)),
        outcome.counts,
    )


def _outputs(designs: Sequence[Design], outcome: Outcome, step: str) -> dict[str, str]:
    """By design id, the digest of what this step made."""
    found = {design.id: outcome.output(design.path, step) for design in designs}
    return {key: output.digest for key, output in found.items() if output is not None}


def facts_tasks(path: str, digest: str) -> tuple[Task, ...]:
    """What every design is measured for, in one group, so that its art is decoded once."""
    inputs, wanted = {"design art": digest}, ArtWanted(path)
    return tuple(step.task(path, path, inputs, wanted=wanted) for step in (MEASURE, PROOF_FACTS, SMALL_ART))


def _designs(
    bench: Bench, names: DesignNames, ids: Mapping[str, str], outcome: Outcome, made: Mapping[str, Made]
) -> tuple[Design, ...]:
    designs = []
    for path in sorted(ids):
        output = outcome.output(path, MEASURE.name)
        data = bench.vault.get(output.digest) if output else None
        if data is not None:
            row = made.get(path.partition("/")[2])
            facts = facts_from_json(data)
            if row is None:
                designs.append(names.named(ids[path], path, facts))
            else:
                design = Design.named_by_file(ids[path], path, facts)
                designs.append(names.over(described(design, row)))
    return tuple(designs)


def _copy(path: str, used: str) -> Finding:
    return COPY.finds(
        "same-art",
        path,
        f"it is the same art as {used}, which is used in its place",
        "delete one of them, or change the art",
    )


def same_pixels(designs: Sequence[Design]) -> list[Finding]:
    """A finding of each file whose picture is in an earlier file already: saved again, in another format."""
    groups = [[designs[n].path for n in group] for group in exact_twins(one.facts for one in designs)]
    return [
        COPY.finds(
            "same-pixels",
            path,
            f"it is the same picture as {first}, saved in another file, so both would be listed",
            "delete one of them",
        )
        for first, *others in groups
        for path in others
    ]


def _twins(designs: Sequence[Design], made: Mapping[str, Made]) -> list[Finding]:
    def layout(design: Design) -> str:
        row = made.get(design.path.partition("/")[2])
        return row.layout if row is not None else ""

    twins = near_twins([design.facts for design in designs])
    return [
        LOOK_ALIKE.finds(
            "near-twin",
            designs[pair.second].path,
            f"it looks almost the same as {designs[pair.first].path}",
            "list only one of them if buyers could not tell them apart",
            {"differing_bits": pair.bits},
        )
        for pair in twins
        # Rows of one layout look alike by intent.
        if not layout(designs[pair.first]) or layout(designs[pair.first]) != layout(designs[pair.second])
    ]
