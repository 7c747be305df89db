"""Write docs/classics.md: four classic mistakes, stopped, explained, repaired or refused, in pictures.

python -m tools.classics
"""

from dataclasses import dataclass, replace
from pathlib import Path

import cv2
import fontpkg
import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageDraw, ImageFont

import hundredfold
from hundredfold.catalogue.blanks import Blank, BlankColour, BlankVariant
from hundredfold.catalogue.processes import Material, Process
from hundredfold.designs.decode import Picture
from hundredfold.designs.design import Design
from hundredfold.designs.facts import Box
from hundredfold.designs.measure import measure
from hundredfold.kernel.colour import Srgb
from hundredfold.proofing.art.packing import measure_for_proof, unpack
from hundredfold.proofing.designproof import Asked, BlankProof, ColourProof, looks_wanted, prove
from hundredfold.proofing.readings import look_of, read_looks
from hundredfold.proofing.repair.advice import advice_of
from hundredfold.proofing.repair.changes import changed
from hundredfold.proofing.repair.search import least_repair
from hundredfold.proofing.repair.verdicts import straight
from hundredfold.workshop.proof.figures import figure
from hundredfold.workshop.proof.picturedareas import sights_of
from hundredfold.workshop.shop.folder import open_shop
from hundredfold.workshop.steps.readingtrees import reading_trees

ROOT = Path(__file__).parents[1]
DOCS, IMAGES = ROOT / "docs", ROOT / "docs" / "images"
SIZE = 420
Pixels = NDArray[np.uint8]


@dataclass(frozen=True)
class Classic:
    """One mistake: the art, the blank and the colour it is made on."""

    slug: str
    title: str
    lines: tuple[str, ...]
    family: str
    size: int
    ink: str
    blank: Blank
    colour: str


def lettering(classic: Classic) -> Pixels:
    """Centred lines on a transparent file of 3000 x 3000 px."""
    picture = Image.new("RGBA", (3000, 3000), (0, 0, 0, 0))
    pen = ImageDraw.Draw(picture)
    font = ImageFont.truetype(str(fontpkg.path(classic.family, nearest=True)), classic.size)
    step = classic.size * 1.15
    top = 1500 - step * (len(classic.lines) - 1) / 2
    for place, line in enumerate(classic.lines):
        pen.text((1500, top + place * step), line, font=font, fill=classic.ink, anchor="mm")
    return np.array(picture)


def classics() -> tuple[Classic, ...]:
    """The four, on the sample's blanks."""
    shop = open_shop(Path(hundredfold.__file__).parent / "sample")
    black = BlankColour("black", "Black", Srgb(0x16, 0x16, 0x17), underbase=True)
    tumbler = shop.blank("TUMBLER")
    dark = replace(
        tumbler,
        process=Process.UV,
        material=Material.POWDER_COATED_STEEL,
        colours=(*(replace(c, underbase=True) for c in tumbler.colours), black),
        variants=(*tumbler.variants, BlankVariant("black", "", "", tumbler.variants[0].base_cost)),
    )
    return (
        Classic(
            "dark-blue-on-blue", "Dark blue on blue", ("SALTY", "& SLIGHTLY", "BLUE"), "Lilita One", 560,
            "#1b2a4e", shop.blank("T-SHIRT"), "navy",
        ),
        Classic(
            "white-on-white", "White on white, by sublimation", ("Proud", "Beekeeper"), "Lobster", 640,
            "#ffffff", shop.blank("MUG-325"), "white",
        ),
        Classic(
            "black-on-black", "Black on a black tumbler", ("BELL", "RINGER"), "Alfa Slab One", 520,
            "#101010", dark, "black",
        ),
        Classic(
            "thin-script", "A thin script at 160 pixels",
            ("if you can read this", "you have found my", "secret allotment and",
             "all of the strawberries", "so please bring cake"),
            "Caveat", 190, "#2f4a3a", tumbler, "white",
        ),
    )  # fmt: skip


def told(classic: Classic) -> str:
    """Judge and repair one classic, draw its pictures, and give its section."""
    pixels = lettering(classic)
    picture = Picture(pixels, "png", 8, "", 300.0, True)
    facts = measure(picture, "0" * 64, pixels.nbytes)
    design = Design("classic", f"{classic.slug}.png", facts, classic.title, ())
    kept = unpack(measure_for_proof(pixels, facts.ink, reading_trees()), reading_trees())
    asked = Asked(sights=sights_of([classic.blank]))
    chances = read_looks(kept, looks_wanted(design, [classic.blank], asked))
    (proof,) = prove(design, kept.art, [classic.blank], asked, chances).blanks
    one = next(colour for colour in proof.colours if colour.colour.code == classic.colour)
    assert kept.words.art is not None
    art = straight(kept.words.art)
    looks = [look_of(classic.blank, each.colour, proof.art_px) for each in proof.colours]
    found = least_repair(kept.words, [Srgb.parse(classic.ink)], looks)
    advice = advice_of(found)
    panels = [panel(proof, one, facts.ink, art)]
    if advice is not None and advice.change is not None:
        panels.append(panel(proof, one, facts.ink, changed(art, advice.change)))
    save(classic.slug, panels)
    said = [
        f"**{f.severity.word}** `{f.check}`: {f.what}."
        for f in (*proof.findings, *one.findings)
        if f.severity > 1
    ]
    after = (
        f"Proposed: {advice.words}."
        if advice is not None and advice.change
        else f"Refused: {advice.words}."
        if advice
        else ""
    )
    best = ", ".join(each.colour.name for each in proof.colours if each.best and not each.stopped)
    lines = "\n".join(f"- {line}" for line in said)
    better = f"\n\nBest colours of this blank for the art as it is: {best}." if best else ""
    return (
        f"## {classic.title}\n\n![{classic.title}](images/classic-{classic.slug}.jpg)\n\n"
        f"{classic.blank.name}, {one.colour.name}:\n\n{lines}\n\n{after}{better}\n"
    )


def panel(proof: BlankProof, one: ColourProof, ink: Box, art: Pixels) -> Pixels:
    """The main picture, with what a buyer sees at 160 px beside it."""
    assert proof.layout is not None
    made = figure(proof.blank, one.colour, proof.layout, ink, art)
    large, small = (cv2.resize(made, (px, px), interpolation=cv2.INTER_AREA) for px in (SIZE, 160))
    side = np.full((SIZE, 176, 3), 255, np.uint8)
    side[SIZE - 160 :, 8:168] = small
    return np.asarray(np.hstack([large, side]), np.uint8)


def save(slug: str, panels: list[Pixels]) -> None:
    """Panels side by side as a JPEG."""
    IMAGES.mkdir(exist_ok=True)
    whole = np.hstack(panels)
    cv2.imwrite(
        str(IMAGES / f"classic-{slug}.jpg"),
        cv2.cvtColor(whole, cv2.COLOR_RGB2BGR),
        [cv2.IMWRITE_JPEG_QUALITY, 86],
    )


def main() -> None:
    """Write the page and its pictures."""
    sections = "\n".join(told(classic) for classic in classics())
    head = (
        "# Four classics\n\nThe costliest mistakes of the trade, as the proof sees them: before and, where "
        "it can be "
        "mended, after; small, as a buyer sees it in a page of results at 160 pixels. The art is made for "
        "this page.\n\n"
    )
    (DOCS / "classics.md").write_text(
        f"{head}{sections}\nMade by `python -m tools.classics`.\n", encoding="utf-8"
    )


if __name__ == "__main__":
    main()
