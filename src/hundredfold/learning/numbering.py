"""Numbers for the columns of one numbered field: Picture 1 to 8, Tag, Tag, Tag, or all in one cell."""

from collections.abc import Sequence
from dataclasses import replace

from hundredfold.learning.fields import FieldCatalogue
from hundredfold.learning.meaning import meaning_of
from hundredfold.learning.seen import Proposal


def number_them(proposals: Sequence[Proposal], catalogue: FieldCatalogue) -> tuple[Proposal, ...]:
    """The proposals with the number of each numbered field told.

    "Main picture" is the first, "other picture 1" the one after it. A field that stands once and says no
    number is the whole list in one cell, where the catalogue has such a field and the header says several.
    """
    found = list(proposals)
    for field in (one for one in catalogue.fields if one.numbered):
        at = [place for place, one in enumerate(found) if one.field == field.name]
        if not at:
            continue
        others = [place for place in at if "other" in _notions(found[place])]
        mains = [place for place in at if "main" in _notions(found[place])]
        shift = 1 if others and (mains or len(others) < len(at)) else 0
        if shift and not mains and any(found[p].number == 1 for p in at if p not in others):
            shift = 1
        taken: set[int] = set()
        for place in at:
            one = found[place]
            number = one.number
            if place in mains and number is None:
                number = 1
            elif number is not None and place in others:
                number += shift
            if number is not None:
                taken.add(number)
            found[place] = replace(one, number=number)
        bare = [place for place in at if found[place].number is None]
        if (
            len(bare) == 1
            and field.whole
            and (bare[0] in others or (len(at) == 1 and _plural(found[bare[0]])))
        ):
            found[bare[0]] = replace(found[bare[0]], field=field.whole, number=None)
            continue
        following = iter(n for n in range(1, 1000) if n not in taken)
        for place in bare:
            found[place] = replace(found[place], number=next(following))
    return tuple(found)


def _notions(one: Proposal) -> frozenset[str]:
    return meaning_of(one.column.header or one.column.key).known


def _plural(one: Proposal) -> bool:
    """Whether the header speaks of several: Tags, Bilder, images, or its example lists some."""
    header = (one.column.header or one.column.key).casefold().rstrip(" *:)")
    several = any(sum(mark in example for mark in ",;|") for example in one.column.examples)
    return several or header.endswith(
        ("s", "bilder", "liste", "list", "immagini", "foto's", "parole", "fotos")
    )
