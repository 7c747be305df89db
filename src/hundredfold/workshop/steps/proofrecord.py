"""The proof of a design as the record that is kept and shown."""

from hundredfold.catalogue.blanks import Blank
from hundredfold.kernel.findings import Severity, worst
from hundredfold.proofing.designproof import BlankProof, ColourProof, DesignProof
from hundredfold.proofing.grouping import GroupedFinding, grouped_findings
from hundredfold.workshop.records.common import finding_records
from hundredfold.workshop.records.proofs import (
    BlankRecord,
    ColourRecord,
    PlaceRecord,
    ProofRecord,
    ToldRecord,
)


def proof_record(proof: DesignProof, blanks: tuple[Blank, ...]) -> ProofRecord:
    """A design's proof on these blanks, counted and told."""
    passed, warned, stopped = counts_of(proof, blanks)
    told = grouped_findings(proof)
    return ProofRecord(
        proof.design.path,
        proof.design.id,
        proof.design.title,
        passed,
        warned,
        stopped,
        worst_of(told),
        tuple(map(_told, told)),
        finding_records(proof.findings),
        tuple(map(_blank, proof.blanks)),
    )


def counts_of(proof: DesignProof, blanks: tuple[Blank, ...]) -> tuple[int, int, int]:
    """How many of a design's colours pass, want a look (those pass too), are stopped."""
    listable = [
        (blank, one) for blank in proof.blanks for one in blank.colours if _passes(blank, one.stopped)
    ]
    warned = sum(
        worst((*proof.findings, *blank.findings, *one.findings)) is Severity.WARN for blank, one in listable
    )
    total = sum(len({v.colour for v in blank.offered()}) for blank in blanks)
    return len(listable), warned, total - len(listable)


def worst_of(told: tuple[GroupedFinding, ...]) -> str:
    """The worst thing to know in a sentence; empty where nothing is wrong."""
    return told[0].sentence(most=2) if told and told[0].finding.severity > Severity.NOTE else ""


def _passes(blank: BlankProof, stopped: bool) -> bool:
    return not stopped and worst(blank.findings) is not Severity.STOP


def _told(one: GroupedFinding) -> ToldRecord:
    where = tuple(PlaceRecord(place.blank, place.colours) for place in one.places)
    found = one.finding
    return ToldRecord(
        found.check, found.code, found.severity.word, one.count, one.sentence(), found.fix, where
    )


def _blank(proof: BlankProof) -> BlankRecord:
    stopped = not proof.listable
    colours = tuple(_colour(one, stopped) for one in proof.colours)
    return BlankRecord(
        proof.blank.code, proof.blank.name, proof.art_px, finding_records(proof.findings), colours
    )


def _colour(one: ColourProof, all_stopped: bool) -> ColourRecord:
    return ColourRecord(
        one.colour.code,
        one.colour.name,
        one.score,
        one.best,
        one.stopped or all_stopped,
        one.chance,
        finding_records(one.findings),
    )
