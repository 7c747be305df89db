"""Designs that are to be sold no more: by a person's word, never because a file is not there.

A folder that was moved, or that a synced drive has not fetched yet, looks like deleted files. So a missing
file ends nothing; it is told, and `hundredfold retire` ends what is live.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path, PurePosixPath

from hundredfold.designs.design import Design
from hundredfold.designs.facts import DesignFacts
from hundredfold.kernel.counting import counted, some_of
from hundredfold.kernel.errors import ShopError
from hundredfold.kernel.findings import Finding
from hundredfold.kernel.nearest import did_you_mean
from hundredfold.ledger.events import Event, Happened
from hundredfold.ledger.keys import ListingKey
from hundredfold.ledger.state import LedgerState, Standing
from hundredfold.workshop.shop.bench import bench
from hundredfold.workshop.shop.checks import BLANK_GONE, GONE, RETIRED
from hundredfold.workshop.shop.folder import Shop
from hundredfold.workshop.steps.artfiles import art_digests, art_files
from hundredfold.workshop.steps.identity import KnownDesign, gone_designs, identify, known_designs

# More designs than these are told in one finding: most likely a folder was moved.
TOLD_SINGLY = 3


@dataclass(frozen=True)
class Retired:
    """A design that was retired just now, and how many of its listings the next month ends."""

    path: str
    live: int
    decision: int  # for undo


def retire(folder: Path, names: Sequence[str], gone: bool = False) -> tuple[Retired, ...]:
    """Note that these designs are sold no more, and with ``gone`` every live one whose file is missing.

    Names are paths, file names or names without their endings, of files that are there or once were. A
    design that is retired already is left as it is. Raises ShopError ``unknown-design``.
    """
    with bench(folder, "retire") as tools:
        state = tools.ledger()
        known = known_designs(tools.store.events(kinds={Happened.DESIGN_SEEN}))
        wanted = {design.id: design for name in names for design in named_designs(name, known)}
        live = live_of(state)
        if gone:
            files, _ = art_files(tools.shop.files)
            digests, _ = art_digests(tools, files)
            missing = gone_designs(known, identify(digests, known).ids, files)
            wanted |= {key: design for key, design in missing.items() if key in live}
        fresh = [design for key, design in sorted(wanted.items()) if key not in state.retired]
        rows = [Event(Happened.RETIRED, design.id, {"path": design.path}) for design in fresh]
        kept = tools.store.append(rows)
    return tuple(
        Retired(design.path, len(live.get(design.id, ())), event.decision)
        for design, event in zip(fresh, kept, strict=True)
    )


def live_of(state: LedgerState) -> dict[str, list[ListingKey]]:
    """The live listings of each design."""
    found: dict[str, list[ListingKey]] = {}
    for key, listed in state.listed.items():
        if listed.standing is Standing.LIVE:
            found.setdefault(key.design, []).append(key)
    return found


def missing_findings(shop: Shop, gone: Mapping[str, KnownDesign], state: LedgerState) -> Iterator[Finding]:
    """What is live and has lost its file: a design's, or a blank's."""
    live = live_of(state)
    lost = {one.path: len(live[key]) for key, one in gone.items() if key in live and key not in state.retired}
    if len(lost) <= TOLD_SINGLY:
        yield from (_gone(path, count) for path, count in sorted(lost.items()))
    else:
        yield _many_gone(sorted(lost), sum(lost.values()))
    blanks = {blank.code for blank in shop.blanks}
    bare: dict[str, int] = {}
    for keys in live.values():
        for key in keys:
            if key.blank not in blanks:
                bare[key.blank] = bare.get(key.blank, 0) + 1
    yield from (_no_blank(code, count) for code, count in sorted(bare.items()))


def retired_findings(designs: Iterable[Design], state: LedgerState) -> Iterator[Finding]:
    """Designs whose files are there and that are not listed, because a person retired them."""
    for design in designs:
        if design.id in state.retired:
            number = state.retired[design.id]
            what = "it is retired, so it is not listed"
            fix = f"delete the file, or bring the design back: hundredfold undo --row {number}"
            yield RETIRED.finds("still-there", design.path, what, fix)


def missing_design(known: KnownDesign) -> Design:
    """A design whose file is missing or broken, as far as its listings' ends need it."""
    return Design.named_by_file(known.id, known.path, DesignFacts.unmeasured(known.digest))


def named_designs(name: str, known: Mapping[str, KnownDesign]) -> list[KnownDesign]:
    """The designs of this path, file name or name without its ending. Raises ShopError ``unknown-design``."""
    wanted = Path(name).as_posix()
    exact = [one for one in known.values() if wanted in (one.path, one.id)]
    found = exact or [
        one
        for one in known.values()
        if wanted in (PurePosixPath(one.path).name, PurePosixPath(one.path).stem)
    ]
    if not found:
        paths = [PurePosixPath(one.path).name for one in known.values()]
        raise ShopError("unknown-design", f'no design is or was called "{name}"', did_you_mean(name, paths))
    return found


def _gone(path: str, count: int) -> Finding:
    return GONE.finds(
        "file-missing",
        path,
        f"its file is no longer there; {_stay(count)}",
        f"put the file back, or end what is live: hundredfold retire {PurePosixPath(path).name}",
        {"live": count},
    )


def _many_gone(paths: list[str], count: int) -> Finding:
    return GONE.finds(
        "files-missing",
        "designs",
        f"the files of {len(paths)} designs are no longer there ({some_of(paths)}); {_stay(count)}",
        "put the files back, or end what is live of them: hundredfold retire --gone",
        {"designs": len(paths), "live": count},
    )


def _no_blank(code: str, count: int) -> Finding:
    return BLANK_GONE.finds(
        "file-missing",
        code,
        f"its file is no longer in the blanks folder; {_stay(count)}",
        "put the file back; to end what is live, write discontinued = true for each of its variants",
        {"live": count},
    )


def _stay(count: int) -> str:
    return f"{counted(count, 'live listing stays', 'live listings stay')} up"
