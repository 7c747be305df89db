"""What each finished design is called: its file's name as it is read, with ``names.csv`` in its place.

``names.csv`` has a row a file: ``file``, ``says`` (lines apart by " / "), ``shows``, ``keywords`` (apart by
semicolons), ``niche``, ``occasion``, and for another language a column more, such as ``shows de`` and
``keywords de``. An empty cell leaves what was read.
"""

import csv
import io
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache
from pathlib import PurePosixPath

from hundredfold.designs.design import Design, OwnWords
from hundredfold.designs.facts import DesignFacts
from hundredfold.designs.names import NameReading, keywords_from, read_name
from hundredfold.kernel.errors import ShopError, Where
from hundredfold.kernel.findings import Finding
from hundredfold.kernel.nearest import did_you_mean
from hundredfold.runner.atomic import write_whole
from hundredfold.wording.books import book_for
from hundredfold.wording.sameness import words_in
from hundredfold.workshop.shop.checks import NAME
from hundredfold.workshop.shop.folder import Shop
from hundredfold.workshop.shop.phrases import shop_books

COLUMNS = ("file", "says", "shows", "keywords", "niche", "occasion")
LEFT_OUT = "left out of the name"  # told to the seller, never read back
_TOLD_TOGETHER = 3


@dataclass(frozen=True)
class DesignNames:
    """The names of a shop's designs."""

    rows: Mapping[str, Mapping[str, str]]  # by file name
    colours: tuple[str, ...]
    spelt: frozenset[str]  # words that are never parted: the shop's own and its books'
    english: bool
    topics: frozenset[str] = frozenset()  # what tells what art is about, in the shop's language

    def read(self, path: str) -> NameReading:
        """What a file's name says by itself."""
        split = _split if self.english else None
        return read_name(PurePosixPath(path).name, split, self.colours, self.spelt, self.english, self.topics)

    def named(self, design_id: str, path: str, facts: DesignFacts) -> Design:
        """The design under the name that its file, or its row in names.csv, gives it."""
        reading = self.read(path)
        return self.over(Design(design_id, path, facts, reading.title, reading.keywords))

    def over(self, design: Design) -> Design:
        """The design with what its row in names.csv says, where it has one."""
        row = self.rows.get(PurePosixPath(design.path).name)
        return _described(design, row) if row is not None else design

    @cached_property
    def languages(self) -> tuple[str, ...]:
        """The languages that names.csv has columns of."""
        heads = {head for row in self.rows.values() for head in row}
        return tuple(
            sorted({head.split(" ")[1] for head in heads if head.startswith(("shows ", "keywords "))})
        )


def shop_names(shop: Shop) -> DesignNames:
    """The names of a shop. Raises ShopError ``bad-names`` for a list without its columns."""
    rows: dict[str, dict[str, str]] = {}
    if shop.files.is_file(shop.paths.names):
        rows = _rows(shop.files.text(shop.paths.names))
    colours = {text for blank in shop.blanks for c in blank.colours for text in (c.name, c.code)}
    english = shop.settings.language.partition("-")[0] == "en"
    spelt = {word.casefold() for word in words_in(shop.settings.name)}
    books = shop_books(shop)
    own = book_for(shop.settings.language, books)
    for book in books.values():
        spelt |= {
            word.casefold()
            for niche in book.niches.values()
            for text in niche.also
            for word in words_in(text)
        }
    return DesignNames(
        rows, tuple(sorted(colours)), frozenset(spelt), english, own.topics if own else frozenset()
    )


def _rows(text: str) -> dict[str, dict[str, str]]:
    reader = csv.DictReader(io.StringIO(text, newline=""))
    heads = [head.strip().casefold() for head in reader.fieldnames or ()]
    where = Where("names.csv", row=1)
    if "file" not in heads:
        fix = "run hundredfold words --names: it writes the list anew and keeps your rows"
        raise ShopError("bad-names", 'its first row has no column "file"', fix, where)
    known = (*COLUMNS, LEFT_OUT)
    for head in heads:
        part, _, language = head.partition(" ")
        if head and head not in known and not (part in ("shows", "keywords") and language.isalpha()):
            raise ShopError("bad-names", f'there is no column "{head}"', did_you_mean(head, known), where)
    found = {}
    for row in reader:
        cells = {head: (cell or "").strip() for head, cell in zip(heads, row.values(), strict=False) if head}
        if cells.get("file"):
            found[PurePosixPath(cells["file"].replace("\\", "/")).name] = cells
    return found


def _described(design: Design, row: Mapping[str, str]) -> Design:
    lines = tuple(part.strip() for part in row.get("says", "").split(" / ") if part.strip())
    shows = row.get("shows", "")
    title = " ".join(lines) or shows or design.title
    keywords = _parts(row.get("keywords", ""))
    own = {}
    for head in row:
        part, _, language = head.partition(" ")
        if language and part in ("shows", "keywords") and head != LEFT_OUT:
            words = OwnWords(
                row.get(f"shows {language}", ""), _parts(row.get(f"keywords {language}", "")), "names.csv"
            )
            if words.shows or words.keywords:
                own[language] = words
    return replace(
        design,
        title=title,
        lines=lines or design.lines,
        keywords=keywords or (keywords_from(title) if lines or shows else design.keywords),
        niche=row.get("niche", "") or design.niche,
        occasion=row.get("occasion", "") or design.occasion,
        own_words=own,
    )


def _parts(text: str) -> tuple[str, ...]:
    return tuple(part.strip() for part in text.split(";") if part.strip())


def nameless(designs: Iterable[Design]) -> dict[str, Finding]:
    """By path, the designs that nothing is known to be called: a camera's number names no listing."""
    bare = [design.path for design in designs if not design.title.strip()]
    others = f" (one of {len(bare)} such files)" if len(bare) > _TOLD_TOGETHER else ""
    what = f"its name says nothing of what it shows{others}, so it is not listed"
    fix = "run hundredfold words --names, say in names.csv what it says or shows, and run the month again"
    return {path: NAME.finds("says-nothing", path, what, fix) for path in bare}


def write_names(shop: Shop, names: DesignNames, designs: Sequence[Design]) -> int:
    """Write names.csv: a row for each design that is named by its file, the seller's own rows kept.

    The number of rows that are new. Raises ShopError ``cannot-write`` and its kin.
    """
    heads = [
        *COLUMNS,
        *(f"{part} {tag}" for tag in names.languages for part in ("shows", "keywords")),
        LEFT_OUT,
    ]
    rows = {file: dict(row) for file, row in names.rows.items()}
    fresh = 0
    for design in designs:
        if design.row:
            continue  # its word list says what it says
        file = PurePosixPath(design.path).name
        reading = names.read(design.path)
        told = "; ".join(f"{one.words} ({one.why})" for one in reading.left_out)
        if file not in rows:
            fresh += 1
            rows[file] = {"file": file, "shows": reading.title, "keywords": "; ".join(reading.keywords)}
        rows[file][LEFT_OUT] = told
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerow(heads)
    writer.writerows([rows[file].get(head, "") for head in heads] for file in sorted(rows))
    write_whole(shop.paths.names, text.getvalue().encode("utf-8-sig"))
    return fresh


@lru_cache(maxsize=4096)
def _split(word: str) -> tuple[str, ...]:
    """A lower-case word parted into words, where it is none itself."""
    import wordsegment  # lazily: it reads a list of 300,000 words

    if not wordsegment.UNIGRAMS:
        wordsegment.load()
    if wordsegment.UNIGRAMS.get(word, 0) > _A_WORD or not word.isascii():
        return (word,)
    return tuple(wordsegment.segment(word))


_A_WORD = 1e6  # times in the list's texts: a word that is seen so often is one
