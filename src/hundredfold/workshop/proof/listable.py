"""Judgements remembered: where a design may be listed, worked out once for the same facts, blanks and limits.

A price, a title or another channel asks for none again. Workers judge, a handful of designs at a time.
"""

import hashlib
import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import asdict, replace
from decimal import Decimal

from hundredfold.catalogue.blanks import Blank
from hundredfold.designs.design import Design
from hundredfold.kernel.money import Money
from hundredfold.proofing.designproof import NOT_WEIGHED, Asked, PrintSizes
from hundredfold.runner.recipes import canonical_json, in_short, plain
from hundredfold.runner.rows import MadeRow
from hundredfold.runner.running import Runner, Watching
from hundredfold.runner.tasks import Outcome, Task
from hundredfold.workshop.listing.offers import Proof, layouts_of
from hundredfold.workshop.shop.bench import Bench
from hundredfold.workshop.steps.allsteps import JUDGED, make
from hundredfold.workshop.steps.fromfacts import KEPT, Case
from hundredfold.workshop.steps.gathering import Gathered, Progress

TOGETHER = 16  # designs in one call: the blanks and limits are handed over once


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
    tasks = judge_tasks(bench, gathered, readings, sizes, blanks, asked)
    outcome = runner.run(tasks, make, Watching(progress=told))
    proofs: list[Proof] = []
    for design in gathered.designs:
        output = outcome.output(design.path, JUDGED.name)
        data = bench.vault.get(output.digest) if output else None
        if data is not None:
            proofs += _proofs(design, blanks, data)
    return tuple(proofs), outcome


def judge_tasks(
    bench: Bench,
    gathered: Gathered,
    readings: Mapping[str, str],
    sizes: Mapping[str, PrintSizes],
    blanks: tuple[Blank, ...],
    asked: Asked,
) -> tuple[Task, ...]:
    """What judging each design asks for, in their order."""
    params = _params(blanks, asked)
    tasks = []
    for place, design in enumerate(gathered.designs):
        known = dict(sizes.get(design.id, NOT_WEIGHED))  # a plain one: workers get it pickled
        deep, read = gathered.deep.get(design.id, ""), readings.get(design.id, "")
        inputs = {"facts": gathered.facts[design.id], "proof facts": deep, "readings": read}
        tasks.append(
            JUDGED.task(
                design.path,
                f"judging {place // TOGETHER}",
                {name: digest for name, digest in inputs.items() if digest},
                {**params, "smallest type": design.smallest_type, "kept": KEPT}
                | _weighed(known)
                | _placed(design)
                | ({"allowed": sorted(map(list, design.allowed))} if design.allowed else {}),
                Case(design, known, blanks, asked),
            )
        )
    return tuple(tasks)


def not_yet_judged(bench: Bench, tasks: Iterable[Task]) -> frozenset[str]:
    """The paths of the designs whose judgement is not kept as it would come out now."""
    known = {(row.item, row.key): row for row in bench.store.builds.made() if row.step == JUDGED.name}
    return frozenset(
        task.item
        for task in tasks
        if (row := known.get((task.item, task.recipe.key()))) is None or not bench.vault.holds(row.output)
    )


def keep_judged(bench: Bench, tasks: Sequence[Task], judged: Mapping[str, bytes]) -> None:
    """Keep what was judged outside the runner (by a design's path), so that nobody judges it again."""
    bench.store.builds.touch(bench.run_number, [(t.item, JUDGED.name) for t in tasks if t.item not in judged])
    rows = []
    for task in tasks:
        if (data := judged.get(task.item)) is not None:
            recipe = task.recipe
            digest = bench.vault.put(data)
            rows.append(MadeRow(task.item, JUDGED.name, recipe.key(), digest, len(data), recipe.json()))
    bench.store.builds.save(bench.run_number, rows, ())


def _proofs(design: Design, blanks: Sequence[Blank], data: bytes) -> Iterator[Proof]:
    found = json.loads(data.partition(b"\n")[0])
    for blank in blanks:
        if blank.code in found:
            colours, best, scores, forced = found[blank.code]
            layouts = layouts_of(design, blank)
            yield Proof(design, blank, layouts, tuple(colours), tuple(best), scores, tuple(forced))
        else:
            yield Proof(design, blank, {})


def _params(blanks: Sequence[Blank], asked: Asked) -> dict[str, object]:
    """What judging goes by beside the design; of each blank all but its price and words."""
    profile = asked.profile
    severities = {f"{check}:{code}": one[0].word for (check, code), one in profile.severities.items()}
    return {
        "blanks": {blank.code: in_short(_as_judged(blank)) for blank in blanks},
        "limits": asdict(profile.limits),
        "severities": severities,
        "checks off": sorted(profile.off),
        "thumbnail px": asked.thumbnail_px,
        "main pictures": _sights(asked),
        "colours to mark": asked.best,
        "printer": hashlib.sha256(asked.printer.icc).hexdigest()[:16] if asked.printer else "",
    }


def _sights(asked: Asked) -> dict[str, dict[str, object]]:
    """What the main pictures show, by blank and print area; one name may stand for areas of several sizes."""
    seen: dict[str, dict[str, list[object]]] = {}
    for (code, area), sight in asked.sights.items():
        seen.setdefault(code, {}).setdefault(area.name, []).append([plain(area), plain(sight)])
    return {
        code: {name: in_short(sorted(shown, key=canonical_json), 0) for name, shown in areas.items()}
        for code, areas in seen.items()
    }


def _weighed(sizes: PrintSizes) -> dict[str, object]:
    """Bytes of print files, for a recipe; nothing where none was weighed."""
    known = sorted(
        [code, area.name, area.width_px, area.height_px, size] for (code, area), size in sizes.items()
    )
    return {"print bytes": known} if known else {}


def _placed(design: Design) -> dict[str, object]:
    """The design's own places, for a recipe; nothing where all are the usual ones."""
    return {"placed": {code: asdict(nudge) for code, nudge in design.nudges.items()}} if design.nudges else {}


def _as_judged(blank: Blank) -> object:
    free = Money(Decimal(0), blank.postage.currency)
    variants = tuple(replace(variant, base_cost=free, partner_code="") for variant in blank.variants)
    judged = plain(replace(blank, variants=variants, postage=free, name="", words=(), note=""))
    if blank.plate is None and isinstance(judged, dict):
        del judged["plate"]  # what has none is judged as before there were any
    return judged
