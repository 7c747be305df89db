"""Every step of the build, one record each. To change what a step gives, raise a number of its version here.

Each output is pinned beside its version by a test in tests/golden or beside the room that computes it.
"""

from collections.abc import Sequence
from itertools import groupby

from hundredfold.runner.inputs import Inputs
from hundredfold.runner.steps import Maker, Step
from hundredfold.runner.tasks import Unmade, WorkPart
from hundredfold.workshop.steps.artwork import make_from_art
from hundredfold.workshop.steps.fromfacts import find_repairs, judge_cases, read_words
from hundredfold.workshop.steps.pictures import make_pictures, measure_pictures

_PIXELS = ("numpy", "opencv-python-headless", "pillow", "pyvips-binary")
_MOCKUPS = ("numpy", "opencv-python-headless", "pillow")
_READING = 2  # the predictor of what buyers can read: the chances of the same facts

MEASURE = Step("measure", (2,), make_from_art, _PIXELS, ("design art",), ("design art",))
PROOF_FACTS = Step(  # (the measuring of proofing/art, the predictor's facts)
    "proof-facts", (6, _READING), make_from_art, _PIXELS, ("design art",), ("design art",)
)
SMALL_ART = Step("small-art", (2,), make_from_art, _PIXELS, ("design art",), ("design art",))
READINGS = Step(
    "readings", (4, _READING), read_words, _PIXELS, ("proof facts",), ("proof facts",), ("looks",)
)
PRINT_BYTES = Step("print bytes", (3,), make_from_art, _PIXELS, ("design art",), ("design art",), ("layout",))
PRINT_FILE = Step("print-file", (3,), make_from_art, _PIXELS, ("design art",), ("design art",), ("layout",))
PICTURE = Step(  # (composing and its resizing, the lines and figures of size pictures)
    "picture",
    (6, 7),
    make_pictures,
    (*_MOCKUPS, "fontpkg-oswald", "fonttools", "uharfbuzz"),
    ("small art", "plate", "own plate"),
    ("small art", "own plate"),
    (
        "layout", "body", "blank colour", "second colour", "underbase", "together", "process", "role",
        "measures", "picture", "largest bytes",
    ),
)  # fmt: skip
MAIN_PICTURE_FACTS = Step("main picture facts", (2,), measure_pictures, _MOCKUPS, ("picture",), ("picture",))
JUDGED = Step(
    "judged",
    (7,),
    judge_cases,
    ("numpy", "pillow"),
    ("facts", "proof facts", "readings"),
    ("proof facts", "readings"),
    (
        "blanks", "limits", "severities", "checks off", "thumbnail px", "main pictures", "colours to mark",
        "printer", "smallest type", "kept", "print bytes", "placed", "allowed",
    ),
)  # fmt: skip
REPAIR = Step(
    "repair",
    (8, _READING),
    find_repairs,
    _PIXELS,
    ("proof facts",),
    ("proof facts",),
    ("looks", "inks", "kinds", "colours", "limits"),
)
PACK = Step("pack", (2,), None, ("xlsxwriter",), ("member *",), (), ("rows", "terms", "channel", "day"))

STEPS = {
    step.name: step
    for step in (
        MEASURE, PROOF_FACTS, SMALL_ART, READINGS, PRINT_BYTES, PRINT_FILE, PICTURE, MAIN_PICTURE_FACTS,
        JUDGED, REPAIR, PACK,
    )
}  # fmt: skip


def make(parts: Sequence[WorkPart], inputs: Inputs) -> list[bytes | Unmade]:
    """Make the parts of one group, whatever their steps; runs in a worker.

    Parts next to each other whose steps share a maker come from one call: a design decoded once, or a
    blank's plate loaded once.
    """
    made: list[bytes | Unmade] = []
    for maker, some in groupby(parts, key=_maker):
        made += maker(tuple(some), inputs)
    return made


def _maker(part: WorkPart) -> Maker:
    maker = STEPS[part.step].maker
    if maker is None:
        raise ValueError(f"{part.step} is made by no worker")
    return maker


def step_versions() -> dict[str, object]:
    """What everything is made by: each step's version and libraries, in plain values."""
    return {
        name: {"version": list(step.version), "libraries": dict(step.recipe({}).engines)}
        for name, step in STEPS.items()
    }
