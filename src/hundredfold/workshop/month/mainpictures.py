"""Main pictures as their channel sees them: judged on the pixels of what was made.

The outline of the goods is the plate's, whatever the design. So one picture speaks for all of its blank,
colour and size, and a month reads a few dozen of its thousands.
"""

import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from hundredfold.kernel.findings import Finding
from hundredfold.mockups.registry import Role
from hundredfold.mockups.rules import MeasuredPicture, broken_rules
from hundredfold.runner.cache import Vault
from hundredfold.runner.running import Runner
from hundredfold.runner.tasks import Outcome, Output
from hundredfold.workshop.month.packing import Load
from hundredfold.workshop.steps.allsteps import MAIN_PICTURE_FACTS, make


@dataclass(frozen=True)
class _Seen:
    """A picture to look at, for all like it."""

    item: str
    digest: str


def judge_main_pictures(
    runner: Runner, vault: Vault, loads: Iterable[Sequence[Load]], made: Outcome
) -> tuple[tuple[Finding, ...], Outcome]:
    """What a channel may mind in the main pictures of these packs. Pictures judged before are not read."""
    step = MAIN_PICTURE_FACTS
    seen_once = _one_of_each(loads, made.outputs)
    tasks = [step.task(seen.item, step.name, {"picture": seen.digest}) for seen in seen_once]
    outcome = runner.run(tasks, make)
    findings: list[Finding] = []
    for task in tasks:
        output = outcome.output(task.item, step.name)
        data = vault.get(output.digest) if output else None
        if data is not None:
            findings += broken_rules(MeasuredPicture(**json.loads(data)), task.item)
    return tuple(findings), outcome


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
