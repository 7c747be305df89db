"""Whose output it is follows from an output's name, by the ids in it."""

from dataclasses import replace

import pytest
from goods import channel, mug

from hundredfold.mockups.registry import Role
from hundredfold.workshop.steps.items import in_colour, is_of, on_blank, picture_item, print_item

PATH = "designs/bee.png"


def test_a_name_begins_with_the_ids_it_is_asked_by() -> None:
    rules = channel().pictures
    picture = picture_item(PATH, "MUG-1", "sky", Role.MAIN, rules)
    assert picture.startswith(in_colour(PATH, "MUG-1", "sky"))
    assert not picture.startswith(in_colour(PATH, "MUG-1", "sky-blue"))
    assert print_item(PATH, "MUG-1", mug().areas[0]).startswith(on_blank(PATH, "MUG-1"))
    assert not print_item(PATH, "MUG-11", mug().areas[0]).startswith(on_blank(PATH, "MUG-1"))


@pytest.mark.parametrize("of", ["designs/bee.pn", "designs/bee", "bee.png"])
def test_a_path_that_begins_like_another_is_another(of: str) -> None:
    assert is_of(PATH, PATH)
    assert is_of(f"{PATH} on MUG-1, front", PATH)
    assert not is_of(PATH, of)
    assert not is_of(f"{PATH} on MUG-1, front", of)


def test_pictures_that_channels_ask_for_otherwise_have_names_of_their_own() -> None:
    rules = channel().pictures
    names = {
        picture_item(PATH, "MUG-1", "sky", Role.SIZE, one)
        for one in (rules, replace(rules, max_bytes=1000), replace(rules, width_px=rules.width_px + 1))
    }
    assert len(names) == 3
