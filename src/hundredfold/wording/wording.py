"""What a listing says, and where each part of it came from."""

from collections.abc import Mapping
from dataclasses import dataclass, field


@dataclass(frozen=True)
class Wording:
    """The texts of a listing, each inside its channel's limits.

    ``search_words`` are single words, or whole tags where the channel takes tags. ``sizes`` holds the
    texts of rows whose size has measures of its own; a family head and goods of one size have none.
    """

    title: str
    points: tuple[str, ...]
    story: str
    search_words: tuple[str, ...]
    sizes: Mapping[str, "Wording"] = field(default_factory=dict)

    def for_size(self, size: str) -> "Wording":
        """The texts of a row of this size."""
        return self.sizes.get(size, self)


NO_WORDING = Wording("", (), "", ())


@dataclass(frozen=True)
class Trace:
    """A piece of a listing's text: which field it is in, and what it was made from."""

    field: str  # "title", "point 1", "story", "search words"
    text: str
    source: str


@dataclass(frozen=True)
class Dropped:
    """A text that was kept out of a listing, with the reason."""

    text: str
    why: str


@dataclass(frozen=True)
class Worded:
    """A listing's texts with what is told about them.

    ``below`` has, for each field written by hand, the text that would stand there without it.
    """

    wording: Wording
    traces: tuple[Trace, ...] = ()
    below: Mapping[str, str] = field(default_factory=dict)
