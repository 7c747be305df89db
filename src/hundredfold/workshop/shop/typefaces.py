"""Where fonts come from: the shop's own fonts/ folder, then the font packages installed with the program.

The system's fonts are never used: they differ from machine to machine.
"""

from functools import lru_cache
from pathlib import Path

import fontpkg

from hundredfold.designs.typesetting.fonts import Font, load_font, weight_range
from hundredfold.kernel.errors import ShopError, Where

_KINDS = (".ttf", ".otf", ".ttc")


def find_font(name: str, weight: int = 400, folder: Path | None = None) -> Font:
    """The font the seller calls ``name``: a file in ``folder`` (with or without its ending), or a family.

    A family or a variable font is taken at ``weight``, or the nearest it has. Raises ShopError
    ``unknown-font``, and what
    ``load_font`` raises.
    """
    file = _in_folder(name, folder)
    if file is not None:
        data = file.read_bytes()
        span = weight_range(data, file.name)
        return load_font(
            data, file.name, {"wght": min(max(float(weight), span[0]), span[1])} if span else None
        )
    return _packaged(name, weight)


def font_names(folder: Path | None = None) -> tuple[str, ...]:
    """Every font that can be named, sorted."""
    own = [path.name for path in _files(folder)]
    return tuple(sorted([*own, *(family.name for family in fontpkg.families().values())], key=str.casefold))


def own_fonts(folder: Path | None) -> tuple[str, ...]:
    """The names of the fonts in the shop's folder."""
    return tuple(path.name for path in _files(folder))


def _files(folder: Path | None) -> list[Path]:
    if folder is None or not folder.is_dir():
        return []
    return sorted(path for path in folder.iterdir() if path.suffix.lower() in _KINDS and path.is_file())


def _in_folder(name: str, folder: Path | None) -> Path | None:
    wanted = name.casefold()
    for path in _files(folder):
        if wanted in (path.name.casefold(), path.stem.casefold()):
            return path
    return None


@lru_cache(maxsize=64)
def _packaged(name: str, weight: int) -> Font:
    try:
        family = fontpkg.family(name)
    except fontpkg.FontpkgError as error:
        known = ", ".join(font_names())
        raise ShopError(
            "unknown-font",
            f"there is no font called {name!r}",
            f"put its .ttf or .otf file into the shop's fonts folder, or use one of: {known}",
            Where(field=name),
        ) from error
    chosen = fontpkg.select_file(family, weight, "normal", True)
    axes = None
    if chosen.variable and chosen.wght_min is not None and chosen.wght_max is not None:
        axes = {"wght": float(min(max(weight, chosen.wght_min), chosen.wght_max))}
    label = f"{family.name} {weight}" if len(family.files) > 1 or axes else family.name
    return load_font(chosen.path.read_bytes(), label, axes)
