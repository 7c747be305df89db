"""What is odd about a blank is a finding, and the blank is still read."""

from dataclasses import replace

import pytest

from hundredfold.catalogue.blanks import Blank, Body, SizeMeasures
from hundredfold.catalogue.parse_blanks import parse_blank
from hundredfold.catalogue.parsing import read_text
from hundredfold.catalogue.processes import Material, Process
from hundredfold.catalogue.suitability import blank_findings
from hundredfold.kernel.findings import Severity

MUG = """\
code = "MUG"
name = "Mug"
form = "mug"
material = "coated ceramic"
process = "sublimation"
postage = "3.00"
[areas.wrap]
width_px = 2480
height_px = 945
dpi = 300
[body]
diameter_mm = 82
height_mm = 95
capacity_ml = 325
[colours]
white = { name = "White", srgb = "#ffffff" }
[variants]
M1 = { colour = "white", base_cost = "4.00" }
"""


@pytest.fixture
def mug() -> Blank:
    return read_text(MUG, "blanks/mug.toml", lambda source: parse_blank(source, "GBP"))


def test_a_sound_blank_gives_no_finding(mug: Blank) -> None:
    assert list(blank_findings(mug)) == []


def test_sublimation_on_cotton_stops(mug: Blank) -> None:
    (finding,) = blank_findings(replace(mug, material=Material.COTTON))
    assert (finding.check, finding.code) == ("catalogue/process-and-material", "cannot-take")
    assert finding.severity is Severity.STOP
    assert "sublimation does not mark cotton" in finding.what
    assert "direct-to-garment or direct-to-film" in finding.fix


def test_direct_to_garment_on_a_mug_stops(mug: Blank) -> None:
    (finding,) = blank_findings(replace(mug, process=Process.DTG))
    assert finding.code == "cannot-take"


def test_nothing_in_stock_stops(mug: Blank) -> None:
    (finding,) = blank_findings(replace(mug, variants=(replace(mug.variants[0], in_stock=False),)))
    assert (finding.code, finding.severity) == ("none-offered", Severity.STOP)


def test_a_wrap_wider_than_the_body_warns(mug: Blank) -> None:
    # pi x 82 mm = 257.6 mm round; 3150 px at 300 dpi are 266.7 mm.
    (finding,) = blank_findings(replace(mug, areas=(replace(mug.areas[0], width_px=3150),)))
    assert (finding.code, finding.numbers) == ("wider-than-round", {"area_mm": 266.7, "girth_mm": 257.6})


def test_more_capacity_than_the_outside_encloses_warns(mug: Blank) -> None:
    # pi x 41² x 95 mm = 501.7 ml: an upper bound for what any mug of these measures holds.
    (finding,) = blank_findings(replace(mug, body=Body(diameter_mm=82, height_mm=95, capacity_ml=600)))
    assert (finding.code, finding.numbers["outside_ml"]) == ("more-than-outside", 501.7)


@pytest.mark.parametrize(
    ("name", "bare"), [("Clear", 1), ("Brushed steel", 1), ("Silver grey", 0), ("Clearwater blue", 0)]
)
def test_bare_glass_and_metal_are_pictured_as_coats(mug: Blank, name: str, bare: int) -> None:
    found = list(blank_findings(replace(mug, colours=(replace(mug.colours[0], name=name),))))
    assert [one.code for one in found] == ["shown-as-coat"] * bare
    assert all(f"{name} (#ffffff)" in one.what and one.severity is Severity.NOTE for one in found)


def test_measures_of_goods_in_sizes_say_of_which(mug: Blank) -> None:
    sized = replace(mug, variants=tuple(replace(mug.variants[0], size=size) for size in ("S", "M")))
    (finding,) = blank_findings(sized)
    assert (finding.code, finding.severity) == ("size-unknown", Severity.NOTE)
    assert "2 sizes" in finding.what
    of_m = replace(sized, body=replace(sized.body, size="M"))
    told = replace(sized, sizes=(SizeMeasures("S", diameter_mm=70),))
    silent = replace(sized, body=Body())
    assert [list(blank_findings(one)) for one in (of_m, told, silent)] == [[], [], []]
