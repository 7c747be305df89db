"""Unicode's BidiCharacterTest (UAX 9) on our levels. The file comes with Debian's unicode-data."""

from pathlib import Path

import pytest

from hundredfold.designs.typesetting.bidi import embedding_levels, visual_runs

FILE = Path("/usr/share/unicode/BidiCharacterTest.txt")
DIRECTIONS = {"0": "ltr", "1": "rtl", "2": ""}


@pytest.mark.skipif(not FILE.exists(), reason="needs Debian's unicode-data package")
def test_every_case_of_the_published_file() -> None:
    count = 0
    for line in FILE.read_text(encoding="utf-8").splitlines():
        if not line or line.startswith("#"):
            continue
        codes, direction, base, levels, _ = line.split(";")
        text = "".join(chr(int(code, 16)) for code in codes.split())
        expected = [None if level == "x" else int(level) for level in levels.split()]
        assert embedding_levels(text, DIRECTIONS[direction]) == (int(base), expected), line
        count += 1
    assert count > 90_000


def test_runs_come_in_the_order_they_are_seen() -> None:
    """Rule L2 of UAX 9: digits inside Hebrew keep their order, the Hebrew around them turns."""
    text = "he said \u05d0\u05d1 12 \u05d2."
    base, runs = visual_runs(text)
    assert base == 0
    assert [(text[a:b], level) for a, b, level in runs] == [
        ("he said ", 0),
        (" \u05d2", 1),
        ("12", 2),
        ("\u05d0\u05d1 ", 1),
        (".", 0),
    ]
