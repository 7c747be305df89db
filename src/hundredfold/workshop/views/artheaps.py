"""What lies in the designs folder, in a few heaps that a person would make."""

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from hundredfold.designs.facts import DesignFacts
from hundredfold.kernel.errors import ShopError
from hundredfold.workshop.shop.files import ShopFiles
from hundredfold.workshop.shop.paths import ShopPaths
from hundredfold.workshop.steps.artfiles import art_files
from hundredfold.workshop.views.artbook import ArtBook

SMALL_PX = 1500  # a mug's face of 70 mm asks for 830 pixels at 300 dpi, a shirt for 3,500: below, few goods


@dataclass(frozen=True)
class Heap:
    """Designs of one kind, by id with their paths. ``kind`` is ready, boxed, small, or waiting to be read."""

    kind: str
    designs: tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class Heaps:
    """All art of a shop, and what was passed over."""

    heaps: tuple[Heap, ...]
    unread: tuple[str, ...]
    not_art: tuple[str, ...]


def art_heaps(folder: Path, book: ArtBook) -> Heaps:
    """Look at what was measured up to now. Raises as opening the record does."""
    files, findings = art_files(ShopFiles(ShopPaths(folder).root))
    kinds: dict[str, list[tuple[str, str]]] = {"ready": [], "boxed": [], "small": []}
    unread = []
    for path, kind, design in _sorted(book, sorted(files)):
        if kind:
            kinds[kind].append((design, path))
        else:
            unread.append(path)
    heaps = tuple(Heap(kind, tuple(found)) for kind, found in kinds.items() if found)
    return Heaps(heaps, tuple(unread), tuple(finding.item for finding in findings))


def _sorted(book: ArtBook, paths: list[str]) -> Iterator[tuple[str, str, str]]:
    for path in paths:
        try:
            art = book.art(path)
        except ShopError:
            yield path, "", ""
            continue
        facts = book.facts(art)
        yield path, _kind(facts) if facts is not None and art.small else "", art.id


def _kind(facts: DesignFacts) -> str:
    if facts.opaque_border:
        return "boxed"
    if not facts.vector and max(facts.ink.width, facts.ink.height) < SMALL_PX:
        return "small"
    return "ready"
