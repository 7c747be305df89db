"""The sample's art is what its tool draws, and fit to be sold."""

from lxml import etree

from tools.sampleart.draw import drawn, stale
from tools.sampleart.finished import sample_designs


def test_the_sample_s_files_are_what_is_drawn() -> None:
    names = [path.name for path in stale(drawn())]
    assert not names, f"stale {names}: run python -m tools.sampleart.draw"


def test_there_is_enough_to_sell_and_every_text_is_outlined() -> None:
    designs = sample_designs()
    assert len(designs) >= 24
    assert len({name for name, _ in designs}) == len(designs)
    for name, data in designs:
        root = etree.fromstring(data)
        assert root.get("viewBox") == "0 0 3600 4500", name
        tags = {etree.QName(element).localname for element in root.iter()}
        assert tags <= {"svg", "g", "path", "circle", "ellipse", "rect"}, name
        assert len(name.removesuffix(".svg").split("-")) >= 3, f"{name} has too few words to search by"
