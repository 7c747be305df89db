"""Print files and pictures of planned listings: what to make, under which names, from which recipes."""

import re
import unicodedata
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import asdict, dataclass, replace

from hundredfold.catalogue.blanks import FileKind, PrintArea
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
from hundredfold.workshop.steps.pictures import PictureWanted
from hundredfold.workshop.steps.plates import Shot, plate_of
from hundredfold.workshop.steps.smallart import crop_in_small

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
    """The files of one listing: a print file an area, a main picture a colour, the other roles once.

    ``small`` is the digest of the small copy of its art. Pictures show the size that the blank's body is of,
    where it is offered, else each colour's first.
    """
    artwork: dict[tuple[str, str], Mapping[str, str]] = {}
    mains: dict[str, RowPicture] = {}
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
        if variant.colour not in mains:
            main = maker.picture(pictured or layout, variant.colour, Role.MAIN)
            made.setdefault(main[0].member, main)
            mains[variant.colour] = RowPicture(Role.MAIN.value, main[0].member)
    extras: list[RowPicture] = []
    if variants:
        first = pictured or offer.proof.layouts[variants[0].size]
        for role in _further_roles(offer, first):
            extra = maker.picture(first, variants[0].colour, role)
            made.setdefault(extra[0].member, extra)
            extras.append(RowPicture(role.value, extra[0].member))
    pictures = {colour: (main, *extras) for colour, main in mains.items()}
    pieces, tasks = zip(*made.values(), strict=True) if made else ((), ())
    return Pieces(artwork, pictures, pieces, tasks)


def _further_roles(offer: Offer, layout: AreaLayout) -> tuple[Role, ...]:
    """What a listing shows beside its main pictures, as far as the channel takes pictures."""
    entry = plate_for(offer.blank, layout.area)
    every = roles_of(entry)
    # Where there is another side to show, it says more than a nearer look at the first.
    spare = {Role.MAIN, Role.CLOSE_UP} if Role.OTHER_SIDE in every else {Role.MAIN}
    roles = [role for role in every if role not in spare]
    # Where there is little room, a buyer learns most from the size, then from a nearer look.
    order = sorted(roles, key=(Role.SIZE, Role.CLOSE_UP, Role.OTHER_SIDE).index)
    kept = order[: max(0, offer.channel.pictures.max_count - 1)]
    return tuple(role for role in roles if role in kept)


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
        member = f"{self._start}-{plain_name(_area_name(area))}.{_SUFFIX[area.file_kind]}"
        item = f"{self._offer.design.path} on {self._offer.blank.code}, {_area_name(area)}"
        task = PRINT_FILE.task(
            item,
            self._groups.prints,
            {"design art": facts.digest},
            {"layout": plain_layout(layout)},
            ArtWanted(self._offer.design.path, layout),
        )
        return PackMember(member, item, PRINT_FILE.name, area.width_px, area.height_px, area.dpi), task

    def picture(self, layout: AreaLayout, colour_code: str, role: Role) -> tuple[PackMember, Task]:
        blank, rules = self._offer.blank, self._offer.channel.pictures
        colour, shot = blank.colour(colour_code), Shot(blank, layout.area, blank.colour(colour_code), role)
        size = f"{rules.width_px}x{rules.height_px}"
        end = "" if role is Role.MAIN else f"-{plain_name(role.value)}"
        member = f"{self._start}-{plain_name(colour_code)}{end}.jpg"
        # All that one channel may ask otherwise than another is in the name, or one would get the other's.
        most = f" of {rules.max_bytes:,} bytes at most" if rules.max_bytes else ""
        told = asdict(measures_of(blank, layout.area, rules.lengths)) if role is Role.SIZE else None
        most += f" in {rules.lengths.value}" if told else ""
        item = f"{self._offer.design.path} on {blank.code}, {colour.name}, {role.value} picture {size}{most}"
        facts = self._offer.design.facts
        placements = tuple(
            replace(placed, crop=crop_in_small(placed.crop, facts)) for placed in layout.placements
        )
        task = PICTURE.task(
            item,
            self._groups.pictures,
            {"small art": self._small, "plate": plate_of(shot)},
            {
                "layout": plain_layout(AreaLayout(layout.area, placements)),
                "body": asdict(pictured_body(blank, layout.area)),
                "blank colour": colour.srgb.hex,
                "second colour": colour.second.hex if colour.second else None,
                "underbase": colour.underbase,
                "process": blank.process.value,
                "role": role.value,
                "measures": told,
                "picture": size,
                "largest bytes": rules.max_bytes,
            },
            PictureWanted(shot, placements, rules),
        )
        return PackMember(member, item, PICTURE.name, rules.width_px, rules.height_px, 0), task


def _area_name(area: PrintArea) -> str:
    # One name may stand for areas of several sizes: the sizes tell them apart.
    return " ".join((area.name, *area.for_sizes))


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
