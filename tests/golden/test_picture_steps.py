"""Pixels of the picture-making steps, pinned beside their version numbers.

A pin that breaks means the step's output changed: raise the step's version, then pin the new digest.
Decoded pixels are pinned, not file bytes, so that a newer encoder alone breaks nothing; on one processor
family, where filters round alike.
"""

import dataclasses
import hashlib
import io
import os
import platform
import subprocess
import sys

import numpy as np
import pytest
from goods import shirt as a_shirt
from numpy.typing import NDArray
from openmoji import design_pixels
from PIL import Image

from hundredfold.catalogue.blanks import BlankColour, FileKind, PrintArea
from hundredfold.catalogue.processes import Process
from hundredfold.designs.alpha import clear_hidden
from hundredfold.designs.decode import Picture
from hundredfold.designs.facts import Box
from hundredfold.kernel.colour import Srgb
from hundredfold.placement.layout import AreaLayout
from hundredfold.placement.place import Placement
from hundredfold.placement.printfile import print_file
from hundredfold.workshop.steps.allsteps import PICTURE, PRINT_BYTES, PRINT_FILE
from hundredfold.workshop.steps.plates import Pictures, Shot

pytestmark = pytest.mark.skipif(
    platform.machine().lower() not in ("x86_64", "amd64"), reason="pinned on another processor family"
)

PRINTS = {
    "png shrunk": "2f9c326dca41fb58",
    "png enlarged": "c643166333650d9e",
    "tiff flattened and mirrored": "711683794a4a6869",
}
PICTURES = {
    Process.SUBLIMATION: "3205a2eb1c9f88a6",
    Process.DTG: "78f8aad3cf03a0e6",
}


def art() -> NDArray[np.uint8]:
    pixels = design_pixels("honeybee", 180)
    clear_hidden(pixels)
    return pixels


def digest(pixels: NDArray[np.uint8]) -> str:
    return hashlib.sha256(np.ascontiguousarray(pixels).tobytes()).hexdigest()[:16]


def digest_of(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()


def printed(case: str) -> bytes:
    sides = {"png shrunk": (100, 125), "png enlarged": (300, 375), "tiff flattened and mirrored": (100, 125)}
    plain = case.startswith("png")
    kind = FileKind.PNG if plain else FileKind.TIFF
    area = PrintArea("front", 320, 400, 300, file_kind=kind, transparent=plain, mirrored=not plain)
    placement = Placement(area, Box(0, 0, 180, 225), 10, 12, *sides[case], 300.0)
    return print_file(Picture(art(), "png", 8, "", None, has_alpha=True), AreaLayout(area, (placement,)))


@pytest.mark.parametrize("case", list(PRINTS))
def test_print_files(case: str) -> None:
    assert PRINT_FILE.version == PRINT_BYTES.version == (3,)
    with Image.open(io.BytesIO(printed(case))) as image:
        assert digest(np.asarray(image)) == PRINTS[case]


@pytest.mark.parametrize("process", list(PICTURES))
def test_pictures(process: Process) -> None:
    assert PICTURE.version == (6, 7)
    area = PrintArea("front", 320, 400, 30)
    navy = BlankColour("navy", "Navy", Srgb(27, 42, 78), underbase=process is Process.DTG)
    shirt = dataclasses.replace(a_shirt(), process=process, areas=(area,), colours=(navy,))
    placement = Placement(area, Box(0, 0, 180, 225), 10, 12, 300, 375, 300.0)
    picture = Pictures(art()).picture(Shot(shirt, area, navy), [placement])
    assert digest(picture) == PICTURES[process]


def test_fresh_processes_write_the_same_bytes() -> None:
    """Whatever the hash seed, the locale, the time zone and the number of threads asked for."""
    code = "import test_picture_steps as t; print([t.digest_of(t.printed(c)) for c in t.PRINTS])"
    here = os.path.dirname(__file__)
    seen = set()
    for settings in (
        {"PYTHONHASHSEED": "1"},
        {"PYTHONHASHSEED": "2", "VIPS_CONCURRENCY": "4", "TZ": "Asia/Tokyo"},
    ):
        path = os.pathsep.join([here, *sys.path])
        ran = subprocess.run(
            [sys.executable, "-c", code],
            env={**os.environ, **settings, "PYTHONPATH": path},
            capture_output=True,
            check=True,
        )
        seen.add(ran.stdout)
    assert len(seen) == 1
