"""What is worked out from facts that were measured before, without the art: readings, judgements, repairs.

Runs in a worker process.
"""

import zlib
from collections.abc import Sequence
from dataclasses import dataclass

from hundredfold.catalogue.blanks import Blank
from hundredfold.designs.design import Design
from hundredfold.kernel.colour import Srgb
from hundredfold.proofing.art.packing import unpack, unpack_art
from hundredfold.proofing.designproof import Asked, DesignProof, PrintSizes, prove
from hundredfold.proofing.readings import Look, chances_as_json, chances_from_json, read_looks
from hundredfold.proofing.repair.advice import advice_as_json, advice_of
from hundredfold.proofing.repair.search import Rules, least_repair
from hundredfold.runner.inputs import Inputs
from hundredfold.runner.recipes import canonical_json
from hundredfold.runner.tasks import WorkPart
from hundredfold.workshop.listing.offers import short_proofs
from hundredfold.workshop.records.proofs import ProofRecord
from hundredfold.workshop.records.shape import as_bytes, from_bytes
from hundredfold.workshop.steps.proofrecord import proof_record
from hundredfold.workshop.steps.readingtrees import reading_trees

KEPT = [
    "colours",
    "best",
    "scores",
    "overruled",
    "proof",
]  # of a judgement, by blank; "proof" is all of it


@dataclass(frozen=True)
class LooksWanted:
    """The looks to read a design's words in."""

    looks: tuple[Look, ...]


@dataclass(frozen=True)
class RepairWanted:
    """A design's inks, the looks that a repair must serve, the seller's rules."""

    inks: tuple[Srgb, ...]
    looks: tuple[Look, ...]
    rules: Rules


@dataclass(frozen=True)
class Case:
    """A design to judge on the blanks. Cases of one call share blanks and limits, so these travel once."""

    design: Design
    sizes: PrintSizes
    blanks: tuple[Blank, ...]
    asked: Asked


def read_words(parts: Sequence[WorkPart], inputs: Inputs) -> list[bytes]:
    """The chances of each design's looks, packed."""
    made = []
    for part in parts:
        facts = unpack(inputs.get(part.inputs["proof facts"]), reading_trees())
        made.append(chances_as_json(read_looks(facts, part.wanted_as(LooksWanted).looks)))
    return made


def find_repairs(parts: Sequence[WorkPart], inputs: Inputs) -> list[bytes]:
    """The advice for each design on one kind of ink, packed."""
    made = []
    for part in parts:
        wanted = part.wanted_as(RepairWanted)
        words = unpack(inputs.get(part.inputs["proof facts"]), reading_trees()).words
        found = least_repair(words, wanted.inks, wanted.looks, wanted.rules)
        made.append(advice_as_json(advice_of(found, wanted.looks)))
    return made


def judge_cases(parts: Sequence[WorkPart], inputs: Inputs) -> list[bytes]:
    """For each design what is ``KEPT``, see ``judged_bytes``."""
    return [_judged(part.wanted_as(Case), part, inputs) for part in parts]


def _judged(case: Case, part: WorkPart, inputs: Inputs) -> bytes:
    deep, read = part.inputs.get("proof facts"), part.inputs.get("readings")
    art = unpack_art(inputs.get(deep)) if deep else None
    chances = chances_from_json(inputs.get(read)) if read else {}
    proof = prove(case.design, art, case.blanks, case.asked, chances, case.sizes)
    return judged_bytes(proof, case.blanks)


def judged_bytes(proof: DesignProof, blanks: tuple[Blank, ...]) -> bytes:
    """One line of JSON with what listing needs, then the whole proof as its record."""
    judged = [one for one in short_proofs(proof, blanks) if one.colours]
    found = {one.blank.code: [one.colours, one.best, dict(one.scores), one.overruled] for one in judged}
    return canonical_json(found).encode() + b"\n" + zlib.compress(as_bytes(proof_record(proof, blanks)))


def record_of(data: bytes) -> ProofRecord:
    """The whole proof of what ``judged_bytes`` gave. Raises ValueError for an older shape."""
    _, _, whole = data.partition(b"\n")
    try:
        return from_bytes(ProofRecord, zlib.decompress(whole))
    except zlib.error as error:
        raise ValueError(str(error)) from error
