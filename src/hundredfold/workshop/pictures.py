"""Pictures of decorated blanks as build work: many designs on one blank, so that its plate is loaded once."""

from collections.abc import Sequence
from dataclasses import dataclass

from hundredfold.catalogue.channels import PictureRules
from hundredfold.mockups.registry import Role
from hundredfold.placement.place import Placement
from hundredfold.workshop.plates import Pictures, Shot, as_file
from hundredfold.workshop.smallart import read_small_art


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
    """The finished JPEGs in order. Raises ShopError ``no-plate``, ``bad-plate``, ``art-missing``.

    Worked through view by view: a view's maps are large, so few of them are held at once.
    """
    made: dict[int, bytes] = {}
    current, pictures = "", None
    roles = list(Role)
    order = sorted(enumerate(work.wanted), key=lambda pair: (roles.index(pair[1].shot.role), pair[0]))
    for place, wanted in order:
        if pictures is None or wanted.art_file != current:
            current, pictures = wanted.art_file, Pictures(read_small_art(wanted.art_file))
        made[place] = as_file(pictures.picture(wanted.shot, wanted.placements), wanted.rules)
    return tuple(made[place] for place in range(len(work.wanted)))


def picture_work(wanted: Sequence[PictureWanted]) -> PictureWork:
    """One record for a group."""
    return PictureWork(tuple(wanted))
