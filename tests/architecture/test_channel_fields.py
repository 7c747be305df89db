"""docs/channels.md lists exactly the fields a column's fill may name, with the meaning the code gives."""

import re
from pathlib import Path

from hundredfold.handoff.fields import FIELDS

PAGE = Path(__file__).parents[2] / "docs" / "channels.md"


def test_the_page_lists_every_field() -> None:
    section = PAGE.read_text(encoding="utf-8").split("\n## Fields\n")[1].split("\n## ")[0]
    rows = re.findall(r"^\| `\{(.+?)\}` \| (.+) \|$", section, re.MULTILINE)
    assert rows == [tuple(field) for field in FIELDS]
