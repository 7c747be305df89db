"""Judgements remembered: where a design may be listed, worked out once for the same facts, blanks and limits.

A price, a title or another channel asks for none again. Workers judge, a handful of designs at a time.
"""

import hashlib
import json
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import asdict, replace
from decimal import Decimal

from hundredfold.catalogue.blanks import Blank
from hundredfold.designs.design import Design
from hundredfold.kernel.money import Money
from hundredfold.proofing.designproof import NOT_WEIGHED, Asked, PrintSizes
from hundredfold.runner.recipes import canonical_json, in_short, plain
from hundredfold.runner.running import Runner, Watching
from hundredfold.runner.tasks import Outcome
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
                {**params, "smallest type": design.smallest_type, "kept": KEPT, **_weighed(known)},
                Case(design, known, blanks, asked),
            )
        )
    outcome = runner.run(tasks, make, Watching(progress=told))
    proofs: list[Proof] = []
    for design in gathered.designs:
        output = outcome.output(design.path, JUDGED.name)
        data = bench.vault.get(output.digest) if output else None
        if data is not None:
            proofs += _proofs(design, blanks, data)
    return tuple(proofs), outcome


def _proofs(design: Design, blanks: Sequence[Blank], data: bytes) -> Iterator[Proof]:
    found = json.loads(data)
    for blank in blanks:
        if blank.code in found:
            colours, best, scores = found[blank.code]
            yield Proof(design, blank, layouts_of(design, blank), tuple(colours), tuple(best), scores)
        else:
            yield Proof(design, blank, {})


def _params(blanks: Sequence[Blank], asked: Asked) -> dict[str, object]:
    """What judging goes by beside the design; of each blank all but its price and words."""
    profile = asked.profile
    severities = {f"{check}:{code}": one[0].word for (check, code), one in profile.severities.items()}
    return {
        "blanks": {blank.code: in_short(plain(_as_judged(blank))) for blank in blanks},
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


def _as_judged(blank: Blank) -> Blank:
    free = Money(Decimal(0), blank.postage.currency)
    variants = tuple(replace(variant, base_cost=free, partner_code="") for variant in blank.variants)
    return replace(blank, variants=variants, postage=free, name="", words=(), note="")
