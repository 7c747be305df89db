"""Pictures made together are those made one by one; what one mock-up can give is composed once."""

from dataclasses import replace
from pathlib import Path

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
from hundredfold.workshop.steps import plates
from hundredfold.workshop.steps.pictures import PictureWanted, picture_all, picture_work
from hundredfold.workshop.steps.plates import Shot
from hundredfold.workshop.steps.smallart import read_small_art, small_art

SMALL, LARGE = PictureRules(300, 300, 500_000, 3), PictureRules(400, 400, 500_000, 3)


def files(folder: Path) -> list[str]:
    found = []
    for number, colour in enumerate(((200, 30, 30, 255), (20, 90, 160, 255))):
        art = np.zeros((120, 100, 4), np.uint8)
        art[10:90, 20:80] = colour
        path = folder / f"{number}.png"
        path.write_bytes(small_art(art))
        found.append(str(path))
    return found


def wanted(folder: Path) -> list[PictureWanted]:
    mug = replace(a_mug(), colours=(WHITE, NAVY))
    wish = Wish(where=ArtSpot.HANDLE_RIGHT)
    placements = lay_out(Box(0, 0, 100, 120), mug, mug.areas[0], wish).placements
    return [
        PictureWanted(file, Shot(mug, mug.areas[0], colour, role), placements, rules)
        for rules in (SMALL, LARGE)
        for file in files(folder)
        for role in (Role.MAIN, Role.OTHER_SIDE, Role.SIZE)
        for colour in mug.colours
    ]


def test_together_or_alone_the_bytes_are_the_same(tmp_path: Path) -> None:
    every = wanted(tmp_path)[::3]
    together = picture_all(picture_work(every))
    assert list(together) == [picture_all(picture_work([one]))[0] for one in every]
    assert list(reversed(together)) == list(picture_all(picture_work(every[::-1])))


def test_each_mock_up_is_composed_once(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    made: list[Base] = []

    def counted(base: Base, seen: SeenArt) -> NDArray[np.uint8]:
        made.append(base)
        return mock_up(base, seen)

    monkeypatch.setattr(plates, "mock_up", counted)
    every = wanted(tmp_path)
    assert len(picture_all(picture_work(every))) == 24
    assert len(made) == 2 * 2 * 2  # designs, views, colours: neither sizes nor the size picture


def test_a_lost_small_copy_is_told(tmp_path: Path) -> None:
    (tmp_path / "torn.png").write_bytes(b"\x89PNG")
    for name in ("none.png", "torn.png"):
        with pytest.raises(ShopError, match="cannot be read"):
            read_small_art(str(tmp_path / name))
