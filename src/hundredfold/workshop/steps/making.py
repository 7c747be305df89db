"""Print files and pictures of planned listings: what to make, under which names, from which recipes."""

import re
import unicodedata
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import asdict, dataclass, replace

from hundredfold.catalogue.blanks import BlankColour, FileKind
from hundredfold.handoff.rows import RowPicture
from hundredfold.mockups.fitting import pictured_body
from hundredfold.mockups.measures import measures_of
from hundredfold.mockups.registry import Role, plate_for, roles_of
from hundredfold.placement.layout import AreaLayout
from hundredfold.placement.place import Placement
from hundredfold.planning.sizing import variants_of
from hundredfold.runner.tasks import Task
from hundredfold.workshop.listing.offers import Offer
from hundredfold.workshop.steps.allsteps import PICTURE, PRINT_FILE
from hundredfold.workshop.steps.artwork import ArtWanted
from hundredfold.workshop.steps.items import area_name, picture_item, print_item
from hundredfold.workshop.steps.pictures import PictureWanted
from hundredfold.workshop.steps.plates import Shot, plate_of
from hundredfold.workshop.steps.smallart import crop_in_small

# Where there is little room, a buyer learns most from the size, then from the other side, then from a nearer
# look. Common practice, no source.
_WORTH = (Role.SIZE, Role.OTHER_SIDE, Role.CLOSE_UP, Role.ALL_COLOURS)
_ANOTHER = "another colour"
_TOGETHER = 9  # colours in one picture: with more, each is too small to be told from the next
_SUFFIX = {FileKind.PNG: "png", FileKind.JPEG: "jpg", FileKind.TIFF: "tif"}


@dataclass(frozen=True)
class PackMember:
    """One file of a pack to make: its member name, its build item and step, and its size in pixels."""

    member: str
    item: str
    step: str
    width_px: int
    height_px: int
    dpi: int


@dataclass(frozen=True)
class Pieces:
    """Everything a listing's rows name, and the tasks that make it."""

    artwork: Mapping[tuple[str, str], Mapping[str, str]]  # (colour, size) -> print area -> member
    pictures: Mapping[str, tuple[RowPicture, ...]]  # colour -> pictures
    pieces: tuple[PackMember, ...]
    tasks: tuple[Task, ...]


def plain_name(text: str) -> str:
    """Lower-case ASCII words joined by hyphens, safe in any archive and file system."""
    folded = unicodedata.normalize("NFKD", text).encode("ascii", "ignore").decode()
    return re.sub(r"[^a-z0-9]+", "-", folded.lower()).strip("-")


@dataclass(frozen=True)
class Groups:
    """The groups of a listing's tasks: prints go by design, pictures by blank."""

    prints: str
    pictures: str


def pieces_of(offer: Offer, small: str, groups: Groups) -> Pieces:
    """The files of one listing: a print file an area, and for each colour its own pictures.

    ``small`` is the digest of the small copy of its art. Pictures show the size that the blank's body is of,
    where it is offered, else each colour's first.
    """
    artwork: dict[tuple[str, str], Mapping[str, str]] = {}
    mains: dict[str, AreaLayout] = {}
    made: dict[str, tuple[PackMember, Task]] = {}
    maker = _Maker(offer, small, groups)
    variants = variants_of(offer.blank, offer.colours)
    # Plates are of the body's size: another's print would be too small or too large on it.
    pictured = offer.proof.layouts.get(offer.blank.body.size)
    for variant in variants:
        layout = offer.proof.layouts[variant.size]
        print_file = maker.print_file(layout)
        made.setdefault(print_file[0].member, print_file)
        artwork[(variant.colour, variant.size)] = {layout.area.name: print_file[0].member}
        mains.setdefault(variant.colour, pictured or layout)
    every = {
        (colour, role): maker.picture(layout, colour, role, tuple(mains))
        for colour, layout in mains.items()
        for role in _roles(offer, layout, len(mains))
    }
    made.update((one[0].member, one) for one in every.values())
    shown = {key: RowPicture(key[1].value, one[0].member) for key, one in every.items()}
    most = offer.channel.pictures.max_count
    pictures = {colour: _of_colour(shown, colour)[:most] for colour in mains}
    pieces, tasks = zip(*made.values(), strict=True) if made else ((), ())
    return Pieces(artwork, pictures, pieces, tasks)


def _roles(offer: Offer, layout: AreaLayout, colours: int) -> tuple[Role, ...]:
    """The pictures of each colour, as far as the channel takes pictures."""
    every = [role for role in roles_of(plate_for(offer.blank, layout.area)) if role is not Role.MAIN]
    if colours < 2:
        every.remove(Role.ALL_COLOURS)
    kept = sorted(every, key=_WORTH.index)[: max(0, offer.channel.pictures.max_count - 1)]
    return (Role.MAIN, *(role for role in every if role in kept))


def _of_colour(shown: Mapping[tuple[str, Role], RowPicture], colour: str) -> tuple[RowPicture, ...]:
    """A colour's own pictures, then the other colours' main ones."""
    own = [picture for (code, _), picture in shown.items() if code == colour]
    others = [
        replace(picture, role=_ANOTHER)
        for (code, role), picture in shown.items()
        if role is Role.MAIN and code != colour
    ]
    return (*own, *others)


class _Maker:
    def __init__(self, offer: Offer, small: str, groups: Groups) -> None:
        self._offer = offer
        self._small = small
        self._groups = groups
        stem = offer.design.path.rsplit("/", 1)[-1].rsplit(".", 1)[0]
        # A name without Latin letters leaves nothing: no file name may begin with a mark that a spreadsheet
        # takes for a formula.
        names = (plain_name(stem)[:60], offer.design.id.lower(), plain_name(offer.blank.code))
        self._start = "-".join(filter(None, names))

    def print_file(self, layout: AreaLayout) -> tuple[PackMember, Task]:
        area, facts = layout.area, self._offer.design.facts
        member = f"{self._start}-{plain_name(area_name(area))}.{_SUFFIX[area.file_kind]}"
        item = print_item(self._offer.design.path, self._offer.blank.code, area)
        task = PRINT_FILE.task(
            item,
            self._groups.prints,
            {"design art": facts.digest},
            {"layout": plain_layout(layout)},
            ArtWanted(self._offer.design.path, layout),
        )
        return PackMember(member, item, PRINT_FILE.name, area.width_px, area.height_px, area.dpi), task

    def picture(
        self, layout: AreaLayout, colour_code: str, role: Role, colours: tuple[str, ...]
    ) -> tuple[PackMember, Task]:
        blank, rules = self._offer.blank, self._offer.channel.pictures
        together = tuple(map(blank.colour, colours[:_TOGETHER])) if role is Role.ALL_COLOURS else ()
        colour = together[0] if together else blank.colour(colour_code)
        shot = Shot(blank, layout.area, colour, role, together)
        end = "" if role is Role.MAIN else f"-{plain_name(role.value)}"
        of = "" if together else f"-{plain_name(colour_code)}"
        member = f"{self._start}{of}{end}.jpg"
        told = asdict(measures_of(blank, layout.area, rules.lengths)) if role is Role.SIZE else None
        codes = tuple(one.code for one in together)
        item = picture_item(self._offer.design.path, blank.code, colour_code, role, rules, codes)
        facts = self._offer.design.facts
        placements = tuple(
            replace(placed, crop=crop_in_small(placed.crop, facts)) for placed in layout.placements
        )
        task = PICTURE.task(
            item,
            self._groups.pictures,
            {"small art": self._small, **plate_of(shot)},
            {
                "layout": plain_layout(AreaLayout(layout.area, placements)),
                "body": asdict(pictured_body(blank, layout.area)),
                "blank colour": colour.srgb.hex,
                "second colour": colour.second.hex if colour.second else None,
                "underbase": colour.underbase,
                "together": [_coat(one) for one in together],
                "process": blank.process.value,
                "role": role.value,
                "measures": told,
                "picture": f"{rules.width_px}x{rules.height_px}",
                "largest bytes": rules.max_bytes,
            },
            PictureWanted(shot, placements, rules),
        )
        return PackMember(member, item, PICTURE.name, rules.width_px, rules.height_px, 0), task


def plain_layout(layout: AreaLayout) -> dict[str, object]:
    """A layout as a recipe's plain values: what decides its pixels and nothing else."""
    area = layout.area
    return {
        "area": {
            "width_px": area.width_px,
            "height_px": area.height_px,
            "dpi": area.dpi,
            "file": area.file_kind.value,
            "transparent": area.transparent,
            "mirrored": area.mirrored,
            "max_bytes": area.max_bytes or 0,
            "cone": asdict(area.cone) if area.cone else None,
        },
        "bleed_mm": area.bleed_mm,
        "safe_margin_mm": area.safe_margin_mm,
        "placements": [_spot(placement) for placement in layout.placements],
    }


def _coat(colour: BlankColour) -> list[object]:
    return [colour.srgb.hex, colour.second.hex if colour.second else None, colour.underbase]


def _spot(placement: Placement) -> dict[str, list[int]]:
    crop = placement.crop
    return {
        "crop": [crop.left, crop.top, crop.right, crop.bottom],
        "at": [placement.left_px, placement.top_px, placement.width_px, placement.height_px],
    }


def unique_tasks(tasks: Iterable[Task]) -> Iterator[Task]:
    """Each (item, step) once: two channels may want the same picture."""
    seen: set[tuple[str, str]] = set()
    for task in tasks:
        name = (task.item, task.recipe.step)
        if name not in seen:
            seen.add(name)
            yield task
