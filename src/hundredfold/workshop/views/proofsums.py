"""Each design's proof in short, by the digest of the whole: a wall asks for all of them.

The whole proofs of thousands of designs would fill the memory, and reading them anew the time, of every look.
So the short ones are kept in memory, and in one file of the cache for the next start.
"""

import contextlib
from collections.abc import Iterator
from dataclasses import dataclass, fields
from pathlib import Path

from hundredfold.kernel.errors import ShopError
from hundredfold.runner.atomic import write_whole
from hundredfold.workshop.records.proofs import ProofRecord
from hundredfold.workshop.records.shape import as_bytes, from_bytes
from hundredfold.workshop.steps.fromfacts import record_of
from hundredfold.workshop.views.looking import Glance

FILE = "page-proofs.json"
_HELD = 20_000
_WORTH_KEEPING = 50  # proofs read anew, at a millisecond each


@dataclass(frozen=True)
class Spot:
    """A thing to know of a design, with one place where it can be seen; "" where it is the art itself."""

    severity: str
    check: str
    sentence: str
    fix: str
    blank: str
    colour: str
    places: int  # colours that it holds for


@dataclass(frozen=True)
class ProofSum:
    """A proof in short. ``best`` is a blank and colour to show the design on."""

    design: str  # path
    id: str
    title: str
    passed: int
    warned: int
    stopped: int
    spots: tuple[Spot, ...]
    best: tuple[str, str]
    sheets: tuple["SheetSum", ...]


@dataclass(frozen=True)
class SheetSum:
    """A design on one blank: its colours counted, one that shows the worst, a sign that like sheets share.

    ``curable`` says that something stops a colour which other art might mend.
    """

    blank: str
    passed: int
    warned: int
    stopped: int
    colour: str
    sign: str
    curable: bool


_sums: dict[str, ProofSum] = {}
_read: set[Path] = set()  # caches whose file was read by this process


def proof_sums(look: Glance) -> Iterator[ProofSum]:
    """The newest proof of every design whose file is there, by path."""
    file = look.vault.root / FILE
    if file not in _read:
        _read.add(file)
        _sums.update(_kept(file))
    fresh = 0
    for row in look.present:
        held = _sums.get(row.output)
        if held is None:
            held = _sum_at(look, row.output)
            if held is None:
                continue
            fresh += 1
            if len(_sums) >= _HELD:
                _sums.clear()
            _sums[row.output] = held
        yield held
    if fresh >= _WORTH_KEEPING:
        _keep(file, {row.output: _sums[row.output] for row in look.present if row.output in _sums})


def _sum_at(look: Glance, digest: str) -> ProofSum | None:
    data = look.vault.get(digest)
    try:
        return sum_of(record_of(data)) if data is not None else None
    except ValueError:  # kept by an older version: the next run judges it again
        return None


@dataclass(frozen=True)
class _File:
    """What stands in the file. ``shape`` tells how these records looked when it was written."""

    shape: str
    sums: dict[str, ProofSum]


def _shape() -> str:
    kinds = (ProofSum, SheetSum, Spot)
    return " ".join(f"{kind.__name__}:{','.join(one.name for one in fields(kind))}" for kind in kinds)


def _kept(file: Path) -> dict[str, ProofSum]:
    """What an earlier start left; nothing where it is of another version, or cut short."""
    try:
        found = from_bytes(_File, file.read_bytes())
    except (OSError, ValueError):
        return {}
    return found.sums if found.shape == _shape() else {}


def _keep(file: Path, sums: dict[str, ProofSum]) -> None:
    with contextlib.suppress(ShopError):  # a full disk stops no look
        write_whole(file, as_bytes(_File(_shape(), sums)), durable=False)


def proof_at(look: Glance, path: str) -> ProofRecord | None:
    """The whole newest proof of one design; None where there is none."""
    for row in look.moment.outputs:
        if row.item == path:
            data = look.vault.get(row.output)
            try:
                return record_of(data) if data is not None else None
            except ValueError:
                return None
    return None


def sum_of(proof: ProofRecord) -> ProofSum:
    """A proof in short."""
    best = next(((b.blank, c.colour) for b in proof.blanks for c in b.colours if not c.stopped), ("", ""))
    return ProofSum(
        proof.design,
        proof.id,
        proof.title,
        proof.passed,
        proof.warned,
        proof.stopped,
        tuple(_spots(proof)),
        best,
        tuple(_sheets(proof)),
    )


def _spots(proof: ProofRecord) -> Iterator[Spot]:
    for told in proof.told:
        if told.severity == "note":
            continue
        blank, colour = _seen_at(proof, told.check, told.code) or ("", "")
        yield Spot(told.severity, told.check, in_short(told.sentence), told.fix, blank, colour, told.findings)


def in_short(sentence: str) -> str:
    """A sentence with the first of its places alone: the proof sheets say the rest."""
    short = sentence.partition("; also on ")[0]
    head, colon, places = short.partition(": ")
    named = places.rstrip(".").split("; ")
    if colon and len(places) > 60:
        short = f"{head}: {named[0]}" + (f" and {len(named) - 1} more" if len(named) > 1 else "")
    return short.rstrip(".") + "."


def _seen_at(proof: ProofRecord, check: str, code: str) -> tuple[str, str] | None:
    """The last colour that has this finding, the worst as they are ranked; else a blank that has it."""
    for blank in proof.blanks:
        for one in reversed(blank.colours):
            if any((f.check, f.code) == (check, code) for f in one.findings):
                return blank.blank, one.colour
    for blank in proof.blanks:
        if blank.colours and any((f.check, f.code) == (check, code) for f in blank.findings):
            return blank.blank, blank.colours[0].colour
    return None


def _sheets(proof: ProofRecord) -> Iterator[SheetSum]:
    for blank in proof.blanks:
        stopped = sum(one.stopped for one in blank.colours)
        warned = sum(
            not one.stopped and any(f.severity == "warn" for f in one.findings) for one in blank.colours
        )
        bad = [one for one in blank.colours if one.stopped or any(f.severity == "warn" for f in one.findings)]
        shown = (bad or list(blank.colours))[-1:]
        signs = sorted({f"{f.check}:{f.code}" for one in bad for f in one.findings if f.severity != "note"})
        barred = any(f.severity == "stop" for f in blank.findings)
        yield SheetSum(
            blank.blank,
            len(blank.colours) - stopped,
            warned,
            stopped,
            shown[0].colour if shown else "",
            " ".join(signs),
            bool(stopped) and not barred,
        )
