"""Our program, a shell loop of ImageMagick, and a careful loop over Pillow. Each writes its files."""

import hashlib
import subprocess
from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path

from PIL import Image, ImageCms

from benchmarks.jobs import DPI, PICTURE_PX, RULES, TEE, Task, laid, placed
from hundredfold.catalogue.blanks import FileKind, PrintArea
from hundredfold.designs.facts import Box
from hundredfold.placement.layout import AreaLayout
from hundredfold.placement.place import Placement
from hundredfold.runner.inputs import CarriedInputs, SharedInputs
from hundredfold.runner.tasks import WorkPart
from hundredfold.workshop.steps.allsteps import PICTURE, PRINT_FILE, SMALL_ART
from hundredfold.workshop.steps.artwork import ArtWanted, make_from_art
from hundredfold.workshop.steps.pictures import PictureWanted, make_pictures
from hundredfold.workshop.steps.plates import Shot
from hundredfold.workshop.steps.smallart import SMALL_SIDE_PX

SIZE = (3600, 4500)
JPEG_QUALITY, PICTURE_QUALITY = 95, 90


def suffix(area: PrintArea) -> str:
    """The extension of the area's files."""
    return "jpg" if area.file_kind is FileKind.JPEG else "png"


def ours(art: Path, task: Task, out: Path) -> None:
    """What workers of ours do for one design: print files, then mock-ups from its small copy."""
    digest = hashlib.sha256(art.read_bytes()).hexdigest()
    wanted: list[tuple[str, AreaLayout | None]] = []
    wanted += [(PRINT_FILE.name, laid(area, *SIZE)) for area in task.areas]
    wanted += [(SMALL_ART.name, None)] if task.colours else []
    inputs = SharedInputs("", {digest: str(art)})
    made = make_from_art(
        [WorkPart(step, "", {"design art": digest}, ArtWanted(art.name, layout)) for step, layout in wanted],
        inputs,
    )
    for area, data in zip(task.areas, made, strict=False):
        (out / f"{area.name}.{suffix(area)}").write_bytes(data)
    if task.colours:
        scale = SMALL_SIDE_PX / max(SIZE)
        crop = Box(0, 0, round(SIZE[0] * scale), round(SIZE[1] * scale))
        first = task.areas[0]
        where = (replace(placed(first, *SIZE), crop=crop),)
        shots = [PictureWanted(Shot(TEE, first, c), where, RULES) for c in task.colours]
        parts = [WorkPart(PICTURE.name, "", {"small art": "copy"}, shot) for shot in shots]
        for colour, data in zip(
            task.colours, make_pictures(parts, CarriedInputs({"copy": made[-1]})), strict=True
        ):
            (out / f"{colour.code}.jpg").write_bytes(data)


@dataclass(frozen=True)
class Panel:
    """Where the peers paste a rectangle in the blank's colour, in the picture's pixels."""

    left: int
    top: int
    width: int
    height: int


def panel_of(area: PrintArea, width_px: int, height_px: int) -> Panel:
    """The area at four fifths of the picture, centred a little above the middle."""
    scale = min(width_px * 0.8 / area.width_px, height_px * 0.8 / area.height_px)
    width, height = round(area.width_px * scale), round(area.height_px * scale)
    return Panel((width_px - width) // 2, round((height_px - height) * 0.46), width, height)


def imagemagick(art: Path, task: Task, out: Path, png_options: tuple[str, ...] = ()) -> None:
    """One ``convert`` for each file, as a shell loop does it."""
    for area in task.areas:
        placement = placed(area, *SIZE)
        flat = area.file_kind is FileKind.JPEG
        command = ["convert", str(art), *_im_size(placement.width_px, placement.height_px)]
        command += ["-background", "white" if flat else "none", *(["-flatten"] if flat else [])]
        corner = f"-{placement.left_px}-{placement.top_px}"
        command += ["-extent", f"{area.width_px}x{area.height_px}{corner}"]
        command += ["-density", str(DPI), "-units", "PixelsPerInch"]
        command += ["-quality", str(JPEG_QUALITY), "-sampling-factor", "4:4:4"] if flat else png_options
        subprocess.run([*command, str(out / f"{area.name}.{suffix(area)}")], check=True)
    placement = placed(task.areas[0], *SIZE)
    panel, left, top = _where(placement)
    size = _im_size(*_art_size(placement))
    for colour in task.colours:
        command = ["convert", "-size", f"{PICTURE_PX}x{PICTURE_PX}", "xc:#e9e6e1"]
        command += ["(", "-size", f"{panel.width}x{panel.height}", f"xc:{colour.srgb.hex}", ")"]
        command += ["-geometry", f"+{panel.left}+{panel.top}", "-composite"]
        command += ["(", str(art), *size, ")", "-geometry", f"+{left}+{top}", "-composite"]
        command += ["-quality", str(PICTURE_QUALITY), "-sampling-factor", "4:2:0"]
        subprocess.run([*command, str(out / f"{colour.code}.jpg")], check=True)


def _im_size(width: int, height: int) -> list[str]:
    return ["-filter", "Lanczos", "-resize", f"{width}x{height}!"]


def _art_size(placement: Placement) -> tuple[int, int]:
    panel, area = panel_of(placement.area, PICTURE_PX, PICTURE_PX), placement.area
    return (
        round(placement.width_px * panel.width / area.width_px),
        round(placement.height_px * panel.height / area.height_px),
    )


def _where(placement: Placement) -> tuple[Panel, int, int]:
    """The panel of the pictures, and the art's corner on the picture."""
    panel, area = panel_of(placement.area, PICTURE_PX, PICTURE_PX), placement.area
    left = panel.left + round(placement.left_px * panel.width / area.width_px)
    return panel, left, panel.top + round(placement.top_px * panel.height / area.height_px)


def imagemagick_tuned(art: Path, task: Task, out: Path) -> None:
    """The same with the fast PNG settings that we use."""
    settings = ("-define", "png:compression-level=2", "-define", "png:compression-filter=2")
    imagemagick(art, task, out, settings)


def pillow(art: Path, task: Task, out: Path, level: int = 6) -> None:
    """Decode once, resize once for each size, paste, save."""
    with Image.open(art) as opened:
        image = opened.convert("RGBA")
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    for area in task.areas:
        placement = placed(area, *SIZE)
        small = image.resize((placement.width_px, placement.height_px), Image.Resampling.LANCZOS)
        flat = area.file_kind is FileKind.JPEG
        sheet = Image.new(
            "RGB" if flat else "RGBA", (area.width_px, area.height_px), "white" if flat else None
        )
        sheet.paste(small, (placement.left_px, placement.top_px), small if flat else None)
        path = out / f"{area.name}.{suffix(area)}"
        if flat:
            sheet.save(path, quality=JPEG_QUALITY, subsampling=0, dpi=(DPI, DPI), icc_profile=profile)
        else:
            sheet.save(path, compress_level=level, dpi=(DPI, DPI), icc_profile=profile)
    placement = placed(task.areas[0], *SIZE)
    panel, left, top = _where(placement)
    if task.colours:
        small = image.resize(_art_size(placement), Image.Resampling.LANCZOS)
    for colour in task.colours:
        picture = Image.new("RGB", (PICTURE_PX, PICTURE_PX), "#e9e6e1")
        picture.paste(
            colour.srgb, (panel.left, panel.top, panel.left + panel.width, panel.top + panel.height)
        )
        picture.paste(small, (left, top), small)
        picture.save(out / f"{colour.code}.jpg", quality=PICTURE_QUALITY)


def pillow_tuned(art: Path, task: Task, out: Path) -> None:
    """The same with Pillow's fastest PNG level."""
    pillow(art, task, out, level=1)


CONTENDERS: dict[str, Callable[[Path, Task, Path], None]] = {
    "Hundredfold": ours,
    "ImageMagick loop": imagemagick,
    "ImageMagick, fast PNG": imagemagick_tuned,
    "Pillow, once decoded": pillow,
    "Pillow, fast PNG": pillow_tuned,
}
