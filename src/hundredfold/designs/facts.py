"""What was measured on a piece of art, once. Everything downstream is arithmetic on these."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Box:
    """Pixels ``left <= x < right`` and ``top <= y < bottom``; empty when nothing is inked."""

    left: int
    top: int
    right: int
    bottom: int

    @property
    def width(self) -> int:
        """Pixels across."""
        return self.right - self.left

    @property
    def height(self) -> int:
        """Pixels down."""
        return self.bottom - self.top

    @property
    def empty(self) -> bool:
        """Nothing inside."""
        return self.width <= 0 or self.height <= 0


@dataclass(frozen=True)
class InkColour:
    """A dominant ink: sRGB-encoded hex and its share of all inked pixels (0-1)."""

    hex: str
    share: float


@dataclass(frozen=True)
class EdgeColour:
    """A colour along the art's outline (just inside it) and its share of the outline (0-1)."""

    hex: str
    share: float


@dataclass(frozen=True)
class DesignFacts:
    """Facts of one piece of art after decoding to upright sRGB. Shares are 0-1, lengths pixels."""

    digest: str  # sha256 of the file's bytes: the identity of the art
    pixel_digest: str  # sha256 of the decoded pixels: equal for the same picture in another file
    file_format: str  # "png", "jpeg", "webp", "tiff", "svg"
    file_bytes: int
    width_px: int
    height_px: int
    vector: bool
    dpi: float | None  # as stated in the file; None when it states none
    profile: str  # description of the embedded profile, "" when none
    bits: int  # bits a channel in the file
    has_alpha: bool
    ink: Box
    ink_share: float  # inked pixels (alpha > 0.5) of all pixels
    soft_share: float  # pixels with alpha strictly between 2 % and 98 %, of all inked pixels, edges left out
    edge_share: float  # of the four borders' length touched by ink
    specks: int  # islands of ink smaller than the speck size stated with the check
    opaque_border: bool  # all four borders opaque in one colour: an unflattened background box
    inks: tuple[InkColour, ...]
    outline: tuple[EdgeColour, ...]
    look: str  # perceptual hash, hex: over white, then over black
    remarks: tuple[str, ...] = ()  # sentences on what was odd in the file but usable

    @classmethod
    def unmeasured(cls, digest: str) -> "DesignFacts":
        """Of art whose file is not there: only its digest is known."""
        nothing = Box(0, 0, 0, 0)
        return cls(
            digest, "", "", 0, 0, 0, False, None, "", 8, False, nothing, 0.0, 0.0, 0.0, 0, False, (), (), ""
        )
