"""How much of a text was read right, whatever else was read beside it."""

import re


def letters(text: str) -> str:
    """Lower-case letters and digits only."""
    return re.sub(r"[^a-z0-9]", "", text.lower())


def edits_inside(line: str, text: str) -> int:
    """Fewest single-letter edits that turn some stretch of ``text`` into ``line``.

    P. H. Sellers, The theory and computation of evolutionary distances: pattern recognition, Journal of
    Algorithms 1 (1980) 359-373.
    """
    column = [0] * (len(text) + 1)
    for row, letter in enumerate(line, 1):
        before, column[0] = column[0], row
        for place, other in enumerate(text, 1):
            cost = before + (letter != other)
            before = column[place]
            column[place] = min(cost, before + 1, column[place - 1] + 1)
    return min(column)


def share_found(line: str, text: str) -> float:
    """Share (0-1) of a line's letters found in what was read; extra marks elsewhere cost nothing."""
    wanted = letters(line)
    return 1.0 - edits_inside(wanted, letters(text)) / max(1, len(wanted))
