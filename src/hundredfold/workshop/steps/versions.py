"""The version of every step of the build, and of the libraries under them, in one mapping."""

from functools import cache

from hundredfold.designs.measure import MEASURE_VERSION
from hundredfold.mockups.rules import RULES_VERSION
from hundredfold.placement.printfile import PRINT_VERSION
from hundredfold.proofing.art.packing import PROOF_FACTS_VERSION
from hundredfold.proofing.checks.every import CHECKS_VERSION
from hundredfold.proofing.reading.predict import READING_VERSION
from hundredfold.workshop.steps import plates
from hundredfold.workshop.steps.artwork import versions
from hundredfold.workshop.steps.packfiles import PACK_VERSION
from hundredfold.workshop.steps.plates import PICTURE_VERSION
from hundredfold.workshop.steps.smallart import SMALL_ART_VERSION


@cache
def engines() -> dict[str, str]:
    """The libraries that touch pixels; asked once, since looking up a version reads files."""
    return versions()


@cache
def picture_engines() -> dict[str, str]:
    """The libraries that touch a picture's pixels."""
    return plates.versions()


def step_versions() -> dict[str, object]:
    """What a finished month was made by."""
    return {
        "measure": MEASURE_VERSION,
        "proof facts": PROOF_FACTS_VERSION,
        "readings": READING_VERSION,
        "checks": CHECKS_VERSION,
        "print file": PRINT_VERSION,
        "picture": PICTURE_VERSION,
        "picture rules": RULES_VERSION,
        "small art": SMALL_ART_VERSION,
        "pack": PACK_VERSION,
        **engines(),
    }
