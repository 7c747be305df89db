"""Repairs for the designs of a shop: looked for once, kept with the build, made only when the seller asks."""

from collections.abc import Mapping
from pathlib import Path

import cv2

from hundredfold.catalogue.ink import InkModel, ink_model
from hundredfold.designs.design import Design
from hundredfold.kernel.colour import Srgb
from hundredfold.kernel.errors import ShopError, Where
from hundredfold.kernel.findings import Severity
from hundredfold.proofing.checks.every import mends
from hundredfold.proofing.designproof import ColourProof, DesignProof
from hundredfold.proofing.profile import Limits
from hundredfold.proofing.reading.art import inked_span
from hundredfold.proofing.readings import Look, look_of
from hundredfold.proofing.registry import Mends
from hundredfold.proofing.repair.advice import Advice, advice_from_json
from hundredfold.proofing.repair.changes import Kind, changed
from hundredfold.proofing.repair.search import Rules
from hundredfold.runner.atomic import write_whole
from hundredfold.runner.running import Runner, Watching
from hundredfold.runner.tasks import Counts, Task
from hundredfold.workshop.proof.onedesign import check_settings
from hundredfold.workshop.shop.bench import Bench
from hundredfold.workshop.shop.folder import Shop
from hundredfold.workshop.steps.allsteps import REPAIR, make
from hundredfold.workshop.steps.artwork import read_picture
from hundredfold.workshop.steps.fromfacts import RepairWanted
from hundredfold.workshop.steps.gathering import Gathered, Progress

# The limits that a repair goes by.
_LIMITS = (
    "lost_contrast", "lost_difference", "weak_contrast", "lost_edge_share", "weak_edge_share", "read_doubt",
    "sure_words", "lost_words_share", "part_lost_share", "lost_words_contrast", "lost_words_difference",
    "dark_words_contrast", "dark_luminance",
)  # fmt: skip
_KEYS = ("kinds", "colours")


def rules_of(shop: Shop, limits: Limits) -> Rules:
    """The seller's rules for repairs, from ``[repair]`` in the shop's file of limits.

    Raises ShopError ``bad-check-setting`` or ``bad-colour``.
    """
    table = check_settings(shop).get("repair", {})
    where = Where(shop.settings.checks_profile, field="repair")
    wrong = ShopError(
        "bad-check-setting",
        "it has something else than kinds and colours, two lists",
        'write it like kinds = ["outline", "recolour", "patch"] and colours = ["#ffffff", "#141414"]',
        where,
    )
    if not isinstance(table, Mapping) or any(key not in _KEYS for key in table):
        raise wrong
    standard = Rules(limits=limits)
    kinds, colours = table.get("kinds", list(standard.kinds)), table.get("colours")
    if not isinstance(kinds, list) or any(kind not in list(Kind) for kind in kinds):
        raise wrong
    palette = standard.palette if colours is None else tuple(Srgb.parse(colour) for colour in colours)
    return Rules(tuple(Kind(kind) for kind in kinds), palette, limits)


def wanted_looks(proof: DesignProof, transparent: bool) -> tuple[Look, ...]:
    """The looks that one repair of this design must serve; none where nothing fails that a repair could cure.

    All colours with this kind of ink that are fine or curable, at the narrowest width at which the words are
    large enough on some colour: a width at which nothing reads is a matter of size.
    """
    pairs = [
        (blank, one)
        for blank in proof.blanks
        for one in (blank.colours if blank.layout is not None else ())
        if ink_model(blank.blank, one.colour) is _MODEL[transparent] and _curable(one)
    ]
    if not any(one.stopped for _, one in pairs):
        return ()
    read = [blank.art_px for blank, one in pairs if not one.stopped]
    width = min(read) if read else max(blank.art_px for blank, _ in pairs)
    return tuple(sorted({look_of(blank.blank, one.colour, width) for blank, one in pairs}))


_MODEL = {True: InkModel.TRANSPARENT, False: InkModel.UNDERBASE}


def _curable(one: ColourProof) -> bool:
    return all(Mends.CHANGE in mends(f) for f in one.findings if f.severity is Severity.STOP)


class RepairDesk:
    """Takes proofs one at a time, keeps only what a repair needs of them, and finds the repairs in one go."""

    def __init__(self, bench: Bench, rules: Rules) -> None:
        self._bench = bench
        self._rules = rules
        self._tasks: list[Task] = []
        self._places: dict[str, str] = {}

    def take(self, proof: DesignProof, gathered: Gathered) -> None:
        """Note what fails in this proof and could be mended."""
        digest = gathered.deep.get(proof.design.id)
        if digest is None:
            return
        for transparent in (False, True) if not proof.stopped else ():
            if looks := wanted_looks(proof, transparent):
                task = _task(proof.design, digest, looks, self._rules)
                self._tasks.append(task)
                self._places[task.item] = proof.design.path

    def find(self, runner: Runner, told: Progress) -> tuple[dict[str, tuple[Advice, ...]], Counts]:
        """Advice by design path: at most one for opaque and one for transparent ink."""
        outcome = runner.run(self._tasks, make, Watching(progress=told))
        found: dict[str, tuple[Advice, ...]] = {}
        for item, place in self._places.items():
            output = outcome.output(item, REPAIR.name)
            data = self._bench.vault.get(output.digest) if output else None
            advice = advice_from_json(data) if data is not None else None
            if advice is not None:
                found[place] = (*found.get(place, ()), advice)
        return found, outcome.counts


def _task(design: Design, digest: str, looks: tuple[Look, ...], rules: Rules) -> Task:
    inks = tuple(Srgb.parse(ink.hex) for ink in design.facts.inks[:3])
    params = {
        "looks": [list(look) for look in looks],
        "inks": [ink.hex for ink in inks],
        "kinds": [kind.value for kind in rules.kinds],
        "colours": [ink.hex for ink in rules.palette],
        "limits": {name: getattr(rules.limits, name) for name in _LIMITS},
    }
    item = f"{design.path}, {'transparent' if looks[0].transparent else 'opaque'} ink"
    return REPAIR.task(item, item, {"proof facts": digest}, params, RepairWanted(inks, looks, rules))


def write_repaired(file: Path, name: str, advice: Advice, to: Path, place: int = 0) -> Path | None:
    """Make the repaired version of a master as a new PNG in the folder ``to``; the master is only read.

    None where the advice is no change.
    """
    if advice.change is None:
        return None
    pixels = read_picture(file.read_bytes(), name).pixels
    rows, columns = inked_span(pixels[..., 3])
    if rows is None or columns is None:
        return None
    # Widths are shares of the inked art, so the empty margin of the file goes first.
    fresh = changed(pixels[rows, columns], advice.change)
    done, code = cv2.imencode(".png", cv2.cvtColor(fresh, cv2.COLOR_RGBA2BGRA))
    if not done:
        raise ValueError(f"{name} could not be written as PNG")
    to.mkdir(parents=True, exist_ok=True)
    more = f"-{place + 1}" if place else ""
    path = to / f"{Path(name).stem}-{advice.change.kind}{more}.png"
    write_whole(path, code.tobytes())
    return path
