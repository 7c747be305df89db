"""Checks of a design by itself, wherever it will be printed."""

from collections.abc import Iterator

from hundredfold.kernel.checks import COMMON
from hundredfold.kernel.findings import Severity
from hundredfold.proofing.registry import Hit, check
from hundredfold.proofing.subjects import DesignSubject

ALL_ONE = 0.9995  # of the ink in one colour: rounding of a share, not a judgement
WHOLE_BORDER = 0.98  # of the border inked: a picture that fills its file, not one that is cut off


def _flat(art: DesignSubject) -> bool:
    facts = art.facts
    return (
        facts.opaque_border and bool(facts.inks) and facts.inks[0].share >= ALL_ONE and facts.ink_share == 1
    )


def _drawn(art: DesignSubject) -> bool:
    return not art.facts.ink.empty and art.facts.ink_share > 0 and not _flat(art)


@check(
    "art/empty",
    subject=DesignSubject,
    codes={"no-ink": Severity.STOP, "one-flat-colour": Severity.STOP},
    why="An export with every layer hidden gives a file of the right size with nothing on it. It is priced, "
    "listed and sold like any other, and the buyer gets a bare product.",
    example="A PNG of 3600 x 4500 px whose every pixel is transparent.",
    fix="Open the master, show its layers and export again.",
    known_limits="Art fainter than half opaque everywhere counts as no ink.",
    source="follows from the meaning of the file; no threshold",
)
def empty(art: DesignSubject) -> Iterator[Hit]:
    """The file has something drawn on it."""
    size = f"{art.facts.width_px} x {art.facts.height_px} px"
    if _flat(art):
        yield Hit(
            "one-flat-colour",
            f"all {size} are the one colour {art.facts.inks[0].hex}; nothing is drawn",
            "show the layers in the master and export again",
        )
    elif not _drawn(art):
        yield Hit("no-ink", f"all {size} are transparent", "show the layers in the master and export again")


@check(
    "art/file",
    subject=DesignSubject,
    codes={"odd": Severity.NOTE},
    why="A file that is not what its name says, or whose colours had to be guessed, may come out otherwise "
    "elsewhere: at the partner, or in your own drawing program.",
    example="A CMYK JPEG without a profile: its colours were taken to be those of a common press.",
    fix="Export again, in sRGB, under the ending that goes with the format.",
    known_limits="Says what was seen while the file was read; a wrong profile cannot be seen.",
    source="follows from the file; no threshold",
)
def file(art: DesignSubject) -> Iterator[Hit]:
    """The file is what it says it is."""
    if art.facts.remarks:
        what = "; ".join(art.facts.remarks)
        yield Hit("odd", what, "export it again in sRGB, under the ending that goes with its format")


@check(
    "art/touches-edge",
    subject=DesignSubject,
    codes={"cut-off": Severity.WARN},
    limits=("edge_touch_share", "tight_touch_share"),
    why="Ink that runs into the border of the file was most likely cut off there by the crop or the canvas: "
    "a flat side on a letter or a leaf that everybody sees once it is printed.",
    example="The swash of a script letter ends in a straight vertical line at the right border of the file.",
    fix="Enlarge the canvas in the master until the art has air on all sides, and export again.",
    known_limits="Pictures that fill their file to all four borders are taken to be meant and are not "
    "reported.",
    source=COMMON,
)
def touches_edge(art: DesignSubject) -> Iterator[Hit]:
    """The art does not run into the border of its file."""
    facts = art.facts
    box = facts.ink
    tight = (box.left, box.top, box.right, box.bottom) == (0, 0, facts.width_px, facts.height_px)
    # A file cropped to its art is touched on all four sides: a round seal by a hundred pixels on each.
    limit = art.limits.tight_touch_share if tight else art.limits.edge_touch_share
    share = facts.edge_share
    if _drawn(art) and not art.facts.opaque_border and limit < share < WHOLE_BORDER:
        yield Hit(
            "cut-off",
            f"{share:.1%} of the file's border is inked, so the art is probably cut off there (limit "
            f"{limit:.1%})",
            "give the art some air on all sides in the master and export again",
            {"edge_share": round(share, 4), "limit": limit},
        )


@check(
    "art/stray-specks",
    subject=DesignSubject,
    codes={"specks": Severity.WARN},
    limits=("specks_allowed",),
    why="Crumbs left by an eraser or a background remover cannot be seen on screen, yet they print as dirt. "
    "They also stretch the art's measured size, so that it is printed smaller and off centre.",
    example="Eleven islands of one or two pixels left around a lettering after its background was removed.",
    fix="Erase them in the master: put a strong colour behind the art to see them.",
    known_limits="Splatter and chalk textures are made of specks; allow more of them in the profile for "
    "such art.",
    source=COMMON,
)
def stray_specks(art: DesignSubject) -> Iterator[Hit]:
    """There are no crumbs of ink around the art."""
    count, limit = art.facts.specks, art.limits.specks_allowed
    if _drawn(art) and count > limit:
        yield Hit(
            "specks",
            f"{count} specks of ink too small to be meant ({limit:g} are let pass)",
            "put a strong colour behind the art in the master to see them, and erase them",
            {"specks": count, "limit": limit},
        )


@check(
    "art/background-box",
    subject=DesignSubject,
    codes={"one-colour": Severity.WARN, "inset-box": Severity.WARN},
    why="Art saved with its background prints as a coloured rectangle: a white box on a navy shirt. It is "
    "one of the most common reasons for returns of printed shirts.",
    example="A drawing saved as JPEG, which cannot be transparent, with white all round.",
    fix="Export as PNG with a transparent background, or remove the background.",
    known_limits="A design meant as a filled rectangle is reported too; switch the check off for it with "
    "the reason.",
    source=COMMON,
)
def background_box(art: DesignSubject) -> Iterator[Hit]:
    """The background is transparent, not a filled box."""
    if _drawn(art) and art.facts.opaque_border:
        yield Hit(
            "one-colour",
            "all four borders are filled with one colour, so the art prints as a box",
            "export it as PNG with a transparent background",
            {"format": art.facts.file_format},
        )
    elif _drawn(art) and art.evidence.art is not None and art.evidence.art.inset_box:
        yield Hit(
            "inset-box",
            "the art is a filled box of one colour in the middle of a transparent file, so it prints as a "
            "box",
            "remove the box behind the art and export it again",
        )
