"""Numbers for the columns of one numbered field: Picture 1 to 8, Tag, Tag, Tag, or all in one cell."""

import re
from collections.abc import Sequence
from dataclasses import replace

from hundredfold.learning.fields import Field, FieldCatalogue
from hundredfold.learning.meaning import meanings_of
from hundredfold.learning.seen import Proposal, Surety
from hundredfold.learning.words import fold

_SEVERAL = ("s", "bilder", "liste", "list", "elenco", "immagini", "parole", "termini", "worter", "begriffe")
_DIGIT = 9
_APART = re.compile(
    r"comma|komma|virgul|virgola|\bcomas?\b|semicolon|semikolon|separat|separad|separe|getrennt"
)


def number_them(proposals: Sequence[Proposal], catalogue: FieldCatalogue) -> tuple[Proposal, ...]:
    """The proposals with the number of each numbered field told.

    "Main picture" is the first, "other picture 1" the one after it. A field that stands without a number and
    speaks of several is the whole list in one cell, where the catalogue has such a field.
    """
    found = list(proposals)
    for field in (one for one in catalogue.fields if one.numbered):
        at = [place for place, one in enumerate(found) if one.field == field.name]
        _forget_strays(found, at)
        whole = _whole_one(found, at, field)
        if whole is not None:
            found[whole] = _as_whole(found[whole], field)
            at.remove(whole)
        _number(found, at)
    return tuple(found)


def _forget_strays(found: list[Proposal], at: Sequence[int]) -> None:
    """Take out numbers that are no index: of an address, or of two digits without the one before them."""
    numbers = {found[place].number for place in at}
    for place in at:
        number, header = found[place].number, found[place].column.header
        if number is not None and ("://" in header or (number > _DIGIT and number - 1 not in numbers)):
            found[place] = replace(found[place], number=None)


def _whole_one(found: Sequence[Proposal], at: Sequence[int], field: Field) -> int | None:
    """The column of the whole list: alone without a number, and speaking of several or of the rest."""
    if not field.whole or any(one.field == field.whole for one in found):
        return None
    bare = [place for place in at if found[place].number is None]
    listed = [place for place in bare if _lists(found[place])]
    if len(listed) == 1:
        return listed[0]
    rest = [place for place in bare if _says(found[place], "other")]
    several = [place for place in bare if _plural(found[place]) and not _says(found[place], "main")]
    for candidates in (rest, several):
        if len(candidates) == 1:
            return candidates[0]
    return None


def _as_whole(one: Proposal, field: Field) -> Proposal:
    sure = one.surety is Surety.SURE and (_plural(one) or _lists(one))
    surety = Surety.SURE if sure else Surety.LIKELY
    return replace(one, field=field.whole, number=None, surety=surety)


def _number(found: list[Proposal], at: Sequence[int]) -> None:
    """Give each of these columns its number, those that say one first."""
    others = [place for place in at if _says(found[place], "other")]
    mains = [place for place in at if _says(found[place], "main") and place not in others]
    shift = 1 if others and len(others) < len(at) else 0
    taken: set[int] = set()
    for place in at:
        number = found[place].number
        if place in mains[:1] and number is None:
            number = 1
        elif number is not None and place in others:
            number += shift
        if number is not None:
            taken.add(number)
        found[place] = replace(found[place], number=number)
    following = iter(n for n in range(1, 1000) if n not in taken)
    bare = [place for place in at if found[place].number is None]
    for place in sorted(bare, key=lambda each: (each in others, each)):
        found[place] = replace(found[place], number=next(following))


def _says(one: Proposal, notion: str) -> bool:
    return any(notion in meaning.known for meaning in meanings_of(one.column.header or one.column.key))


def _plural(one: Proposal) -> bool:
    """Whether the header speaks of several: Tags, Bilder, images."""
    header, _, _ = (one.column.header or one.column.key).casefold().partition("(")
    return header.rstrip(" *:").endswith(_SEVERAL)


def _lists(one: Proposal) -> bool:
    """Whether an example lists several, or the header says how they stand apart."""
    if _APART.search(fold(one.column.header)):
        return True
    return any(sum(mark in example for mark in ",;|") for example in one.column.examples)
