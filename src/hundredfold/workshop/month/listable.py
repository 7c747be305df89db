"""Judgements remembered: where a design may be listed, worked out once for the same facts, blanks and limits.

A price, a title or another channel asks for none again. Workers judge, a handful of designs at a time.
"""

import hashlib
import json
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import asdict, dataclass, replace
from decimal import Decimal
from pathlib import Path

from hundredfold.catalogue.blanks import Blank
from hundredfold.designs.design import Design
from hundredfold.kernel.money import Money
from hundredfold.proofing.art.packing import unpack_art
from hundredfold.proofing.checks.every import CHECKS_VERSION
from hundredfold.proofing.designproof import NOT_WEIGHED, Asked, PrintSizes, prove
from hundredfold.proofing.readings import chances_from_json
from hundredfold.runner.recipes import Recipe, canonical_json
from hundredfold.runner.running import Runner, Watching
from hundredfold.runner.tasks import Outcome, Task
from hundredfold.workshop.listing.offers import Proof, layouts_of, short_proofs
from hundredfold.workshop.shop.bench import Bench
from hundredfold.workshop.steps.gathering import Gathered, Progress
from hundredfold.workshop.steps.versions import engines

STEP = "judged"
KEPT = ["colours", "best", "scores"]  # of each blank
TOGETHER = 16  # designs in one call: the blanks and limits are handed over once


@dataclass(frozen=True)
class Case:
    """A design to judge, and the cached facts it is judged by; "" where there are none."""

    design: Design
    facts_file: str
    chances_file: str
    sizes: PrintSizes


@dataclass(frozen=True)
class JudgeWork:
    """What a worker judges."""

    cases: tuple[Case, ...]
    blanks: tuple[Blank, ...]
    asked: Asked


def judge_all(
    bench: Bench,
    runner: Runner,
    gathered: Gathered,
    readings: Mapping[str, str],
    sizes: Mapping[str, PrintSizes],
    blanks: tuple[Blank, ...],
    asked: Asked,
    told: Progress,
) -> tuple[tuple[Proof, ...], Outcome]:
    """Every design on every blank. A design that could not be judged has no proof; the outcome says why."""
    params = _params(blanks, asked)
    tasks = []
    for place, design in enumerate(gathered.designs):
        known = dict(sizes.get(design.id, NOT_WEIGHED))  # a plain one: workers get it pickled
        deep, read = gathered.deep.get(design.id, ""), readings.get(design.id, "")
        inputs = {"facts": gathered.facts[design.id], "proof facts": deep, "readings": read}
        recipe = Recipe(
            STEP,
            CHECKS_VERSION,
            {name: engines()[name] for name in ("numpy", "pillow")},
            {**params, "smallest type": design.smallest_type, "kept": KEPT, **_weighed(known)},
            {name: digest for name, digest in inputs.items() if digest},
        )
        files = [str(bench.vault.path_of(digest)) if digest else "" for digest in (deep, read)]
        tasks.append(
            Task(design.path, recipe, f"judging {place // TOGETHER}", Case(design, files[0], files[1], known))
        )
    outcome = runner.run(
        tasks, judge_cases, lambda group: JudgeWork(_cases(group), blanks, asked), Watching(progress=told)
    )
    proofs: list[Proof] = []
    for design in gathered.designs:
        output = outcome.output(design.path, STEP)
        data = bench.vault.get(output.digest) if output else None
        if data is not None:
            proofs += _proofs(design, blanks, data)
    return tuple(proofs), outcome


def judge_cases(work: JudgeWork) -> tuple[bytes, ...]:
    """For each design, by blank, what is ``KEPT``, as JSON. Runs in a worker."""
    return tuple(_judged(case, work.blanks, work.asked) for case in work.cases)


def _judged(case: Case, blanks: tuple[Blank, ...], asked: Asked) -> bytes:
    art = unpack_art(Path(case.facts_file).read_bytes()) if case.facts_file else None
    chances = chances_from_json(Path(case.chances_file).read_bytes()) if case.chances_file else {}
    proof = prove(case.design, art, blanks, asked, chances, case.sizes)
    judged = [one for one in short_proofs(proof, blanks) if one.colours]
    found = {one.blank.code: [one.colours, one.best, dict(one.scores)] for one in judged}
    return canonical_json(found).encode()


def _proofs(design: Design, blanks: Sequence[Blank], data: bytes) -> Iterator[Proof]:
    found = json.loads(data)
    for blank in blanks:
        if blank.code in found:
            colours, best, scores = found[blank.code]
            yield Proof(design, blank, layouts_of(design, blank), tuple(colours), tuple(best), scores)
        else:
            yield Proof(design, blank, {})


def _cases(group: Sequence[Task]) -> tuple[Case, ...]:
    return tuple(task.wanted for task in group if isinstance(task.wanted, Case))


def _params(blanks: Sequence[Blank], asked: Asked) -> dict[str, object]:
    """What judging goes by beside the design; for each blank one digest of all but its price and words."""
    profile = asked.profile
    severities = {f"{check}:{code}": one[0].word for (check, code), one in profile.severities.items()}
    return {
        "blanks": {blank.code: _digest(_as_judged(blank)) for blank in blanks},
        "limits": asdict(profile.limits),
        "severities": severities,
        "checks off": sorted(profile.off),
        "thumbnail px": asked.thumbnail_px,
        "main pictures": hashlib.sha256(repr(sorted(asked.sights.items(), key=repr)).encode()).hexdigest()[
            :16
        ],
        "colours to mark": asked.best,
        "printer": hashlib.sha256(asked.printer.icc).hexdigest()[:16] if asked.printer else "",
    }


def _weighed(sizes: PrintSizes) -> dict[str, object]:
    """Bytes of print files, for a recipe; nothing where none was weighed."""
    known = sorted(
        [code, area.name, area.width_px, area.height_px, size] for (code, area), size in sizes.items()
    )
    return {"print bytes": known} if known else {}


def _as_judged(blank: Blank) -> Blank:
    free = Money(Decimal(0), blank.postage.currency)
    variants = tuple(replace(variant, base_cost=free, partner_code="") for variant in blank.variants)
    return replace(blank, variants=variants, postage=free, name="", words=(), note="")


def _digest(blank: Blank) -> str:
    return hashlib.sha256(repr(blank).encode()).hexdigest()[:16]
