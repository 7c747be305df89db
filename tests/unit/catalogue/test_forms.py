"""A form's record is all that is known of a form."""

from importlib.resources import files

import pytest

from hundredfold.catalogue.blank_toml import blank_toml
from hundredfold.catalogue.forms import Form
from hundredfold.catalogue.parse_blanks import parse_blank
from hundredfold.catalogue.toml_table import Source
from hundredfold.mockups.plate import read_plate
from hundredfold.mockups.registry import PLATES, Role, roles_of
from hundredfold.mockups.surface import Side


@pytest.mark.parametrize("form", Form)
def test_every_view_of_a_form_has_its_plate_and_no_plate_lies_unused(form: Form) -> None:
    folder = files("hundredfold") / "plates"
    for one in form.traits.plates:
        for view in form.traits.views:
            assert (folder / f"{one.name}.{view}.plate").is_file()
    named = {f"{entry.name}.{view}.plate" for entry in PLATES for view in entry.views}
    assert {file.name for file in folder.iterdir() if file.name.endswith(".plate")} == named


@pytest.mark.parametrize("form", Form)
def test_what_people_drink_from_is_a_vessel_on_its_plate(form: Form) -> None:
    name, view = form.traits.plates[0].name, form.traits.views[0]
    data = (files("hundredfold") / "plates" / f"{name}.{view}.plate").read_bytes()
    assert isinstance(read_plate(data, name).surface, Side) == form.traits.drinkware


def test_only_a_handle_gives_goods_another_side() -> None:
    for entry in PLATES:
        assert (Role.OTHER_SIDE in roles_of(entry)) == entry.form.traits.handled


@pytest.mark.parametrize(("said", "is_so"), [("", True), ("drinkware = false\n", False)])
def test_a_blank_is_drinkware_as_its_form_is_unless_its_file_says_otherwise(said: str, is_so: bool) -> None:
    text = (files("hundredfold") / "sample" / "blanks" / "mug-325.toml").read_text("utf-8")
    source = Source(text.replace("drinkware = true\n", said), "mug-325.toml")
    blank = parse_blank(source, "GBP")
    assert not source.errors
    assert blank.drinkware is is_so
    again = parse_blank(Source(blank_toml(blank, "GBP"), "again.toml"), "GBP")
    assert again.drinkware is is_so
