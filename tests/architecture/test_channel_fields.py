"""docs/channels.md lists exactly the fields a column's fill may name, with the meaning the code gives."""

import re
from pathlib import Path

from hundredfold.handoff.sheets import FIELDS

PAGE = Path(__file__).parents[2] / "docs" / "channels.md"


def test_the_page_lists_every_field() -> None:
    rows = re.findall(r"^\| `\{(.+?)\}` \| (.+) \|$", PAGE.read_text(encoding="utf-8"), re.MULTILINE)
    assert rows == [tuple(field) for field in FIELDS]
