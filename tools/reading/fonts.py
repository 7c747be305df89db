"""The open fonts of the labelled set, by package, file and variable weight, and how they are split."""

from importlib.util import find_spec
from pathlib import Path

from PIL import ImageFont

# package suffix, file, weight of a variable font (0: a static file), handwriting or script
FONTS: tuple[tuple[str, str, int, bool], ...] = (
    ("abril-fatface", "AbrilFatface-Regular.ttf", 0, False),
    ("alfa-slab-one", "AlfaSlabOne-Regular.ttf", 0, False),
    ("anton", "Anton-Regular.ttf", 0, False),
    ("arvo", "Arvo-Bold.ttf", 0, False),
    ("baloo-2", "Baloo2[wght].ttf", 700, False),
    ("barlow-condensed", "BarlowCondensed-SemiBold.ttf", 0, False),
    ("bebas-neue", "BebasNeue-Regular.ttf", 0, False),
    ("bitter", "Bitter[wght].ttf", 500, False),
    ("black-ops-one", "BlackOpsOne-Regular.ttf", 0, False),
    ("bungee", "Bungee-Regular.ttf", 0, False),
    ("caveat", "Caveat[wght].ttf", 600, True),
    ("changa-one", "ChangaOne-Regular.ttf", 0, False),
    ("cinzel", "Cinzel[wght].ttf", 600, False),
    ("comfortaa", "Comfortaa[wght].ttf", 600, False),
    ("cormorant-garamond", "CormorantGaramond[wght].ttf", 500, False),
    ("dancing-script", "DancingScript[wght].ttf", 600, True),
    ("dm-serif-display", "DMSerifDisplay-Regular.ttf", 0, False),
    ("fredoka", "Fredoka[wdth,wght].ttf", 600, False),
    ("great-vibes", "GreatVibes-Regular.ttf", 0, True),
    ("indie-flower", "IndieFlower-Regular.ttf", 0, True),
    ("josefin-sans", "JosefinSans[wght].ttf", 400, False),
    ("kalam", "Kalam-Bold.ttf", 0, True),
    ("lato", "Lato-Bold.ttf", 0, False),
    ("lilita-one", "LilitaOne-Regular.ttf", 0, False),
    ("lobster", "Lobster-Regular.ttf", 0, True),
    ("lobster-two", "LobsterTwo-Bold.ttf", 0, True),
    ("luckiest-guy", "LuckiestGuy-Regular.ttf", 0, False),
    ("merriweather", "Merriweather[opsz,wdth,wght].ttf", 0, False),
    ("montserrat", "Montserrat[wght].ttf", 700, False),
    ("oleo-script", "OleoScript-Bold.ttf", 0, True),
    ("open-sans", "OpenSans[wdth,wght].ttf", 0, False),
    ("orbitron", "Orbitron[wght].ttf", 600, False),
    ("oswald", "Oswald[wght].ttf", 500, False),
    ("pacifico", "Pacifico-Regular.ttf", 0, True),
    ("permanent-marker", "PermanentMarker-Regular.ttf", 0, True),
    ("playfair-display", "PlayfairDisplay[wght].ttf", 600, False),
    ("poppins", "Poppins-Medium.ttf", 0, False),
    ("raleway", "Raleway[wght].ttf", 400, False),
    ("righteous", "Righteous-Regular.ttf", 0, False),
    ("roboto-slab", "RobotoSlab[wght].ttf", 500, False),
    ("rowdies", "Rowdies-Regular.ttf", 0, False),
    ("russo-one", "RussoOne-Regular.ttf", 0, False),
    ("satisfy", "Satisfy-Regular.ttf", 0, True),
    ("shadows-into-light", "ShadowsIntoLight.ttf", 0, True),
    ("space-mono", "SpaceMono-Bold.ttf", 0, False),
    ("teko", "Teko[wght].ttf", 500, False),
    ("titan-one", "TitanOne-Regular.ttf", 0, False),
    ("yellowtail", "Yellowtail-Regular.ttf", 0, True),
)
# Every third family is kept from the fitting; which one is settled by place in the alphabet, not by result.
HELD_OUT = frozenset(name for place, (name, *_) in enumerate(FONTS) if place % 3 == 1)


def font_path(package: str, file: str, folder: Path | None = None) -> Path:
    """Where the font's file lies: in ``folder`` when given, else in its installed package."""
    if folder is not None:
        return folder / file
    spec = find_spec("fontpkg_" + package.replace("-", "_"))
    if spec is None or spec.origin is None:
        raise SystemExit(f"font package fontpkg-{package} is missing: pip install --group reading")
    return Path(spec.origin).parent / "files" / file


def load_font(index: int, size: int, folder: Path | None = None) -> ImageFont.FreeTypeFont:
    """The font at a pixel size, at the weight the table states."""
    package, file, weight, _ = FONTS[index]
    font = ImageFont.truetype(
        str(font_path(package, file, folder)), size, layout_engine=ImageFont.Layout.BASIC
    )
    if weight:
        axes = font.get_variation_axes()
        # A file's weight axis is not always its first.
        font.set_variation_by_axes(
            [weight if axis["name"] in (b"Weight", "Weight") else axis["default"] or 0 for axis in axes]
        )
    return font
