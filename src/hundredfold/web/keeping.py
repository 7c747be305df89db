"""What one start of the page holds in memory: work, pictures, the last thing said; nothing precious."""

from collections import OrderedDict
from pathlib import Path

from hundredfold.web.pictures import PagePictures
from hundredfold.web.progress import Pace
from hundredfold.web.said import Said
from hundredfold.workshop.typeset.liveset import SetRow
from hundredfold.workshop.work.background import Background


class Keeping:
    """Made once a start."""

    def __init__(self, shop: Path, address: str = "") -> None:
        self.work = Background(shop)
        self.pictures = PagePictures(shop)
        self.pace = Pace()
        self.rows: OrderedDict[str, SetRow] = OrderedDict()  # of word lists, by what they follow from
        self.said: Said | None = None
        self.address = address  # where this start serves

    def say(self, said: Said) -> None:
        """A decision stays until the next one; what is only told, until the next action."""
        if said.sentence:
            self.said = said
        elif self.said is not None and not self.said.decision:
            self.said = None

    def said_on(self, path: str) -> Said | None:
        """What is still to be said on this page: a decision anywhere, other news where they lead to."""
        said = self.said
        if said is None or said.decision:
            return said
        return said if said.goto.partition("?")[0].partition("#")[0] == path else None

    def close(self) -> None:
        """End what this start began."""
        self.work.close()
