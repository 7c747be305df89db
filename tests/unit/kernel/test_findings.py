"""Findings as values."""

from dataclasses import replace

from hundredfold.kernel.findings import Finding, Severity


def test_a_finding_with_numbers_can_be_told_once() -> None:
    one = Finding("area/check", "code", Severity.WARN, "item", "what", "fix", {"dpi": 72})
    assert list(dict.fromkeys([one, replace(one), replace(one, numbers={"dpi": 90})])) == [
        one,
        replace(one, numbers={"dpi": 90}),
    ]
