"""Print files and pictures of planned listings: what to make, under which names, from which recipes."""

import re
import unicodedata
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import asdict, dataclass

from hundredfold.build.recipes import Recipe
from hundredfold.build.tasks import Task
from hundredfold.catalogue.blanks import FileKind, PrintArea
from hundredfold.designs.design import Design
from hundredfold.handoff.rows import RowPicture
from hundredfold.mockups.flat import PREVIEW_VERSION
from hundredfold.placement.layout import Layout
from hundredfold.placement.place import Placement
from hundredfold.placement.printfile import PRINT_VERSION
from hundredfold.planning.sizing import variants_of
from hundredfold.workshop.artwork import ArtworkWork, PreviewWanted, PrintWanted, Wanted
from hundredfold.workshop.offers import Offer
from hundredfold.workshop.stepversions import engines

_SUFFIX = {FileKind.PNG: "png", FileKind.JPEG: "jpg", FileKind.TIFF: "tif"}


@dataclass(frozen=True)
class Piece:
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
    pieces: tuple[Piece, ...]
    tasks: tuple[Task, ...]


def plain_name(text: str) -> str:
    """Lower-case ASCII words joined by hyphens, safe in any archive and file system."""
    folded = unicodedata.normalize("NFKD", text).encode("ascii", "ignore").decode()
    return re.sub(r"[^a-z0-9]+", "-", folded.lower()).strip("-")


def pieces_of(offer: Offer, file: str, group: str) -> Pieces:
    """The files of one listing. ``file`` is the absolute path of the art, ``group`` the tasks' group."""
    artwork: dict[tuple[str, str], Mapping[str, str]] = {}
    pictures: dict[str, tuple[RowPicture, ...]] = {}
    pieces: dict[str, Piece] = {}
    tasks: dict[str, Task] = {}
    maker = _Maker(offer, file, group)
    for variant in variants_of(offer.blank, offer.colours):
        layout = offer.proof.layouts[variant.size]
        for piece, task in (maker.print_file(layout), maker.picture(layout, variant.colour)):
            pieces.setdefault(piece.member, piece)
            tasks.setdefault(piece.member, task)
        member = maker.print_file(layout)[0].member
        artwork[(variant.colour, variant.size)] = {layout.area.name: member}
        main = RowPicture("main", maker.picture(layout, variant.colour)[0].member)
        pictures.setdefault(variant.colour, (main,))
    return Pieces(artwork, pictures, tuple(pieces.values()), tuple(tasks.values()))


class _Maker:
    def __init__(self, offer: Offer, file: str, group: str) -> None:
        self._offer = offer
        self._file = file
        self._group = group
        stem = offer.design.path.rsplit("/", 1)[-1].rsplit(".", 1)[0]
        self._start = f"{plain_name(stem)[:60]}-{offer.design.id.lower()}-{plain_name(offer.blank.code)}"

    def print_file(self, layout: Layout) -> tuple[Piece, Task]:
        area = layout.area
        member = f"{self._start}-{plain_name(_area_name(area))}.{_SUFFIX[area.file_kind]}"
        item = f"{self._offer.design.path} on {self._offer.blank.code}, {_area_name(area)}"
        recipe = self._recipe("print-file", PRINT_VERSION, {"layout": _plain(layout)})
        piece = Piece(member, item, recipe.step, area.width_px, area.height_px, area.dpi)
        return piece, self._task(item, recipe, PrintWanted(layout))

    def picture(self, layout: Layout, colour_code: str) -> tuple[Piece, Task]:
        blank, rules = self._offer.blank, self._offer.channel.pictures
        colour = blank.colour(colour_code)
        size = f"{rules.width_px}x{rules.height_px}"
        member = f"{self._start}-{plain_name(colour_code)}-flat-preview.jpg"
        item = f"{self._offer.design.path} on {blank.code}, {colour.name}, flat preview {size}"
        params = {
            "layout": _plain(layout),
            "blank colour": colour.srgb.hex,
            "second colour": colour.second.hex if colour.second else None,
            "underbase": colour.underbase,
            "process": blank.process.value,
            "picture": size,
        }
        recipe = self._recipe("flat-preview", PREVIEW_VERSION, params)
        wanted = PreviewWanted(layout, colour, blank.process, rules.width_px, rules.height_px)
        piece = Piece(member, item, recipe.step, rules.width_px, rules.height_px, 0)
        return piece, self._task(item, recipe, wanted)

    def _recipe(self, step: str, version: int, params: Mapping[str, object]) -> Recipe:
        return Recipe(step, version, engines(), params, {"design art": self._offer.design.facts.digest})

    def _task(self, item: str, recipe: Recipe, wanted: Wanted) -> Task:
        design: Design = self._offer.design
        work = ArtworkWork(self._file, design.facts.digest, (wanted,), design.path)
        return Task(item, recipe, self._group, work)


def _area_name(area: PrintArea) -> str:
    # One name may stand for areas of several sizes: the sizes tell them apart.
    return " ".join((area.name, *area.for_sizes))


def _plain(layout: Layout) -> dict[str, object]:
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


def merged_work(tasks: Sequence[Task]) -> ArtworkWork:
    """One record for the missing tasks of a design, so that its art is decoded once for all of them."""
    works = [task.wanted for task in tasks if isinstance(task.wanted, ArtworkWork)]
    first = works[0]
    outputs = tuple(wanted for work in works for wanted in work.outputs)
    return ArtworkWork(first.path, first.digest, outputs, first.name)


def unique_tasks(tasks: Iterable[Task]) -> Iterator[Task]:
    """Each (item, step) once: two channels may want the same picture."""
    seen: set[tuple[str, str]] = set()
    for task in tasks:
        name = (task.item, task.recipe.step)
        if name not in seen:
            seen.add(name)
            yield task
