"""Taking a repair: the changed art takes the place of the master in the designs folder, as a decision.

The master is kept, and undo brings it back. An outline or a patch suits every colour (where the art shows
without it, it hardly shows itself); art in one other ink does not, so that goes beside the master as a design
of its own, which is then listed where the master is stopped.
"""

from dataclasses import dataclass
from pathlib import Path, PurePosixPath

import cv2
import numpy as np

from hundredfold.kernel.errors import ShopError
from hundredfold.ledger.events import Event, Happened
from hundredfold.proofing.reading.art import inked_span
from hundredfold.proofing.repair.advice import Advice, advice_from_json
from hundredfold.proofing.repair.changes import Kind, changed
from hundredfold.workshop.shop.bench import Bench, bench
from hundredfold.workshop.shop.masters import keep_master, swap
from hundredfold.workshop.steps.allsteps import REPAIR
from hundredfold.workshop.steps.artwork import read_picture
from hundredfold.workshop.steps.identity import known_designs


@dataclass(frozen=True)
class TakenRepair:
    """A repair that was taken: where the art is now, what was done, and the decision's number."""

    path: str
    words: str
    decision: int


def take_repair(folder: Path, design: str, place: int) -> TakenRepair:
    """Take the repair at this place among those proposed for a design (by id).

    Raises ShopError ``unknown-design``, ``no-repair``, ``art-missing``, ``shop-in-use``, ``disk-full``.
    """
    with bench(folder, "repair") as tools:
        known = known_designs(tools.store.events(kinds={Happened.DESIGN_SEEN})).get(design)
        if known is None:
            what = f'no design has the id "{design[:40]}"'
            raise ShopError("unknown-design", what, "look at the designs again")
        proposed = proposed_repairs(tools, known.path)
        if not 0 <= place < len(proposed):
            what = f"no such repair is proposed for {known.path}"
            raise ShopError("no-repair", what, "proof the design again and look at what it proposes now")
        advice = proposed[place]
        paths = tools.shop.paths
        data = tools.shop.files.read(paths.root / known.path)
        beside = advice.change is not None and advice.change.kind is Kind.RECOLOUR
        row = Event(
            Happened.REPAIRED,
            design,
            {
                "path": known.path,
                "was": "" if beside else keep_master(paths, data),
                "to": _new_path(paths.root, known.path, beside),
                "now": keep_master(paths, _repaired(data, known.path, advice)),
                "words": advice.words,
            },
        )
        kept = tools.store.append([row, *swap(paths, row, back=False)])
        tools.memo.save()
        return TakenRepair(str(row.data["to"]), advice.words, kept[0].decision)


def proposed_repairs(tools: Bench, path: str) -> tuple[Advice, ...]:
    """The changes that the last proof proposes for a design, in the order of their kinds of ink."""
    rows = [row for row in tools.store.builds.outputs((REPAIR.name,)) if row.item.rsplit(", ", 1)[0] == path]
    found = (tools.vault.get(row.output) for row in rows)
    advice = (advice_from_json(data) for data in found if data is not None)
    return tuple(one for one in advice if one is not None and one.change is not None)


def _new_path(root: Path, path: str, beside: bool) -> str:
    """Where the repaired art goes: the master's own name, as a PNG; beside it a name that is free."""
    old = PurePosixPath(path)
    if not beside and old.suffix.lower() == ".png":
        return path
    for number in range(1, 1000):
        name = f"{old.stem}{'-repaired' if beside else ''}{'' if number == 1 else f'-{number}'}.png"
        tried = (old.parent / name).as_posix()
        if not (root / tried).exists():
            return tried
    raise AssertionError("no folder holds so many files of one name")


def _repaired(data: bytes, name: str, advice: Advice) -> bytes:
    pixels = read_picture(data, name).pixels
    rows, columns = inked_span(pixels[..., 3])
    if rows is None or columns is None or advice.change is None:
        raise ShopError("no-repair", f"{name} has no ink to repair", "look at the design again")
    # Widths are shares of the inked art, so the empty margin of the file goes first.
    fresh = changed(np.ascontiguousarray(pixels[rows, columns]), advice.change)
    done, code = cv2.imencode(".png", cv2.cvtColor(fresh, cv2.COLOR_RGBA2BGRA))
    if not done:
        raise ValueError(f"{name} could not be written as PNG")
    return code.tobytes()
