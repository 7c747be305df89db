"""What proofing costs: `python -m benchmarks.proofs [--designs 500]`.

One design's facts at 16 megapixels; all checks of one design on 40 blank colours; a run of 20,000 pairs with
its memory; and the same run judged again by another limit from what is stored, the art files gone. Seconds
are processor seconds of this process, the least of some rounds.
"""

import argparse
import hashlib
import resource
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from itertools import product
from pathlib import Path

import cv2
import fontpkg
import numpy as np
from PIL import Image, ImageDraw, ImageFont

from benchmarks.art import prepared
from benchmarks.jobs import TEE
from hundredfold.catalogue.blanks import Blank, BlankColour, BlankVariant
from hundredfold.designs.design import Design
from hundredfold.designs.measure import facts_from_json
from hundredfold.kernel.colour import Srgb
from hundredfold.proofing.art.packing import unpack, unpack_art
from hundredfold.proofing.designproof import Asked, DesignProof, looks_wanted, prove
from hundredfold.proofing.profile import STANDARD
from hundredfold.proofing.readings import chances_as_json, chances_from_json, read_looks
from hundredfold.workshop.steps.allsteps import MEASURE, PROOF_FACTS
from hundredfold.workshop.steps.artwork import Art
from hundredfold.workshop.steps.readingtrees import reading_trees

COLOURS, ROUNDS = 40, 5
SAYINGS = (
    "MUDDY BOOTS",
    "Proud Beekeeper",
    "SWIM AT DAWN",
    "Slow Boats Only",
    "ALTO AND LOUD",
    "Ring the Bells",
)
FAMILIES = ("Oswald", "Anton", "Lilita One", "Rowdies", "Lobster", "Pacifico")


@dataclass(frozen=True)
class Stored:
    """What a shop's cache holds of a design."""

    name: str
    facts: bytes
    deep: bytes
    chances: bytes = b""

    def keep(self, folder: Path) -> None:
        """Write it, as a cache does."""
        for part, data in (("facts", self.facts), ("deep", self.deep), ("chances", self.chances)):
            (folder / f"{self.name}.{part}").write_bytes(data)

    @classmethod
    def kept(cls, folder: Path, name: str) -> "Stored":
        """Read it again."""
        return cls(name, *((folder / f"{name}.{part}").read_bytes() for part in ("facts", "deep", "chances")))


def forty() -> Blank:
    """A shirt in 40 colours, from white to black and round the hues, every second one printed with white."""
    steps = np.linspace(20, 250, 8)
    mixed = list(product(steps[::3], steps[::2], steps[::2]))[: COLOURS - 8]
    greys = [(value, value, value) for value in steps]
    colours = tuple(
        BlankColour(f"c{n}", f"Colour {n}", Srgb(*(int(v) for v in rgb)), underbase=n % 2 == 1)
        for n, rgb in enumerate([*greys, *mixed])
    )
    cost = TEE.variants[0].base_cost
    return replace(
        TEE, colours=colours, variants=tuple(BlankVariant(one.code, "", one.code, cost) for one in colours)
    )


def drawn(number: int, folder: Path) -> Path:
    """A design of two lines and a shape, 900 pixels wide; no two are alike."""
    rng = np.random.default_rng([7, number])
    picture = Image.new("RGBA", (900, 1000), (0, 0, 0, 0))
    pen = ImageDraw.Draw(picture)
    ink = tuple(int(value) for value in rng.integers(0, 255, 3))
    pen.ellipse((300, 560, 600 + number % 97, 860), fill=(*ink[::-1], 255))
    for line in range(2):
        font = ImageFont.truetype(
            str(fontpkg.path(FAMILIES[(number + line) % 6], nearest=True)), int(rng.integers(70, 130))
        )
        pen.text((450, 160 + 200 * line), SAYINGS[(number // 6 + line) % 6], ink, font, "mm")
    path = folder / f"{number:04}.png"
    picture.save(path, compress_level=1)
    return path


def measured(path: Path) -> Stored:
    """The two measuring steps of a file, as a worker runs them."""
    digest = hashlib.sha256(path.read_bytes()).hexdigest()
    art = Art(path.read_bytes(), digest, path.name)
    facts, deep = art.make(MEASURE.name), art.make(PROOF_FACTS.name)
    return Stored(path.name, facts, deep)


def read(one: Stored, blank: Blank) -> Stored:
    """The chances of all of the blank's colours, as a worker reads them."""
    looks = looks_wanted(design_of(one), (blank,))
    return replace(one, chances=chances_as_json(read_looks(unpack(one.deep, reading_trees()), looks)))


def judged(one: Stored, blank: Blank, asked: Asked) -> DesignProof:
    """Every check from what is stored."""
    return prove(design_of(one), unpack_art(one.deep), (blank,), asked, chances_from_json(one.chances))


def design_of(one: Stored) -> Design:
    """The design as the shop knows it."""
    return Design(one.name, one.name, facts_from_json(one.facts), one.name, ())


def least(action: Callable[[], object]) -> float:
    """The least processor seconds of some rounds, after one that warms up."""
    action()
    spent = []
    for _ in range(ROUNDS):
        began = time.process_time()
        action()
        spent.append(time.process_time() - began)
    return min(spent)


def peak_mb() -> float:
    """The most memory this process has held."""
    unit = 1e6 if sys.platform == "darwin" else 1e3  # bytes there, kilobytes elsewhere
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / unit


def run(folder: Path, designs: int, blank: Blank) -> Iterator[str]:
    """A run over many designs, one at a time; what was measured is kept in the folder, by the names given."""
    stopped, began = 0, time.process_time()
    for number in range(designs):
        path = drawn(number, folder)
        one = read(measured(path), blank)
        path.unlink()
        proof = judged(one, blank, Asked())
        stopped += sum(colour.stopped for on in proof.blanks for colour in on.colours)
        one.keep(folder)
        yield one.name
        if (number + 1) % max(1, designs // 4) == 0:
            pairs = (number + 1) * COLOURS
            spent = time.process_time() - began
            print(
                f"{pairs:>8} pairs {spent:8.1f} s, {stopped} stopped, at most {peak_mb():.0f} MB", flush=True
            )


def again(folder: Path, names: list[str], blank: Blank) -> None:
    """Judge everything by other limits, from what is stored."""
    other = Asked(replace(STANDARD, limits=replace(STANDARD.limits, read_stop=0.5, weak_contrast=2.5)))
    began = time.process_time()
    stopped = 0
    for name in names:
        proof = judged(Stored.kept(folder, name), blank, other)
        stopped += sum(colour.stopped for on in proof.blanks for colour in on.colours)
    spent = time.process_time() - began
    print(f"judged again by other limits: {spent:.1f} s, {stopped} stopped, at most {peak_mb():.0f} MB")


def full_size(path: Path, blank: Blank) -> None:
    """One design of 16 megapixels."""
    print(f"{path.name}: facts, decoding too {least(lambda: measured(path)):.2f} s", end="")
    one = measured(path)
    print(f", read on {COLOURS} colours {least(lambda: read(one, blank)):.2f} s", end="")
    known = read(one, blank)
    print(f", all checks on them {least(lambda: judged(known, blank, Asked())):.3f} s")


def main() -> None:
    """Measure and print."""
    ask = argparse.ArgumentParser(description=__doc__)
    ask.add_argument("--designs", type=int, default=500)
    ask.add_argument("--folder", type=Path, help="where full-size art is kept and used again")
    args = ask.parse_args()
    cv2.setNumThreads(1)
    blank = forty()
    with tempfile.TemporaryDirectory() as scratch:
        folder = Path(scratch)
        names = list(run(folder, args.designs, blank))
        size = sum(path.stat().st_size for path in folder.iterdir())
        print(f"stored for {args.designs} designs: {size / 1e6:.0f} MB")
        again(folder, names, blank)
        for art in prepared(args.folder or folder, 1):
            full_size(art[0], blank)


if __name__ == "__main__":
    main()
