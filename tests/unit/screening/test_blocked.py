"""Blocked phrases are found however they are written, and only as whole words."""

import pytest

from hundredfold.kernel.findings import Severity
from hundredfold.screening.blocked import blocked_findings, blocked_in, read_blocked


@pytest.mark.parametrize(
    ("text", "phrase"),
    [
        ("The OLD mill tearooms mug", "old mill"),
        ("Old-Mill mug", "old mill"),
        ("OldMill", "old mill"),
        ("old mill", "OldMill"),
        ("Café Société", "cafe societe"),
        ("don't panic!", "dont panic"),
        ("don’t panic", "Don't panic"),
        ("it heals.", "heals"),
        ("old_mill", "old mill"),
        ("ｏｌｄ ｍｉｌｌ", "old mill"),
        ("STRASSE", "straße"),
    ],
)
def test_found(text: str, phrase: str) -> None:
    assert list(blocked_in(text, [phrase])) == [phrase]


@pytest.mark.parametrize(
    ("text", "phrase"),
    [
        ("three wheels", "heals"),
        ("healsome", "heals"),
        ("old millstone", "old mill"),
        ("cold mill", "old mill"),
        ("mill old", "old mill"),
        ("", "heals"),
    ],
)
def test_not_found(text: str, phrase: str) -> None:
    assert list(blocked_in(text, [phrase])) == []


def test_the_list_as_people_write_it() -> None:
    text = "# notes\n\n  Old Mill  \r\nheals\nheals\n---\n"
    assert read_blocked(text) == ("Old Mill", "heals")


def test_a_finding_a_phrase_naming_where_it_stands() -> None:
    texts = [("title", "Old mill mug"), ("keywords", "old mill, heals")]
    found = list(blocked_findings("bee.svg", texts, ["old mill", "heals", "bees"]))
    assert [(one.check, one.code, one.severity, one.item) for one in found] == [
        ("screening/blocked-phrase", "held", Severity.STOP, "bee.svg")
    ] * 2
    assert '"old mill" stands in its title' in found[0].what
    assert '"heals" stands in its keywords' in found[1].what
