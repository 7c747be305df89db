"""Main pictures as their channel sees them: judged on the pixels of what was made.

The outline of the goods is the plate's, whatever the design. So one picture speaks for all of its blank,
colour and size, and a month reads a few dozen of its thousands.
"""

import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import asdict, dataclass

import numpy as np
from PIL import Image

from hundredfold.kernel.findings import Finding
from hundredfold.mockups.registry import Role
from hundredfold.mockups.rules import RULES_VERSION, MeasuredPicture, broken_rules, measured
from hundredfold.runner.cache import Vault
from hundredfold.runner.recipes import Recipe, canonical_json
from hundredfold.runner.running import Runner
from hundredfold.runner.tasks import Outcome, Output, Task
from hundredfold.workshop.month.packing import Load
from hundredfold.workshop.steps.versions import picture_engines

STEP = "main picture facts"


@dataclass(frozen=True)
class _Seen:
    """A picture to look at, for all like it."""

    item: str
    digest: str


def judge_main_pictures(
    runner: Runner, vault: Vault, loads: Iterable[Sequence[Load]], made: Outcome
) -> tuple[tuple[Finding, ...], Outcome]:
    """What a channel may mind in the main pictures of these packs. Pictures judged before are not read."""
    tasks = [
        Task(
            seen.item,
            Recipe(STEP, RULES_VERSION, picture_engines(), {}, {"picture": seen.digest}),
            STEP,
            str(vault.path_of(seen.digest)),
        )
        for seen in _one_of_each(loads, made.outputs)
    ]
    outcome = runner.run(tasks, measure_pictures, lambda group: tuple(str(task.wanted) for task in group))
    findings: list[Finding] = []
    for task in tasks:
        output = outcome.output(task.item, STEP)
        data = vault.get(output.digest) if output else None
        if data is not None:
            findings += broken_rules(MeasuredPicture(**json.loads(data)), task.item)
    return tuple(findings), outcome


def measure_pictures(files: Sequence[str]) -> tuple[bytes, ...]:
    """What each picture file is, as JSON. Runs where the runner likes."""
    return tuple(_facts(file) for file in files)


def _facts(file: str) -> bytes:
    with Image.open(file) as picture:
        pixels = np.asarray(picture.convert("RGB"))
    return canonical_json(asdict(measured(pixels))).encode()


def _one_of_each(
    loads: Iterable[Sequence[Load]], outputs: Mapping[tuple[str, str], Output]
) -> Iterator[_Seen]:
    """The first main picture of each channel, blank and colour; a listing of one size, or of all."""
    seen = set()
    for pack in loads:
        for load in pack:
            steps = {piece.member: (piece.item, piece.step) for piece in load.pieces.pieces}
            key = load.planned.key
            for colour, pictures in load.pieces.pictures.items():
                item = f"main picture of {key.blank}, {colour}, on {key.channel}"
                main = next((one for one in pictures if one.role == Role.MAIN.value), None)
                output = outputs.get(steps[main.file]) if main else None
                if item not in seen and output is not None:
                    seen.add(item)
                    yield _Seen(item, output.digest)
