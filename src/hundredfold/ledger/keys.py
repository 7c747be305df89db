"""The names things are known by in the ledger: a listing, and one SKU's place in it."""

from collections.abc import Mapping
from dataclasses import dataclass


@dataclass(frozen=True, order=True)
class ListingKey:
    """A listing is a design on a blank in a channel."""

    channel: str
    design: str  # Design.id
    blank: str  # Blank.code

    def __str__(self) -> str:
        return f"{self.channel}/{self.blank}/{self.design}"

    def as_data(self) -> dict[str, object]:
        """Plain values for an event."""
        return {"channel": self.channel, "design": self.design, "blank": self.blank}

    @classmethod
    def from_data(cls, data: Mapping[str, object]) -> "ListingKey":
        """The inverse of ``as_data``; keys it does not know are ignored."""
        return cls(str(data["channel"]), str(data["design"]), str(data["blank"]))


@dataclass(frozen=True, order=True)
class SkuKey:
    """What one SKU stands for. Colour and size are both "" for a family head."""

    channel: str
    design: str
    blank: str
    colour: str
    size: str

    @property
    def listing(self) -> ListingKey:
        """The listing this SKU belongs to."""
        return ListingKey(self.channel, self.design, self.blank)

    def as_data(self) -> dict[str, object]:
        """Plain values for an event."""
        return {**self.listing.as_data(), "colour": self.colour, "size": self.size}

    @classmethod
    def from_data(cls, data: Mapping[str, object]) -> "SkuKey":
        """The inverse of ``as_data``; a missing colour or size is ""."""
        listing = ListingKey.from_data(data)
        colour, size = str(data.get("colour", "")), str(data.get("size", ""))
        return cls(listing.channel, listing.design, listing.blank, colour, size)


@dataclass(frozen=True, order=True)
class GoodsKey:
    """What one barcode stands for: the decorated thing itself, wherever it is sold."""

    design: str
    blank: str
    colour: str
    size: str

    @classmethod
    def of(cls, key: SkuKey) -> "GoodsKey":
        """The goods a SKU is for."""
        return cls(key.design, key.blank, key.colour, key.size)

    def as_data(self) -> dict[str, object]:
        """Plain values for an event."""
        return {"design": self.design, "blank": self.blank, "colour": self.colour, "size": self.size}

    @classmethod
    def from_data(cls, data: Mapping[str, object]) -> "GoodsKey":
        """The inverse of ``as_data``."""
        return cls(*(str(data[name]) for name in ("design", "blank", "colour", "size")))


@dataclass(frozen=True, order=True)
class PackKey:
    """One channel's pack of one day; the day is written YYYY-MM-DD."""

    channel: str
    day: str

    def __str__(self) -> str:
        return f"{self.channel}/{self.day}"

    @classmethod
    def parse(cls, subject: str) -> "PackKey":
        """The inverse of ``str``. Raises ValueError when there is no slash."""
        channel, slash, day = subject.rpartition("/")
        if not slash or not channel or not day:
            raise ValueError(f"{subject!r} is not channel/YYYY-MM-DD")
        return cls(channel, day)
