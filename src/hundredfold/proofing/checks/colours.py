"""Checks of what a process does to the art's colours on a blank: rims, white, shifts, one tone, gamut."""

from collections.abc import Iterator

from hundredfold.catalogue.ink import InkModel, ink_look
from hundredfold.kernel.checks import COMMON
from hundredfold.kernel.colour import contrast_ratio, linear_of, relative_luminance
from hundredfold.kernel.difference import colour_difference
from hundredfold.kernel.findings import Severity
from hundredfold.proofing.registry import Bearing, Hit, More, check
from hundredfold.proofing.subjects import Coloured
from hundredfold.proofing.visible import linear_inks

BOX_SHOWS = 3.0  # CIEDE2000 of a box's ground on the blank: common practice, no source; 1 is hardly seen
WHITE = ("ink/colour-shift:white-lost", "ink/colour-shift:white-tinted")
WHITE_LUMINANCE = 0.8  # from here an ink counts as white: L* of about 92


@check(
    "ink/rim",
    subject=Coloured,
    codes={"halo": Severity.WARN, "pale-fringe": Severity.WARN},
    limits=("rim_mm", "fringe_share"),
    why="A rim left by a background remover, or a soft brush, hardly shows on screen. On a white underbase "
    "it prints as a pale halo round the whole motif.",
    example="A cat cut out of a photograph, with a white fringe of 3 px, on a black shirt.",
    fix="Contract the edge by a pixel or two and remove the white matte in the master.",
    known_limits="Soft brushes meant as such are reported too. On light blanks without an underbase a rim "
    "is harmless and not reported.",
    source=COMMON,
)
def rim(pair: Coloured) -> Iterator[Hit]:
    """The art's edge is clean."""
    art, limits = pair.evidence.art, pair.limits
    if art is None or pair.model is not InkModel.UNDERBASE:
        return
    place = pair.layout.placements[0]
    width = art.soft_band_px * place.width_mm / place.crop.width
    if width > limits.rim_mm:
        yield Hit(
            "halo",
            f"a half-transparent rim {width:.1f} mm wide will show the white underbase as a halo",
            "harden the edge of the art in the master",
            {"rim_mm": round(width, 2), "limit_mm": limits.rim_mm},
        )
    elif art.fringe_share > limits.fringe_share:
        yield Hit(
            "pale-fringe",
            f"{art.fringe_share:.0%} of the outline carries a pale rim of an old background",
            "contract the cut-out by a pixel and remove its white matte",
            {"fringe_share": round(art.fringe_share, 3), "limit": limits.fringe_share},
        )


@check(
    "ink/colour-shift",
    subject=Coloured,
    codes={"white-lost": Severity.WARN, "white-tinted": Severity.NOTE, "colours-shift": Severity.NOTE},
    limits=("white_share", "white_lot_share", "white_difference", "shift_difference"),
    why="Transparent ink takes on the colour of the blank. White parts of the art become that colour, and "
    "all other colours are tinted.",
    example="A white cloud sublimated on a sky-blue mug is a sky-blue cloud.",
    fix="List such art on white and pale blanks only, or redraw it without white.",
    known_limits="Takes the blank's colour from its file; glazes vary from batch to batch.",
    source="transparent ink in linear light, substrate x ink; CIEDE2000; limits: " + COMMON,
)
def colour_shift(pair: Coloured) -> Iterator[Hit]:
    """Colours come out as they were drawn."""
    inks, limits = pair.facts.inks, pair.limits
    if not inks or pair.model is not InkModel.TRANSPARENT or pair.too_dark_to_darken:
        return
    drawn, shares = linear_inks(inks)
    moved = colour_difference(drawn, ink_look(pair.blank, pair.colour, drawn))
    white = (relative_luminance(drawn) >= WHITE_LUMINANCE) & (moved > limits.white_difference)
    white_share = float(shares[white].sum() / shares.sum())
    shift = float((moved * shares).sum() / shares.sum())
    numbers = {"white_share": round(white_share, 3), "mean_difference": round(shift, 1)}
    if limits.white_share < white_share < 0.95:  # nearly all white: the outline check speaks of that
        yield Hit(
            "white-lost" if white_share > limits.white_lot_share else "white-tinted",
            f"white parts ({white_share:.0%} of the ink) take the colour of the blank, there is no white ink",
            "list this art on white or pale blanks, or redraw it without white",
            numbers,
        )
    elif shift > limits.shift_difference:
        yield Hit(
            "colours-shift",
            f"the colours come out tinted, by {shift:.0f} CIEDE2000 on average",
            "look at the picture before listing this colour",
            numbers,
        )


@check(
    "ink/box-shows",
    subject=Coloured,
    codes={"white-box": Severity.STOP, "engraved-box": Severity.STOP},
    why="A picture saved with its white page prints as a white rectangle wherever the process prints white, "
    "and shows as a pale one on goods that are not white. It is one of the most common reasons for returns "
    "of printed shirts. A laser knows no white at all and engraves the whole rectangle.",
    example="A drawing saved as JPEG on a black shirt: the shirt gets a white box with a drawing in it.",
    fix="Export as PNG with a transparent background. If the box is meant, allow it: hundredfold choose.",
    known_limits="Looks at grounds of one white or nearly white tone; a ground of another colour, or a "
    "photograph, is told by art/background-box alone.",
    source=COMMON,
    bearing=Bearing(worst_by={"white-box": ("difference", More.WORSE)}),
)
def box_shows(pair: Coloured) -> Iterator[Hit]:
    """No white box is printed round the art."""
    facts, art = pair.facts, pair.evidence.art
    boxed = facts.opaque_border or (art is not None and art.inset_box)
    if not boxed or not facts.outline:
        return
    fix = "export it as PNG with a transparent background; if the box is meant, allow it (hundredfold choose)"
    if pair.model is InkModel.ONE_TONE:
        what = "the art has a filled background, and a laser engraves all of it: a plain rectangle"
        yield Hit("engraved-box", what, fix)
        return
    edges, shares = linear_inks(facts.outline)
    ground = edges[int(shares.argmax())]
    look = ink_look(pair.blank, pair.colour, ground)
    shows = float(colour_difference(look, linear_of(pair.colour.srgb)))
    prints_white = pair.model is InkModel.UNDERBASE
    if relative_luminance(ground) < WHITE_LUMINANCE or not (prints_white or shows > BOX_SHOWS):
        return
    how = "white is printed under and in it" if prints_white else f"{shows:.0f} CIEDE2000 from the goods"
    what = f"the art has a white background, which shows as a box on this colour ({how})"
    yield Hit("white-box", what, fix, {"difference": round(shows, 1)})


@check(
    "ink/one-tone",
    subject=Coloured,
    codes={"detail-merges": Severity.WARN},
    limits=("merged_share", "weak_contrast"),
    why="A laser knows one tone. White letters in a black outline, or shading inside a drawing, run into "
    "one shape.",
    example="Outlined lettering engraved on a flask: a row of filled blobs.",
    fix="Use art of one colour on transparent ground, with gaps where detail must show.",
    known_limits="Sees detail close to the outline only.",
    source=COMMON,
)
def one_tone(pair: Coloured) -> Iterator[Hit]:
    """Engraved art needs no second tone."""
    art, limits = pair.evidence.art, pair.limits
    if art is None or pair.model is not InkModel.ONE_TONE or not art.windows:
        return
    dark, shares = linear_inks(art.windows, "dark")
    light, _ = linear_inks(art.windows, "light")
    apart = contrast_ratio(relative_luminance(dark), relative_luminance(light)) >= limits.weak_contrast
    merged = float(shares[apart].sum() / shares.sum())
    if merged > limits.merged_share:
        yield Hit(
            "detail-merges",
            f"{merged:.0%} of the outline has light and dark ink side by side, which engrave as one tone",
            "use a version of the art in one colour, with gaps for its detail",
            {"merged_share": round(merged, 3), "limit": limits.merged_share},
        )


@check(
    "ink/out-of-gamut",
    subject=Coloured,
    codes={"duller": Severity.NOTE},
    limits=("gamut_share", "gamut_difference"),
    why="A screen shows greens, blues and oranges that no printer's inks reach. The buyer compares the mug "
    "with the picture.",
    example="Neon green #00ff00 loses 17 CIEDE2000 in coated offset inks.",
    fix="Choose colours inside the printer's gamut, or show the soft proof as the listing's picture.",
    known_limits="Needs the printer's ICC profile; without it nothing is said.",
    source="round trip through the ICC profile, relative colorimetric; CIEDE2000",
)
def out_of_gamut(pair: Coloured) -> Iterator[Hit]:
    """The printer's inks can reach the art's colours."""
    gamut, limit = pair.evidence.gamut, pair.limits.gamut_share
    if gamut is not None and gamut.share > limit and pair.model is not InkModel.ONE_TONE:
        yield Hit(
            "duller",
            f"{gamut.share:.0%} of the ink is outside {gamut.profile} and prints duller, by "
            f"{gamut.difference:.0f} "
            "CIEDE2000",
            "choose calmer colours, or show the soft proof to the buyer",
            {"share": round(gamut.share, 3), "difference": round(gamut.difference, 1)},
        )
