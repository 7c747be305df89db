"""Text that a spreadsheet would take for a formula, and the apostrophe that keeps it text."""

import re

# OWASP "CSV Injection" and CWE-1236: = + - @ tab and carriage return; ASVS adds NUL, and OWASP the
# full-width forms that some spreadsheets fold. Plain numbers are let through: they compute nothing.
FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r", "\n", "\0", "＝", "＋", "－", "＠")
_NUMBER = re.compile(r"[+-]?\d+([.,]\d+)*")


def is_formula(text: str) -> bool:
    """Whether a spreadsheet could take this text for a formula."""
    return text.startswith(FORMULA_STARTS) and not _NUMBER.fullmatch(text)


def harmless(text: str) -> str:
    """The text with an apostrophe in front where it would be taken for a formula."""
    return f"'{text}" if is_formula(text) else text
