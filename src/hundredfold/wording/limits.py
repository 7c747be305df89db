"""A channel's limits as a text meets them: characters as the channel counts them, bytes, whole graphemes."""

from collections.abc import Callable
from dataclasses import dataclass

from uniseg.graphemecluster import grapheme_clusters

from hundredfold.catalogue.channels import Channel, Counting


def size_of(text: str, counting: Counting) -> int:
    """How long a channel calls a text."""
    if counting is Counting.UTF_16:
        return len(text.encode("utf-16-le", "surrogatepass")) // 2
    if counting is Counting.BYTES:
        return len(text.encode("utf-8", "surrogatepass"))
    return len(text)


# The most that a letter counts: two units of UTF-16, four bytes of UTF-8 (Unicode 15, section 2.5).
_MOST = {Counting.CHARACTERS: 1, Counting.UTF_16: 2, Counting.BYTES: 4}


@dataclass(frozen=True)
class TextRoom:
    """How much of a text a field takes; ``as_read`` is what a reader of the table gets of it."""

    size: int
    counting: Counting
    as_read: Callable[[str], str]

    def fits(self, text: str) -> bool:
        """Whether the field takes the whole text."""
        if (len(text) + 1) * _MOST[self.counting] <= self.size:  # a reader of a table gets one sign more
            return True
        return size_of(self.as_read(text), self.counting) <= self.size


def room(channel: Channel, size: int) -> TextRoom:
    """The room of a field of this size in a channel."""
    return TextRoom(size, channel.limits.counts, channel.sheet.kind.as_read)


def whole_words(text: str, fits: Callable[[str], bool]) -> str:
    """As many whole words from the front as fit; "" when not even one does."""
    if fits(text):
        return text
    words = text.split(" ")
    low, high = 0, len(words)
    while low < high:  # a text only grows with its words
        middle = (low + high + 1) // 2
        if fits(" ".join(words[:middle])):
            low = middle
        else:
            high = middle - 1
    return " ".join(words[:low]).rstrip(" ,;:-–—|&")


def whole_graphemes(text: str, fits: Callable[[str], bool]) -> str:
    """As many whole graphemes from the front as fit: the last resort for a word longer than its field."""
    kept = ""
    for cluster in grapheme_clusters(text):
        if not fits(kept + cluster):
            break
        kept += cluster
    return kept.rstrip()
