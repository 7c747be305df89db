"""From a real file to its findings: a bad file breaks one thing and gets exactly its code, a good one none.

The files are drawn here, written in the formats sellers use, and go the way of any design: decoded, measured,
read, laid on a blank of the sample shop, judged. What is good and what is bad is common practice of the
trade, no source; what each code means and its limit's source stand in docs/checks.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cache
from importlib import resources
from pathlib import Path

import numpy as np
import pytest
from drawn_files import (
    BLACK,
    CREAM,
    NAVY,
    RED,
    WHITE,
    Drawing,
    allotment,
    badge,
    band,
    barred,
    boxed,
    captain,
    column,
    cropped_right,
    cut_out,
    flower,
    framed_photo,
    grain,
    grey_with_alpha,
    half_lost,
    hatched,
    indexed,
    jpeg,
    knocked_out,
    mixed,
    png,
    ringed,
    saved,
    shaded,
    shadowed,
    slogan,
    specked,
    svg,
    tiff,
    tight,
    tiny_words,
    turned_jpeg,
    two_inks,
    two_lines,
    webp,
)
from PIL import Image
from proofing_subjects import FLASK

from hundredfold.catalogue.blanks import Blank, BlankColour, Body, PrintArea
from hundredfold.designs.measure import measure
from hundredfold.kernel.colour import Srgb
from hundredfold.kernel.errors import ShopError
from hundredfold.kernel.findings import Severity, worst
from hundredfold.placement.area import KeepOuts
from hundredfold.placement.layout import ArtSpot, Size, Wish, lay_out, usual_wish
from hundredfold.placement.printfile import cropped, print_file_of
from hundredfold.placement.sheet import sheet_of
from hundredfold.proofing.art.packing import measure_for_proof, unpack
from hundredfold.proofing.readings import look_of, read_looks
from hundredfold.proofing.runchecks import judge, judge_design, judge_unlaid
from hundredfold.proofing.softproof import Printer
from hundredfold.proofing.subjects import Evidence, Reading
from hundredfold.proofing.thumb import art_px
from hundredfold.workshop.shop.folder import open_shop
from hundredfold.workshop.steps.artwork import read_picture
from hundredfold.workshop.steps.readingtrees import reading_trees

TREES = reading_trees()
# ISOcoated_v2_300_bas.icc, (c) basICColor 2007-2010, zlib licence, in Debian's package scribus-data.
PROFILE = Path("/usr/share/scribus/profiles/ISOcoated_v2_300_bas.icc")


@cache
def blank(code: str) -> Blank:
    """A blank of the sample shop; the flask and the pouch are made for these tests."""
    if code == "FLASK":
        return FLASK
    if code == "POUCH":  # a small thing of cloth
        area = PrintArea("front", 1200, 1200, 300, safe_margin_mm=3)
        return replace(blank("TOTE-BAG"), areas=(area,), body=Body(width_mm=150, height_mm=140))
    shop = open_shop(Path(str(resources.files("hundredfold") / "sample")))
    return next(one for one in shop.blanks if one.code == code)


@dataclass(frozen=True)
class Case:
    """A file on a colour of a blank; ``ground`` replaces that, ``most_bytes`` is what a partner takes."""

    draw: Callable[[], bytes]
    on: str = "MUG-325"
    colour: str = "white"
    name: str = "art.png"
    wish: Wish | None = None
    ground: str = ""
    most_bytes: int = 0
    thumbnail_px: int = 240  # large, so that only what is broken on purpose is not read

    @property
    def pair(self) -> tuple[Blank, BlankColour]:
        on = blank(self.on)
        if self.most_bytes:
            on = replace(on, areas=tuple(replace(area, max_bytes=self.most_bytes) for area in on.areas))
        colour = on.colour(self.colour)
        return on, replace(colour, srgb=Srgb.parse(self.ground)) if self.ground else colour


def findings(case: Case) -> set[tuple[str, str]]:
    """The way of any file: decode, measure, read, lay out, judge."""
    data = case.draw()
    on, colour = case.pair
    picture = read_picture(data, case.name)
    facts = measure(picture, "d" * 64, len(data))
    alone = judge_design(case.name, facts)
    if worst(alone) is Severity.STOP:  # art that is wrong itself is judged nowhere
        return {(one.check, one.code) for one in alone}
    try:
        layout = lay_out(facts.ink, on, on.areas[-1], case.wish or usual_wish(on))
    except ShopError as reason:
        return {(one.check, one.code) for one in judge_unlaid(case.name, on, reason)}
    deep = unpack(measure_for_proof(picture.pixels, facts.ink, TREES), TREES)
    look = look_of(on, colour, art_px(on, layout, case.thumbnail_px))
    chance = read_looks(deep, [look])[look]
    reading = chance and Reading(chance.whole, look.art_px, chance.main, chance.share)
    size = None
    if case.most_bytes:
        size = len(print_file_of(sheet_of(layout, cropped(picture)), replace(layout.area, max_bytes=None)))
    evidence = Evidence(deep.art, reading, print_bytes=size)
    found = judge(case.name, facts, on, colour, layout, evidence=evidence)
    # The flask and the pouch are made for these tests and have no plate of their own shape.
    unpictured = ("picture/other-shape",) if case.on in ("FLASK", "POUCH") else ()
    return {(one.check, one.code) for one in found if one.check not in unpictured}


GOOD: dict[str, Case] = {
    "png": Case(lambda: png(badge())),
    "png with an sRGB tag and dots per inch": Case(lambda: png(badge(), dpi=(300, 300))),
    "png of a palette": Case(indexed),
    "grey png with alpha": Case(grey_with_alpha),
    "tiff": Case(tiff, name="art.tif"),
    "webp": Case(webp, name="art.webp"),
    "svg": Case(
        lambda: svg(
            '<circle cx="500" cy="500" r="460" fill="#1b2a4e"/>'
            '<path d="M300 620L500 260L700 620Z" fill="#f2c230"/>'
        ),
        name="art.svg",
    ),
    "photograph that fills its file": Case(lambda: jpeg(grain(800, 1000)), name="art.jpg"),
    "photograph stored on its side": Case(turned_jpeg, name="art.jpeg"),
    "photograph with air round it": Case(framed_photo),
    "seal in a file cropped to it": Case(lambda: tight(badge())),
    "two specks": Case(lambda: specked(2)),
    "white words on a navy travel mug": Case(lambda: png(slogan(ink=WHITE)), "TRAVEL-MUG", "navy"),
    "yellow words on a black mug": Case(lambda: png(slogan(ink="#f2c230")), "MUG-445", "black"),
    "white words in a black outline on black": Case(
        lambda: png(slogan(1000, 800, WHITE, (22, BLACK))), "MUG-445", "black"
    ),
    "white words in a black outline on white": Case(
        lambda: png(slogan(1000, 800, WHITE, (22, BLACK))), "MUG-445", "white"
    ),
    "dark words on cream": Case(lambda: png(slogan(ink=BLACK)), "MUG-325", "cream"),
    "red words on white": Case(lambda: png(slogan(ink=RED))),
    "bold words on a shot glass": Case(lambda: png(slogan()), "SHOT-GLASS"),
    "one tone engraved": Case(lambda: png(slogan(1400, 980, BLACK)), "FLASK", "navy"),
    "smooth gradient": Case(lambda: shaded(150)),
    "coarse gradient with grain": Case(lambda: shaded(18, noise=5)),
    "soft shadow where ink is transparent": Case(shadowed),
    "clean rim on black": Case(lambda: png(slogan(ink="#e0a020")), "TRAVEL-MUG", "black"),
    "lines of a third of a millimetre": Case(lambda: hatched(7)),
    "gaps of a third of a millimetre": Case(lambda: barred(9)),
    "small words large enough": Case(lambda: two_lines(860)),
    "picture without words": Case(flower),
    "wide art on a wide mug": Case(band),
    "upright art on an upright mug": Case(lambda: png(badge(800, 1100)), "TRAVEL-MUG", "white"),
    "art for cloth": Case(lambda: png(badge(1100, 1100)), "POUCH", "natural"),
    "cream line on its own dark panel": Case(lambda: captain(CREAM, NAVY)),
    "cream line on a dark mug": Case(lambda: captain(CREAM), "TRAVEL-MUG", "navy"),
    "dark arch on its own pale ring": Case(lambda: allotment("#1f3d2b", CREAM), "TRAVEL-MUG", "black"),
    "dark arch on white": Case(lambda: allotment("#1f3d2b")),
    "words cut out of a panel": Case(knocked_out),
    "file the partner takes": Case(lambda: png(badge()), most_bytes=2_000_000),
}

Code = tuple[str, str]
BAD: dict[str, tuple[Code, Case]] = {
    "hidden layers": (("art/empty", "no-ink"), Case(lambda: png(Drawing()))),
    "nothing but white": (("art/empty", "one-flat-colour"), Case(lambda: jpeg(Drawing()), name="art.jpg")),
    "wrong ending": (("art/file", "odd"), Case(lambda: png(badge()), name="art.jpg")),
    "guessed CMYK": (
        ("art/file", "odd"),
        Case(
            lambda: saved(Image.fromarray(grain(800, 1000)).convert("CMYK"), "JPEG", quality=90),
            name="art.jpg",
        ),
    ),
    "letters cut off at the border": (("art/touches-edge", "cut-off"), Case(cropped_right)),
    "crumbs of an eraser": (("art/stray-specks", "specks"), Case(lambda: specked(11))),
    "saved with its white page": (
        ("art/background-box", "one-colour"),
        Case(lambda: jpeg(badge()), name="art.jpg"),
    ),
    "white box inside a transparent file": (
        ("art/background-box", "inset-box"),
        Case(boxed, ground="#e8f0f4"),
    ),
    "far too few pixels": (("prints/too-few-pixels", "below-floor"), Case(lambda: png(badge(330, 330)))),
    "rather few pixels": (("prints/too-few-pixels", "below-target"), Case(lambda: png(badge(620, 620)))),
    "narrow column on a mug": (
        ("suits/orientation", "upright-on-wide"),
        Case(column, "ENAMEL-MUG", "white-navy"),
    ),
    "band on a travel mug": (("suits/orientation", "wide-on-upright"), Case(band, "TRAVEL-MUG", "white")),
    "no room between the keep-outs": (
        ("suits/room", "no-room"),
        Case(lambda: png(badge()), wish=Wish(keep=KeepOuts(rim_mm=95))),
    ),
    "wrap wider than the face": (
        ("suits/visible-face", "turns-away"),
        Case(lambda: png(np.tile(grain(400, 500), (1, 5, 1))), wish=Wish(where=ArtSpot.ROUND)),
    ),
    "line of words wider than the face": (
        ("suits/visible-face", "words-turn-away"),
        Case(
            lambda: png(Drawing(2400, 300).words("RINGING THE CHANGES", 30, 2300, NAVY)),
            wish=Wish(Size.SPAN, ArtSpot.LEFT),
        ),
    ),
    "hairlines": (("prints/thin-lines", "lines"), Case(lambda: hatched(1.0))),
    "hair-thin gaps": (("prints/thin-lines", "gaps"), Case(lambda: barred(1.9))),
    "thin lines on cloth": (
        ("prints/thin-lines", "lines"),
        Case(lambda: hatched(3.0), "POUCH", "natural"),
    ),
    "small words on a shot glass": (
        ("suits/small-words", "small"),
        Case(lambda: two_lines(380), "SHOT-GLASS"),
    ),
    "nothing but tiny words": (
        ("suits/small-words", "too-small"),
        Case(lambda: tiny_words(" and came home again by the long road"), "SHOT-GLASS"),
    ),
    "gradient in steps": (("prints/banding", "steps"), Case(lambda: shaded(18))),
    "file too large for the partner": (
        ("prints/file-size", "too-large"),
        Case(framed_photo, most_bytes=200_000),
    ),
    "blurred rim": (
        ("ink/rim", "halo"),
        Case(lambda: png(badge(800, 800, "#f2c230", BLACK).softened(1.1)), "POUCH", "black"),
    ),
    "pale rim of an old page": (
        ("ink/rim", "pale-fringe"),
        Case(lambda: cut_out(1.5), "TRAVEL-MUG", "black"),
    ),
    "soft shadow over white": (("ink/soft-on-underbase", "fringe"), Case(shadowed, "TRAVEL-MUG", "black")),
    "navy on navy": (
        ("blank/outline-contrast", "lost"),
        Case(lambda: png(slogan(ink="#1d2a49")), "TRAVEL-MUG", "navy"),
    ),
    "white ink that no press has": (("blank/outline-contrast", "lost"), Case(lambda: png(slogan(ink=WHITE)))),
    "a wreath lost round its word": (
        ("blank/outline-contrast", "part-lost"),
        Case(lambda: ringed("#22304f"), "TRAVEL-MUG", "navy"),
    ),
    "one word of two lost": (("blank/words-contrast", "lost"), Case(half_lost, "TRAVEL-MUG", "navy")),
    "a cream second line on white": (("blank/words-contrast", "lost"), Case(lambda: captain(CREAM))),
    "a dark arch on black": (
        ("blank/words-contrast", "lost"),
        Case(lambda: allotment("#1f3d2b"), "TRAVEL-MUG", "black"),
    ),
    "one word of a line lost": (("blank/words-contrast", "part-lost"), Case(two_inks, "TRAVEL-MUG", "navy")),
    "a faint line under a bold crest": (("blank/words-contrast", "weak"), Case(lambda: captain("#f4d050"))),
    "pale yellow on white": (("blank/outline-contrast", "weak"), Case(lambda: png(slogan(ink="#f0c818")))),
    "art on a midnight mug": (
        ("ink/dark-blank", "nothing-shows"),
        Case(lambda: png(badge()), ground="#10131f"),
    ),
    "white that turns sage": (
        ("ink/colour-shift", "white-lost"),
        Case(lambda: mixed(800), "MUG-325", "sage"),
    ),
    "a little white that turns sage": (
        ("ink/colour-shift", "white-tinted"),
        Case(lambda: mixed(160), "MUG-325", "sage"),
    ),
    "blue that turns green": (
        ("ink/colour-shift", "colours-shift"),
        Case(lambda: png(slogan(ink="#2f7fd0")), "MUG-325", "lemon"),
    ),
    "two tones engraved": (
        ("ink/one-tone", "detail-merges"),
        Case(lambda: png(slogan(1400, 1100, WHITE, (14, BLACK))), "FLASK", "navy"),
    ),
    "words that die in the thumbnail": (
        ("reads/thumbnail", "unreadable"),
        Case(tiny_words, thumbnail_px=140),
    ),
    "small line below a huge word": (
        ("reads/thumbnail", "small-lines"),
        Case(lambda: two_lines(400), thumbnail_px=110),
    ),
    "picture with a small caption": (
        ("reads/thumbnail", "picture-first"),
        Case(lambda: flower("from the plot behind the church", 700), thumbnail_px=110),
    ),
}


@pytest.mark.parametrize("name", GOOD)
def test_a_good_file_gives_nothing(name: str) -> None:
    assert findings(GOOD[name]) == set()


@pytest.mark.parametrize("name", BAD)
def test_a_bad_file_gives_its_code_and_no_other(name: str) -> None:
    code, case = BAD[name]
    assert findings(case) == {code}


@pytest.mark.skipif(not PROFILE.exists(), reason="no coated profile: apt install scribus-data")
def test_ink_out_of_a_press_gamut_is_told_of_a_real_file() -> None:
    """Green #00ff00 is 16.9 CIEDE2000 from what coated offset reaches, by the ICC profile itself."""
    press = Printer(PROFILE.read_bytes())
    for ink, expected in (("#00ff00", {("ink/out-of-gamut", "duller")}), ("#7a4a32", set())):
        picture = read_picture(png(slogan(ink=ink)), "art.png")
        facts = measure(picture, "d" * 64, 1)
        on, colour = Case(bytes, "TRAVEL-MUG", "black" if expected else "white").pair
        layout = lay_out(facts.ink, on, on.areas[0])
        found = judge(
            "art.png", facts, on, colour, layout, evidence=Evidence(gamut=press.gamut(facts.inks, 6))
        )
        assert {(one.check, one.code) for one in found} == expected


def test_there_are_thirty_of_each() -> None:
    assert len(GOOD) >= 30
    assert len(BAD) >= 30
