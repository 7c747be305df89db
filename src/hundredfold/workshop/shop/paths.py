"""Where things lie in a shop folder."""

from dataclasses import dataclass
from pathlib import Path

SETTINGS_FILE = "shop.toml"


@dataclass(frozen=True)
class ShopPaths:
    """Where things lie in one shop folder. Nothing is promised to exist."""

    root: Path

    @property
    def settings(self) -> Path:
        """shop.toml."""
        return self.root / SETTINGS_FILE

    @property
    def blanks(self) -> Path:
        """One TOML file a blank."""
        return self.root / "blanks"

    @property
    def plates(self) -> Path:
        """The seller's own pictures of bare blanks."""
        return self.root / "plates"

    @property
    def channels(self) -> Path:
        """One TOML file a channel."""
        return self.root / "channels"

    @property
    def layouts(self) -> Path:
        """SVG layouts with named slots."""
        return self.root / "layouts"

    @property
    def words(self) -> Path:
        """Word lists, CSV or XLSX."""
        return self.root / "words"

    @property
    def art(self) -> Path:
        """Pieces of art the layouts use."""
        return self.root / "art"

    @property
    def fonts(self) -> Path:
        """The seller's own fonts."""
        return self.root / "fonts"

    @property
    def designs(self) -> Path:
        """Finished designs dropped in."""
        return self.root / "designs"

    @property
    def packs(self) -> Path:
        """packs/CHANNEL/YYYY-MM-DD/."""
        return self.root / "packs"

    @property
    def handed_over(self) -> Path:
        """handed-over/CHANNEL/YYYY-MM-DD.json, a mark of every hand-over, and whose shop this is."""
        return self.root / "handed-over"

    @property
    def rights(self) -> Path:
        """Where each design's art comes from and what may be done with it."""
        return self.root / "rights.csv"

    @property
    def barcodes(self) -> Path:
        """The barcodes the seller bought, one a line."""
        return self.root / "barcodes.csv"

    @property
    def blocked(self) -> Path:
        """Phrases the seller never uses."""
        return self.root / "blocked.txt"

    @property
    def phrases(self) -> Path:
        """The shop's own phrase books."""
        return self.root / "phrases"

    @property
    def names(self) -> Path:
        """What finished designs say and show, where their file names do not tell it."""
        return self.root / "names.csv"

    @property
    def words_that_sold(self) -> Path:
        """Search words that brought sales."""
        return self.root / "words-that-sold.csv"

    @property
    def hidden(self) -> Path:
        """Hundredfold's own folder in the shop."""
        return self.root / ".hundredfold"

    @property
    def database(self) -> Path:
        """The precious ledger and decisions."""
        return self.hidden / "shop.db"

    @property
    def cache(self) -> Path:
        """Rebuilt whenever it is missing."""
        return self.hidden / "cache"

    @property
    def logs(self) -> Path:
        """What went wrong, in full."""
        return self.hidden / "logs"
