"""Unicode's GraphemeBreakTest (UAX 29) and LineBreakTest (UAX 14) on the library that splits text here."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from uniseg.graphemecluster import grapheme_clusters
from uniseg.linebreak import line_break_units

FOLDER = Path("/usr/share/unicode")
GRAPHEMES = next(
    (
        p
        for p in (FOLDER / "auxiliary" / "GraphemeBreakTest.txt", FOLDER / "GraphemeBreakTest.txt")
        if p.exists()
    ),
    None,
)
LINES = next(
    (p for p in (FOLDER / "auxiliary" / "LineBreakTest.txt", FOLDER / "LineBreakTest.txt") if p.exists()),
    None,
)


def cases(path: Path) -> Iterator[list[str]]:
    for line in path.read_text(encoding="utf-8").splitlines():
        body = line.split("#")[0].strip()
        if body:
            parts = body.strip("÷ \t").split("÷")
            yield ["".join(chr(int(code, 16)) for code in part.replace("×", " ").split()) for part in parts]


@pytest.mark.skipif(GRAPHEMES is None, reason="needs Debian's unicode-data package")
def test_every_grapheme_case() -> None:
    assert GRAPHEMES is not None
    found = list(cases(GRAPHEMES))
    assert [case for case in found if list(grapheme_clusters("".join(case))) != case] == []
    assert len(found) >= 600


@pytest.mark.skipif(LINES is None, reason="needs Debian's unicode-data package")
def test_line_break_cases() -> None:
    """The library follows UAX 14 of Unicode 16; the file is 15's, whose rules on quotation marks differ."""
    assert LINES is not None
    found = list(cases(LINES))
    wrong = [case for case in found if list(line_break_units("".join(case))) != case]
    assert len(found) > 7000
    assert len(wrong) <= 31
