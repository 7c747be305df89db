"""Pictures of decorated blanks as build work: many designs on one blank, so that its plate is loaded once."""

from collections.abc import Sequence
from dataclasses import dataclass

from hundredfold.catalogue.blanks import BlankColour
from hundredfold.catalogue.channels import PictureRules
from hundredfold.placement.place import Placement
from hundredfold.workshop.steps.plates import BASES_HELD, Pictures, Shot, View, as_file, view_for
from hundredfold.workshop.steps.smallart import read_small_art


@dataclass(frozen=True)
class PictureWanted:
    """One picture of one design. ``placements`` speak of the small copy's pixels."""

    art_file: str
    shot: Shot
    placements: tuple[Placement, ...]
    rules: PictureRules


@dataclass(frozen=True)
class PictureWork:
    """The pictures of one group, those of one design next to each other."""

    wanted: tuple[PictureWanted, ...]


def picture_all(work: PictureWork) -> tuple[bytes, ...]:
    """The finished JPEGs in order. Raises ShopError ``no-plate``, ``bad-plate``, ``art-missing``."""
    made: dict[int, bytes] = {}
    current, pictures = "", None
    for place in _order(work.wanted):
        wanted = work.wanted[place]
        if pictures is None or wanted.art_file != current:
            current, pictures = wanted.art_file, Pictures(read_small_art(wanted.art_file))
        rules = wanted.rules
        made[place] = as_file(pictures.picture(wanted.shot, wanted.placements, rules.lengths), rules)
    return tuple(made[place] for place in range(len(work.wanted)))


def _order(wanted: Sequence[PictureWanted]) -> list[int]:
    """View by view, so that few large maps are held; in a view some colours at a time, as many as are held;
    of these design by design; and what comes from one mock-up together."""
    seen: dict[object, int] = {}

    def first(what: object) -> int:
        return seen.setdefault(what, len(seen))

    def key(place: int) -> tuple[int, ...]:
        one = wanted[place]
        view = view_for(one.shot)
        colour = colours.setdefault((view, one.shot.colour), len([c for c in colours if c[0] == view]))
        return (first(view), colour // BASES_HELD, first(one.art_file), first(one.placements), colour, place)

    colours: dict[tuple[View, BlankColour], int] = {}
    return sorted(range(len(wanted)), key=key)


def picture_work(wanted: Sequence[PictureWanted]) -> PictureWork:
    """One record for a group."""
    return PictureWork(tuple(wanted))
