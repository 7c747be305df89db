"""All steps stand in one list, and what reaches a worker names nothing of this computer."""

import dataclasses
import json
from pathlib import Path

import pytest

from hundredfold.runner import inputs as inputs_module
from hundredfold.runner.inputs import CarriedInputs
from hundredfold.runner.steps import Step
from hundredfold.runner.tasks import WorkPart
from hundredfold.workshop.steps import allsteps
from hundredfold.workshop.steps.allsteps import JUDGED, PACK, STEPS, make, step_versions
from hundredfold.workshop.steps.artwork import ArtWanted
from hundredfold.workshop.steps.fromfacts import Case, LooksWanted, RepairWanted
from hundredfold.workshop.steps.pictures import PictureWanted


def test_every_record_is_in_the_list_under_its_name() -> None:
    records = {one.name: one for one in vars(allsteps).values() if isinstance(one, Step)}
    assert records == STEPS
    assert all(step.version and set(step.reads) <= set(step.inputs) for step in STEPS.values())


def test_a_step_takes_only_what_it_names() -> None:
    with pytest.raises(ValueError, match="the step judged knows nothing of moon"):
        JUDGED.recipe({}, {"moon": "full"})
    with pytest.raises(ValueError, match="knows nothing of plate"):
        JUDGED.recipe({"plate": "0" * 64})
    assert PACK.recipe({"member bee.png at 300 dpi": "0" * 64}).inputs


def test_what_is_made_here_is_given_to_no_worker() -> None:
    with pytest.raises(ValueError, match="made by no worker"):
        make([WorkPart("pack", "quayside/2027-01-01", {})], CarriedInputs({}))


def test_the_versions_are_plain_and_parts_of_one_stay_apart() -> None:
    told = json.loads(json.dumps(step_versions()))
    assert told["picture"]["version"] == [6, 7]
    assert "numpy" in told["picture"]["libraries"]


@pytest.mark.parametrize("record", [ArtWanted, PictureWanted, LooksWanted, RepairWanted, Case, WorkPart])
def test_work_holds_no_path(record: type) -> None:
    kinds = [str(field.type) for field in dataclasses.fields(record)]
    assert not [kind for kind in kinds if "Path" in kind or Path.__name__ in kind]
    assert not [field.name for field in dataclasses.fields(record) if "file" in field.name]
    assert inputs_module.__doc__
