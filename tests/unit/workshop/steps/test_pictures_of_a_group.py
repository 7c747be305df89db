"""Pictures made together are those made one by one; what one mock-up can give is composed once."""

import hashlib
from dataclasses import replace

import numpy as np
import pytest
from numpy.typing import NDArray
from pictureblanks import NAVY, WHITE, a_mug

from hundredfold.catalogue.channels import PictureRules
from hundredfold.designs.facts import Box
from hundredfold.kernel.errors import ShopError
from hundredfold.mockups.compose import Base, mock_up
from hundredfold.mockups.registry import Role
from hundredfold.mockups.warp import SeenArt
from hundredfold.placement.layout import ArtSpot, Wish, lay_out
from hundredfold.runner.inputs import CarriedInputs
from hundredfold.runner.tasks import WorkPart
from hundredfold.workshop.steps import plates
from hundredfold.workshop.steps.pictures import PictureWanted, make_pictures
from hundredfold.workshop.steps.plates import Shot
from hundredfold.workshop.steps.smallart import read_small_art, small_art

SMALL, LARGE = PictureRules(300, 300, 500_000, 3), PictureRules(400, 400, 500_000, 3)


def copies() -> dict[str, bytes]:
    """Small copies of two designs, by digest."""
    found = {}
    for colour in ((200, 30, 30, 255), (20, 90, 160, 255)):
        art = np.zeros((120, 100, 4), np.uint8)
        art[10:90, 20:80] = colour
        data = small_art(art)
        found[hashlib.sha256(data).hexdigest()] = data
    return found


def wanted() -> list[WorkPart]:
    mug = replace(a_mug(), colours=(WHITE, NAVY))
    wish = Wish(where=ArtSpot.HANDLE_RIGHT)
    placements = lay_out(Box(0, 0, 100, 120), mug, mug.areas[0], wish).placements
    return [
        WorkPart("picture", "", {"small art": digest}, PictureWanted(shot, placements, rules))
        for rules in (SMALL, LARGE)
        for digest in copies()
        for role in (Role.MAIN, Role.OTHER_SIDE, Role.SIZE)
        for shot in (Shot(mug, mug.areas[0], colour, role) for colour in mug.colours)
    ]


def test_together_or_alone_the_bytes_are_the_same() -> None:
    every, inputs = wanted()[::3], CarriedInputs(copies())
    together = make_pictures(every, inputs)
    assert together == [make_pictures([one], inputs)[0] for one in every]
    assert together[::-1] == make_pictures(every[::-1], inputs)


def test_each_mock_up_is_composed_once(monkeypatch: pytest.MonkeyPatch) -> None:
    made: list[Base] = []

    def counted(base: Base, seen: SeenArt) -> NDArray[np.uint8]:
        made.append(base)
        return mock_up(base, seen)

    monkeypatch.setattr(plates, "mock_up", counted)
    assert len(make_pictures(wanted(), CarriedInputs(copies()))) == 24
    assert len(made) == 2 * 2 * 2  # designs, views, colours: neither sizes nor the size picture


def test_a_damaged_small_copy_is_told() -> None:
    with pytest.raises(ShopError, match="cannot be read"):
        read_small_art(b"\x89PNG")
