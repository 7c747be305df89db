"""What waits for the seller, worst first: each with where it can be seen and where it is settled."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from enum import StrEnum
from pathlib import PurePosixPath

from hundredfold.kernel.counting import counted
from hundredfold.ledger.choices import ChoiceKey
from hundredfold.workshop.records.common import FindingRecord
from hundredfold.workshop.records.proofs import ProofSums
from hundredfold.workshop.steps.kept import PROOFS
from hundredfold.workshop.views.looking import Glance
from hundredfold.workshop.views.proofsums import ProofSum, Spot, proof_sums

_MOSTLY = 0.5  # of a design's colours left out: then a person should know (our choice)


class SettledAt(StrEnum):
    """Where a thing is settled."""

    SHEET = "proof sheet"
    DESIGN = "design"
    PACKS = "packs"
    SHOP = "shop"


@dataclass(frozen=True)
class Waiting:
    """One thing. ``design`` (id), ``blank``, ``colour`` say what to show; "" where there is nothing to see.

    ``repair`` is a repair in words where one was found.
    """

    severity: str
    name: str
    sentence: str
    fix: str
    place: SettledAt
    design: str = ""
    blank: str = ""
    colour: str = ""
    share: float = 0.0  # of the design's colours that are stopped
    repair: str = ""


def waiting(look: Glance, findings: Iterable[FindingRecord]) -> tuple[Waiting, ...]:
    """All that waits: packs whose hand-over nobody saw end, designs to judge, and what else a run found."""
    sums = look.kept(ProofSums, PROOFS)
    repairs = sums[0].repairs if sums else {}
    proofs = list(proof_sums(look))
    found = [
        one
        for proof in proofs
        if not look.state.retired.get(proof.id) and not _settled(look, proof)
        for one in _of_design(proof, repairs.get(proof.design, ()))
    ]
    paths = {proof.design: proof.id for proof in proofs}
    found += _of_run(findings, paths)
    order = {"stop": 0, "warn": 1, "note": 2}
    return tuple(sorted(found, key=lambda one: (order[one.severity], -one.share, one.name)))


def _settled(look: Glance, proof: ProofSum) -> bool:
    """Whether the seller has judged every proof sheet of it that asked for a look."""
    asked = [sheet.blank for sheet in proof.sheets if sheet.warned or sheet.curable]
    choices = look.state.choices
    return ChoiceKey(proof.id) in choices or (
        bool(asked) and all(ChoiceKey(proof.id, blank) in choices for blank in asked)
    )


def _of_design(proof: ProofSum, repairs: tuple[str, ...]) -> Iterator[Waiting]:
    """Of each design the worst alone: the proof sheet says the rest."""
    share = proof.stopped / max(1, proof.stopped + proof.passed)
    stops = [spot for spot in proof.spots if spot.severity == "stop"]
    # Colours left out by themselves, while most go ahead, ask nobody for anything.
    spots = (
        stops if stops and (repairs or share > _MOSTLY) else [s for s in proof.spots if s.severity == "warn"]
    )
    if not spots:
        return
    spot: Spot = spots[0]
    place = SettledAt.SHEET if spot.blank else SettledAt.DESIGN
    yield Waiting(
        spot.severity,
        proof.title,
        spot.sentence,
        spot.fix,
        place,
        proof.id,
        spot.blank,
        spot.colour,
        share,
        repairs[0] if repairs else "",
    )


def _of_run(findings: Iterable[FindingRecord], paths: Mapping[str, str]) -> Iterator[Waiting]:
    """What else a run found; of many that say the same, the first with how many there are."""
    alike: dict[tuple[str, str, str], list[FindingRecord]] = {}
    for one in findings:
        if one.severity != "note" or one.check.startswith("shop/"):
            alike.setdefault((one.check, one.code, one.what), []).append(one)
    for first, *others in alike.values():
        path = first.item.partition(" on ")[0]
        design = paths.get(path, "")
        place = SettledAt.DESIGN if design else SettledAt.SHOP
        name = PurePosixPath(first.item).name if not others else f"{counted(len(others) + 1, 'thing')} alike"
        what = first.what if not others else f"{first.what}; the first is {first.item}"
        yield Waiting(first.severity, name, what, first.fix, place, design)
