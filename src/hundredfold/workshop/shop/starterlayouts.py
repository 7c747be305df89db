"""The starter layouts that come with the program, and taking them into a shop."""

from importlib import resources
from pathlib import Path

from hundredfold.runner.atomic import write_whole


def starter_layouts() -> tuple[tuple[str, bytes], ...]:
    """(file name, SVG) of each, sorted by name."""
    folder = resources.files("hundredfold") / "starter_layouts"
    return tuple(
        (child.name, child.read_bytes())
        for child in sorted(folder.iterdir(), key=lambda each: each.name)
        if child.name.endswith(".svg")
    )


def take_starters(layouts: Path) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Copy them into a shop's layouts folder: names written, and names left alone because they were there."""
    written, kept = [], []
    for name, data in starter_layouts():
        if (layouts / name).exists():
            kept.append(name)
        else:
            write_whole(layouts / name, data)
            written.append(name)
    return tuple(written), tuple(kept)
