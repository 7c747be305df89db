"""The page's two faces, from the font packages installed with the program."""

from functools import cache

import fontpkg

# File as the style sheet calls it: family, upright or slanted.
FACES = {
    "vollkorn.ttf": ("vollkorn", "normal"),
    "vollkorn-italic.ttf": ("vollkorn", "italic"),
    "chivo.ttf": ("chivo", "normal"),
}


@cache
def face(name: str) -> bytes | None:
    """The font file that the style sheet calls ``name``, or None where there is none of that name."""
    if name not in FACES:
        return None
    family, style = FACES[name]
    return bytes(fontpkg.select_file(fontpkg.family(family), 400, style, True).path.read_bytes())
