"""The proof of a design, and of all of them, as records."""

from dataclasses import dataclass
from typing import Annotated

from pydantic import Field

from hundredfold.workshop.records.common import AsOf, FindingRecord


@dataclass(frozen=True)
class ColourRecord:
    """A design on one colour of a blank."""

    colour: str
    name: str
    score: float
    best: bool
    stopped: bool
    chance_read: float | None
    findings: tuple[FindingRecord, ...]


@dataclass(frozen=True)
class BlankRecord:
    """A design on one blank, colours best first."""

    blank: str
    name: str
    art_px: int
    findings: tuple[FindingRecord, ...]
    colours: tuple[ColourRecord, ...]


@dataclass(frozen=True)
class PlaceRecord:
    """A blank, and its colours that something holds for."""

    blank: str
    colours: tuple[str, ...]


@dataclass(frozen=True)
class ToldRecord:
    """One thing to know of a design: the sentence, how many findings say it, and where."""

    check: str
    code: str
    severity: str
    findings: int
    sentence: str
    fix: Annotated[str, Field(alias="try")]
    where: tuple[PlaceRecord, ...]


@dataclass(frozen=True)
class ProofRecord:
    """One design on every blank. ``passed``, ``warned`` and ``stopped`` count its colours."""

    design: str  # path
    id: str
    title: str
    passed: int
    warned: int
    stopped: int
    worst: str
    told: tuple[ToldRecord, ...]
    findings: tuple[FindingRecord, ...]
    blanks: tuple[BlankRecord, ...]
    repairs: tuple[str, ...] = ()


@dataclass(frozen=True)
class ProofSums:
    """What a run of proofing came to, beside the proofs themselves. ``repairs`` are by design, in words."""

    sheets: tuple[str, ...]
    repaired: tuple[str, ...]
    repairs: dict[str, tuple[str, ...]]
    findings: tuple[FindingRecord, ...]


@dataclass(frozen=True)
class ProofsView:
    """All proofs of a shop as they were judged last."""

    pairs: int
    passed: int
    warned: int
    stopped: int
    sheets: tuple[str, ...]
    repaired: tuple[str, ...]
    designs: tuple[ProofRecord, ...]
    findings: tuple[FindingRecord, ...]
    as_of: AsOf | None = None  # None: just now
