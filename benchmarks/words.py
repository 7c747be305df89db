"""What 50,000 listings cost to word: `python -m benchmarks.words [LISTINGS]`.

Designs with sayings of their own on the sample's four blanks, one channel, one process, so two channels of a
shop take two cores. CPU seconds, and how much the process grows after its first tenth (each title is kept,
to give none twice). `--tight` gives the search words half the room, so that they must be chosen.
"""

import random
import resource
import sys
import time
from collections.abc import Iterator
from dataclasses import replace

from hundredfold.designs.design import Design
from hundredfold.designs.facts import DesignFacts
from hundredfold.wording.books import book_for
from hundredfold.wording.write import ShopVoice, Writer
from hundredfold.workshop.shop.phrases import starter_books
from tools.words.listings import LIMITS, blank, channel, designs
from tools.words.variety import BLANKS, variety_of

LISTINGS = 50_000


def sayings(count: int) -> Iterator[Design]:
    """Designs whose words are drawn, seeded, from all the words of the sample, with its niches."""
    rng = random.Random(1)
    known = [design for rows in designs().values() for design in rows]
    words = sorted({word for design in known for line in design.lines for word in line.split()})
    for number in range(count):
        like = known[number % len(known)]
        lines = tuple(" ".join(rng.sample(words, rng.randint(2, 5))) for _ in range(2))
        facts = DesignFacts.unmeasured(f"{number:064x}")
        yield replace(
            like,
            id=f"{number:08X}",
            path=f"designs/{number}.svg",
            facts=facts,
            lines=lines,
            title=" ".join(lines),
        )


def memory_mb() -> float:
    """The most memory that this process has had."""
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024


def main(listings: int, tight: bool) -> None:
    """Word them and tell what it took."""
    book = book_for("en-GB", starter_books())
    assert book is not None
    limits = replace(LIMITS, search_chars=LIMITS.search_chars // 2) if tight else LIMITS
    writer = Writer(channel("en-GB", limits), book, ShopVoice("en-GB"))
    goods = [blank(name) for name in BLANKS]
    titles: list[str] = []
    made = list(sayings(listings // len(goods)))
    began, early = time.process_time(), 0.0
    for number, design in enumerate(made):
        titles += [writer.write(design, one).wording.title for one in goods]
        if number == len(made) // 10:
            early = memory_mb()
    took = time.process_time() - began
    found = variety_of(titles)
    print(f"{found.titles} listings: {took:.1f} s of CPU, {1000 * took / found.titles:.2f} ms each")
    print(f"memory {memory_mb():.0f} MB, {memory_mb() - early:.0f} MB of it after the first tenth")
    print(f"{found.alike} titles alike, {found.begin_alike / found.titles:.1%} begin alike")


if __name__ == "__main__":
    numbers = [int(text) for text in sys.argv[1:] if text.isdecimal()]
    main(numbers[0] if numbers else LISTINGS, "--tight" in sys.argv)
