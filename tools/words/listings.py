"""Print 60 listings: 6 niches, 5 blanks, 2 languages.

python -m tools.words.listings docs/words-sample.md
"""

import csv
import hashlib
import sys
from collections.abc import Iterator
from dataclasses import replace
from importlib import resources
from pathlib import Path

from hundredfold.catalogue.blanks import Blank
from hundredfold.catalogue.channels import Channel, LengthUnit, TextLimits, WordRules
from hundredfold.catalogue.parse_blanks import parse_blank
from hundredfold.catalogue.parse_channels import parse_channel
from hundredfold.catalogue.toml_table import Source
from hundredfold.designs.design import Design
from hundredfold.designs.facts import DesignFacts
from hundredfold.wording.books import book_for
from hundredfold.wording.wording import Wording
from hundredfold.wording.write import ShopVoice, Writer
from hundredfold.workshop.shop.phrases import starter_books

BLANKS = ("mug-325", "cushion", "tote-bag", "t-shirt", "tumbler")
LANGUAGES = ("en-GB", "de-DE")
LIMITS = TextLimits(title_chars=80, points=5, point_chars=200, story_chars=1000, search_chars=240)
HEAD = """# Sixty listings

Made by `python -m tools.words.listings docs/words-sample.md` from the sample shop: six niches, five
blanks, two languages. The words on the goods are English in both.

"""
STRIDE = 7  # through a niche's rows, so that each blank has another design


def sample(name: str) -> str:
    """A file of the sample shop."""
    return (resources.files("hundredfold") / "sample").joinpath(*name.split("/")).read_text(encoding="utf-8")


def blank(name: str) -> Blank:
    """A blank of the sample shop."""
    source = Source(sample(f"blanks/{name}.toml"), name)
    found = parse_blank(source, "GBP")
    source.settle()
    return found


def channel(language: str, limits: TextLimits = LIMITS) -> Channel:
    """The sample's marketplace, in this language."""
    source = Source(sample("channels/quayside.toml"), "quayside.toml")
    found = parse_channel(source)
    source.settle()
    pictures = replace(found.pictures, lengths=LengthUnit.MM)
    return replace(found, language=language, limits=limits, words=WordRules(), pictures=pictures)


def designs() -> dict[str, list[Design]]:
    """The designs of the sample's word list, by niche."""
    found: dict[str, list[Design]] = {}
    for row in csv.DictReader(sample("words/clubs.csv").splitlines()):
        lines = tuple(text for text in (row["title"], row["line"]) if text)
        digest = hashlib.sha256("|".join(lines).encode()).hexdigest()
        design = Design(
            digest[:8].upper(),
            f"designs/{'-'.join(lines)}.svg",
            DesignFacts.unmeasured(digest),
            " ".join(lines),
            tuple(word.strip() for word in row["keywords"].split(";")),
            niche=row["niche"],
            lines=lines,
        )
        found.setdefault(row["niche"], []).append(design)
    return found


def listings(language: str) -> Iterator[tuple[str, Blank, Wording]]:
    """One listing for each niche and blank."""
    book = book_for(language, starter_books())
    if book is None:
        raise SystemExit(f"no book of {language}")
    writer = Writer(channel(language), book, ShopVoice("en-GB"))
    for number, (niche, rows) in enumerate(designs().items()):
        for place, name in enumerate(BLANKS):
            goods = blank(name)
            yield niche, goods, writer.write(rows[(STRIDE * place + number) % len(rows)], goods).wording


def printed(language: str) -> Iterator[str]:
    """The listings as text."""
    for number, (niche, goods, words) in enumerate(listings(language), start=1):
        yield f"### {language} {number}: {niche}, {goods.name}"
        yield ""
        yield f"**{words.title}**"
        yield ""
        yield from (f"* {point}" for point in words.points)
        yield ""
        yield words.story
        yield ""


def main(path: Path, languages: tuple[str, ...]) -> None:
    """Write them all."""
    text = "\n".join(line for language in languages for line in printed(language))
    path.write_text(HEAD + text + "\n", encoding="utf-8")


if __name__ == "__main__":
    main(Path(sys.argv[1]), tuple(sys.argv[2:]) or LANGUAGES)
