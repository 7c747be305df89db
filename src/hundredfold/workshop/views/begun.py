"""How far a new shop has come in its first steps."""

from dataclasses import dataclass
from pathlib import Path

from hundredfold.workshop.shop.files import ShopFiles
from hundredfold.workshop.shop.folder import open_shop
from hundredfold.workshop.shop.paths import ShopPaths
from hundredfold.workshop.steps.artfiles import art_files


@dataclass(frozen=True)
class Begun:
    """What is there. ``paths`` are the art files; ``target`` is an amount as written."""

    name: str = ""
    currency: str = "GBP"
    paths: tuple[str, ...] = ()
    blanks: tuple[str, ...] = ()
    channels: tuple[str, ...] = ()
    target: str = ""

    @property
    def designs(self) -> int:
        """How many art files there are."""
        return len(self.paths)

    @property
    def done(self) -> tuple[bool, ...]:
        """Of the six steps, which are done; the fifth has an answer from the beginning, so it counts only
        once those before it are done, and the last never is."""
        first = (bool(self.name), bool(self.paths), bool(self.blanks), bool(self.channels))
        return (*first, all(first) and bool(self.target), False)

    @property
    def next_step(self) -> int:
        """The first step that is not done, from 1; the fifth has an answer from the beginning and is asked
        all the same."""
        first = self.done[:4]
        return first.index(False) + 1 if False in first else 5


def begun(folder: Path) -> Begun:
    """Look at a shop. Raises as ``open_shop`` does."""
    shop = open_shop(folder)
    files, _ = art_files(ShopFiles(ShopPaths(folder).root))
    settings = shop.settings
    return Begun(
        settings.name,
        settings.currency,
        tuple(sorted(files)),
        tuple(one.code for one in shop.blanks),
        tuple(one.code for one in shop.channels),
        settings.target_profit.plain(),
    )
