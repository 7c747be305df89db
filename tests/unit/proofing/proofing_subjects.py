"""Good subjects for the checks: nothing is wrong with them until a test breaks one thing."""

from dataclasses import replace
from decimal import Decimal

from hundredfold.catalogue.blanks import Blank, BlankColour, BlankVariant, Orientation, PrintArea
from hundredfold.catalogue.forms import Form
from hundredfold.catalogue.processes import Material, Process
from hundredfold.designs.facts import Box, DesignFacts, EdgeColour, InkColour
from hundredfold.kernel.colour import Srgb
from hundredfold.kernel.findings import Finding
from hundredfold.kernel.money import Money
from hundredfold.placement.place import Placement, fit
from hundredfold.proofing.art.facts import ArtFacts, EdgeWindow, TextLine
from hundredfold.proofing.designproof import DesignProof

GBP = Money(Decimal("4.20"), "GBP")


def colour(name: str, code: str, *, underbase: bool = False) -> BlankColour:
    return BlankColour(name, name, Srgb.parse(code), underbase=underbase)


WHITE = colour("white", "#ffffff")
CREAM = colour("cream", "#f3ead7")
NAVY = colour("navy", "#1f2a50", underbase=True)
BLACK = colour("black", "#141414", underbase=True)
RED = colour("red", "#b01e2e", underbase=True)


def blank(
    code: str = "MUG-325",
    process: Process = Process.SUBLIMATION,
    material: Material = Material.COATED_CERAMIC,
    orientation: Orientation = Orientation.LANDSCAPE,
    area: PrintArea | None = None,
    colours: tuple[BlankColour, ...] = (WHITE, CREAM),
) -> Blank:
    return Blank(
        code=code,
        name="Ceramic mug 325 ml",
        form=Form.MUG,
        material=material,
        process=process,
        orientation=orientation,
        areas=(area or PrintArea("wrap", 2400, 1050, 300),),
        colours=colours,
        variants=tuple(BlankVariant(c.code, "", f"{code}-{c.code}", GBP) for c in colours),
        postage=GBP,
    )


MUG = blank()
SHIRT = blank(
    "TEE",
    Process.DTG,
    Material.COTTON,
    Orientation.PORTRAIT,
    PrintArea("front", 3600, 4500, 300),
    (WHITE, NAVY, BLACK, RED),
)
FLASK = blank(
    "FLASK",
    Process.ENGRAVING,
    Material.POWDER_COATED_STEEL,
    Orientation.ANY,
    PrintArea("side", 1200, 1800, 300),
    (NAVY, BLACK),
)


def facts(width: int = 4000, height: int = 3200, ink: str = "#1b2a4e") -> DesignFacts:
    """A clean transparent PNG with ink of one colour in its middle."""
    return DesignFacts(
        digest="d" * 64,
        pixel_digest="p" * 64,
        file_format="png",
        file_bytes=400_000,
        width_px=width,
        height_px=height,
        vector=False,
        dpi=300.0,
        profile="sRGB",
        bits=8,
        has_alpha=True,
        ink=Box(100, 100, width - 100, height - 100),
        ink_share=0.3,
        soft_share=0.0,
        edge_share=0.0,
        specks=0,
        opaque_border=False,
        inks=(InkColour(ink, 1.0),),
        outline=(EdgeColour(ink, 1.0),),
        look="0" * 16,
    )


def in_ink(base: DesignFacts, *hexes: str) -> DesignFacts:
    """The same art in these colours, in equal shares of ink and of outline."""
    share = 1 / len(hexes)
    return replace(
        base,
        inks=tuple(InkColour(h, share) for h in hexes),
        outline=tuple(EdgeColour(h, share) for h in hexes),
    )


def placed(art: DesignFacts, on: Blank) -> Placement:
    return fit(art.ink, on.areas[0])


def art_facts(ink: str = "#1b2a4e", light: str = "") -> ArtFacts:
    """Clean deep facts: big letters, no thin lines, a plain anti-aliased rim."""
    return ArtFacts(
        outline_px=30_000.0,
        windows=(EdgeWindow(ink, light or ink, 1.0),),
        strokes=(),
        gaps=(),
        soft_band_px=1.0,
        fringe_share=0.0,
        step_share=0.0,
        step_px=0.0,
        inset_box=False,
        lines=(TextLine(400, 400, 1400, 900, 400.0, 9, 0.99),),
    )


def all_findings(proof: DesignProof) -> tuple[Finding, ...]:
    """Every finding, the art's first."""
    placed = (
        f for one in proof.blanks for f in (*one.findings, *(f for c in one.colours for f in c.findings))
    )
    return (*proof.findings, *placed)
