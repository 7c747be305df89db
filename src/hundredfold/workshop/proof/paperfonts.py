"""The fonts of the proof sheet on paper: two packaged families, and others for further scripts."""

from functools import lru_cache
from pathlib import Path

import fontpkg

from hundredfold.designs.typesetting.fonts import Font, load_font
from hundredfold.proofing.sheet.faces import FontFiles
from hundredfold.workshop.shop.typefaces import find_font, font_names

_SERIF, _SANS = "Source Serif 4", "Source Sans 3"


def paper_fonts(letters: frozenset[str], folder: Path) -> FontFiles:
    """The two families; for letters they lack, fonts of the shop's ``folder`` first, then packaged ones."""
    serif, sans = _file_of(_SERIF), _file_of(_SANS)
    fonts = (load_font(serif, _SERIF), load_font(sans, _SANS))
    missing = {one for one in letters if not all(font.covers(one) for font in fonts)}
    return FontFiles(serif, sans, _for_letters(missing, folder))


def _for_letters(missing: set[str], folder: Path) -> tuple[Font, ...]:
    more: list[Font] = []
    own = {path.name for path in folder.iterdir()} if folder.is_dir() else set()
    for name in sorted(font_names(folder), key=lambda name: (name not in own, name)) if missing else ():
        font = find_font(name, 400, folder)
        found = {one for one in missing if font.covers(one)}
        if found:
            more.append(font)
            missing = missing - found
    return tuple(more)


@lru_cache(maxsize=2)
def _file_of(family: str) -> bytes:
    return bytes(fontpkg.select_file(fontpkg.family(family), 400, "normal", True).path.read_bytes())
