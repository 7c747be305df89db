"""docs/layouts.md lists every attribute and helper as the program knows them, and its pictures exist."""

import re
from pathlib import Path

from hundredfold.designs.layouts.attributes import ATTRIBUTES
from hundredfold.designs.layouts.layout import parse_layout
from hundredfold.designs.layouts.pattern import HELPERS

DOCS = Path(__file__).parents[2] / "docs"
PAGE = (DOCS / "layouts.md").read_text(encoding="utf-8")


def test_the_tables_are_those_of_the_program() -> None:
    """Stale? Run python -m tools.layouts.draw_pictures."""
    rows = dict(re.findall(r"^\| `([^`]+)` \| (.+) \|$", PAGE, re.MULTILINE))
    for name, words in (ATTRIBUTES | HELPERS).items():
        if name != "data-slot-number":
            assert rows.get(name) == words, name


def test_the_files_it_shows_are_there_and_can_be_read() -> None:
    links = set(re.findall(r"\]\((layouts/[^)]+)\)", PAGE))
    assert len(links) >= 7
    for link in sorted(links):
        path = DOCS / link
        assert path.is_file(), link
        if path.suffix == ".svg":
            assert parse_layout(path.read_bytes(), path.name).texts
