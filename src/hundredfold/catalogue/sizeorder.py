"""Which size of a blank is the smaller one."""

import re
from collections.abc import Sequence

from hundredfold.catalogue.blanks import Blank

_LETTERS = re.compile(r"(?:(\d{1,2})|(X*))(X?)(S|M|L)", re.IGNORECASE)
_NUMBER = re.compile(r"\s*(\d+(?:[.,]\d+)?)\s*(.*)")


def sizes_in_order(blank: Blank) -> tuple[str, ...]:
    """The sizes, smallest first; ``("",)`` for goods of one size.

    By the blank's own ``[sizes]`` where it lists them all; else by letters (S, M, XL, 3XL) or by number where
    all sizes are of one kind; else as the variants stand in the file.
    """
    found = tuple(dict.fromkeys(variant.size for variant in blank.variants))
    listed = tuple(one.size for one in blank.sizes)
    if set(found) <= set(listed):
        return tuple(size for size in listed if size in found)
    for rank in (_by_letters(found), _by_number(found)):
        if rank is not None:
            return tuple(size for _, size in sorted(zip(rank, found, strict=True), key=lambda pair: pair[0]))
    return found


def _by_letters(sizes: Sequence[str]) -> list[int] | None:
    """S -1, M 0, L 1, XL 2, XXL and 2XL 3, XS -2."""
    ranks = []
    for size in sizes:
        match = _LETTERS.fullmatch(size.strip())
        if match is None:
            return None
        number, more, last, letter = match.groups()
        extra = int(number) if number and last else len(more or "") + len(last)
        ranks.append({"S": -1 - extra, "M": 0, "L": 1 + extra}[letter.upper()])
    return ranks


def _by_number(sizes: Sequence[str]) -> list[float] | None:
    """By the number each begins with, where what follows is the same for all: 30 cm, 45 cm."""
    matches = [_NUMBER.fullmatch(size) for size in sizes]
    if not all(matches) or len({match[2].casefold() for match in matches if match}) != 1:
        return None
    return [float(match[1].replace(",", ".")) for match in matches if match]
