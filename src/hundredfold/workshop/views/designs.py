"""The designs of a shop with their proofs, as they were judged last."""

from collections.abc import Collection, Iterator
from dataclasses import replace
from pathlib import Path, PurePosixPath

from hundredfold.kernel.errors import ShopError
from hundredfold.ledger.keys import ListingKey
from hundredfold.ledger.state import LedgerState, Standing
from hundredfold.workshop.records.proofs import ProofRecord, ProofSums, ProofsView
from hundredfold.workshop.records.state import DesignRecord, DesignsView, DesignView, ListingRecord
from hundredfold.workshop.steps.identity import known_designs
from hundredfold.workshop.steps.items import is_of
from hundredfold.workshop.steps.kept import PLAN, PROOFS
from hundredfold.workshop.views.looking import Glance, look_at


def proofs_view(folder: Path, designs: Collection[str] = (), blanks: Collection[str] = ()) -> ProofsView:
    """The kept proofs of all designs and blanks, or of those named; ``as_of`` says how old they are.

    Raises ShopError ``unknown-design`` for a name without a kept proof.
    """
    look = look_at(folder)
    found = look.kept(ProofSums, PROOFS)
    sums = found[0] if found else ProofSums((), (), {}, ())
    whole = {one.design: one for one in look.proofs()}
    paths = {path for name in designs for path in _named(name, whole)} if designs else set(whole)
    proofs = [replace(whole[p], repairs=sums.repairs.get(p, ())) for p in sorted(paths)]
    if blanks:
        proofs = [_only(one, blanks) for one in proofs]
    passed, stopped = sum(one.passed for one in proofs), sum(one.stopped for one in proofs)
    rows = [row for name, row in look.moment.kept.items() if name in (PROOFS, PLAN)]
    return ProofsView(
        passed + stopped,
        passed,
        sum(one.warned for one in proofs),
        stopped,
        sums.sheets,
        sums.repaired,
        tuple(proofs),
        sums.findings,
        look.as_of(max(rows, key=lambda row: row.at)) if rows else None,
    )


def designs_view(folder: Path) -> DesignsView:
    """All designs that are there or were once seen, by path."""
    return DesignsView(tuple(sorted(_lines(look_at(folder)), key=lambda one: one.path)))


def design_view(folder: Path, name: str) -> DesignView:
    """One design by id, path, file name or name without its ending. Raises ShopError ``unknown-design``."""
    look = look_at(folder)
    lines = {one.path: one for one in _lines(look)}
    path = _named(name, lines)[0]
    line = lines[path]
    failures = (row.sentence for row in look.moment.failures if is_of(row.item, path))
    return DesignView(
        line,
        next((one for one in look.proofs() if one.design == path), None),
        tuple(listings_of(look.state, line.id)),
        tuple(dict.fromkeys(failures)),
    )


def _lines(look: Glance) -> Iterator[DesignRecord]:
    proofs = {one.design: one for one in look.proofs()}
    state = look.state
    live: dict[str, int] = {}
    for key, listed in state.listed.items():
        live[key.design] = live.get(key.design, 0) + (listed.standing is Standing.LIVE)
    planned: dict[str, int] = {}
    for key in state.planned:
        planned[key.design] = planned.get(key.design, 0) + 1
    for design in known_designs(look.moment.events).values():
        proof = proofs.get(design.path)
        yield DesignRecord(
            design.id,
            design.path,
            proof.title if proof else PurePosixPath(design.path).stem,
            *((proof.passed, proof.warned, proof.stopped, proof.worst) if proof else (0, 0, 0, "")),
            live.get(design.id, 0),
            planned.get(design.id, 0),
            design.id in state.retired,
        )


def listings_of(state: LedgerState, design: str) -> Iterator[ListingRecord]:
    """A design's listings, as the ledger has them."""
    keys = {key for key in (*state.listed, *state.planned, *state.by_listing) if key.design == design}
    for key in sorted(keys):
        yield _listing(state, key)


def _listing(state: LedgerState, key: ListingKey) -> ListingRecord:
    listed, planned = state.listed.get(key), state.planned.get(key)
    return ListingRecord(
        str(key),
        key.channel,
        key.blank,
        listed.standing.value if listed else "",
        planned.day if planned else "",
        tuple(sku for _, sku in state.skus_of(key)),
        listed.why if listed else "",
    )


def _named(name: str, known: Collection[str]) -> list[str]:
    wanted = Path(name).as_posix()
    found = [p for p in known if wanted in (p, PurePosixPath(p).name, PurePosixPath(p).stem)]
    if not found:
        fix = "give its file name as it stands in the designs folder"
        raise ShopError("unknown-design", f'nothing is kept of a design called "{name}"', fix)
    return sorted(found)


def _only(proof: ProofRecord, blanks: Collection[str]) -> ProofRecord:
    """The proof on these blanks alone, counted again."""
    kept = tuple(one for one in proof.blanks if one.blank in blanks)
    colours = [(blank, one) for blank in kept for one in blank.colours]
    passed = sum(not one.stopped for _, one in colours)
    warned = sum(
        "warn" in {f.severity for f in (*proof.findings, *blank.findings, *one.findings)}
        for blank, one in colours
        if not one.stopped
    )
    return replace(proof, blanks=kept, passed=passed, warned=warned, stopped=len(colours) - passed)
