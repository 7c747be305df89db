"""Pictures of decorated blanks as build work: many designs on one blank, so that its plate is loaded once."""

import io
from collections.abc import Sequence
from dataclasses import asdict, dataclass

import numpy as np
from PIL import Image

from hundredfold.catalogue.blanks import BlankColour
from hundredfold.catalogue.channels import PictureRules
from hundredfold.mockups.rules import measured
from hundredfold.placement.place import Placement
from hundredfold.runner.allocator import give_back_memory
from hundredfold.runner.inputs import Inputs
from hundredfold.runner.recipes import canonical_json
from hundredfold.runner.tasks import WorkPart
from hundredfold.workshop.shop.ownplates import hold
from hundredfold.workshop.steps.plates import BASES_HELD, Pictures, Shot, View, as_file, view_for
from hundredfold.workshop.steps.smallart import read_small_art


@dataclass(frozen=True)
class PictureWanted:
    """One picture of one design. ``placements`` speak of the small copy's pixels."""

    shot: Shot
    placements: tuple[Placement, ...]
    rules: PictureRules


def make_pictures(parts: Sequence[WorkPart], inputs: Inputs) -> list[bytes]:
    """The finished JPEGs in order. Raises ShopError ``no-plate``, ``bad-plate``, ``art-missing``."""
    give_back_memory()
    for own in sorted({part.inputs["own plate"] for part in parts if "own plate" in part.inputs}):
        hold(inputs.get(own))
    every = [part.wanted_as(PictureWanted) for part in parts]
    arts = [part.inputs["small art"] for part in parts]
    made: dict[int, bytes] = {}
    current, pictures = "", None
    for place in _order(every, arts):
        wanted = every[place]
        if pictures is None or arts[place] != current:
            current, pictures = arts[place], Pictures(read_small_art(inputs.get(arts[place])))
        rules = wanted.rules
        made[place] = as_file(pictures.picture(wanted.shot, wanted.placements, rules.lengths), rules)
    return [made[place] for place in range(len(every))]


def measure_pictures(parts: Sequence[WorkPart], inputs: Inputs) -> list[bytes]:
    """What each finished picture is, as JSON."""
    return [_facts(inputs.get(part.inputs["picture"])) for part in parts]


def _facts(data: bytes) -> bytes:
    with Image.open(io.BytesIO(data)) as picture:
        pixels = np.asarray(picture.convert("RGB"))
    return canonical_json(asdict(measured(pixels))).encode()


def _order(wanted: Sequence[PictureWanted], arts: Sequence[str]) -> list[int]:
    """View by view, so that few large maps are held; in a view some colours at a time, as many as are held;
    of these design by design; and what comes from one mock-up together."""
    seen: dict[object, int] = {}

    def first(what: object) -> int:
        return seen.setdefault(what, len(seen))

    def key(place: int) -> tuple[int, ...]:
        one = wanted[place]
        view = view_for(one.shot)
        colour = colours.setdefault((view, one.shot.colour), len([c for c in colours if c[0] == view]))
        return (first(view), colour // BASES_HELD, first(arts[place]), first(one.placements), colour, place)

    colours: dict[tuple[View, BlankColour], int] = {}
    return sorted(range(len(wanted)), key=key)
