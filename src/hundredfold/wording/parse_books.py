"""A phrase book's TOML to a PhraseBook; several files of one language lie on top of each other."""

from collections.abc import Iterable, Mapping

from hundredfold.catalogue.toml_table import Source, Table
from hundredfold.kernel.errors import ShopError, Where
from hundredfold.wording.books import BlankWords, NicheWords, OccasionWords, PhraseBook, on_top
from hundredfold.wording.shapes import SLOTS, unknown_slots

SENTENCE_LISTS = frozenset(
    [
        *("made_in", "points_says", "points_shows", "story_says", "story_shows", "story_facts"),
        *("story_facts_plain", "story_close", "story_when", "gift"),
        *("niche_gift", "niche_kind", "niche_for"),
    ]
)
SENTENCE_TEXTS = frozenset(
    [
        *(
            "quote",
            "list_colours",
            "list_sizes",
            "holds",
            "high",
            "across",
            "between",
            "flat",
            "of_size",
            "laid_flat",
            "care",
            "day",
            "days",
        ),
        *("arrives", "claim", "many", "made_of"),
    ]
)


def parse_book(source: Source) -> PhraseBook:
    """Read one file; mistakes are collected in the source."""
    table = source.table
    title = table.table("title")
    shop = table.table("shop")
    book = PhraseBook(
        language=table.text("language"),
        like=table.text("like", ""),
        capitals=title.one_of("capitals", ("", "every word", "first letter"), ""),
        shapes=_shapes(title, "shapes"),
        spare=_shapes(title, "spare"),
        sentences=_sentences(table.table("sentences")),
        printed=table.pairs("printed"),
        print_point=table.pairs("print_point"),
        material=table.pairs("material"),
        colours={key.casefold(): value for key, value in table.pairs("colours").items()},
        blanks={code: _blank(inner, source.file) for code, inner in table.named("blank")},
        niches={key.casefold(): _niche(key, inner, source.file) for key, inner in table.named("niche")},
        occasions={key: _occasion(key, inner, source.file) for key, inner in table.named("occasion")},
        apart={word: _parts(others) for word, others in table.pairs("apart").items()},
        lines=shop.texts("lines"),
        claims=table.pairs("claims"),
        file=source.file,
    )
    title.done()
    shop.done()
    table.done()
    return book


def _parts(text: str) -> tuple[str, ...]:
    return tuple(part.strip().casefold() for part in text.split(",") if part.strip())


def _shapes(table: Table, key: str) -> tuple[str, ...]:
    shapes = table.texts(key)
    for shape in shapes:
        for slot in unknown_slots(shape):
            fix = f"use one of {', '.join(sorted(SLOTS))}"
            table.wrong("unknown-value", key, f"there is no slot {{{slot}}} in a title", fix)
    return shapes


def _sentences(table: Table) -> dict[str, tuple[str, ...]]:
    found = {}
    for name in table.names():
        if name in SENTENCE_LISTS:
            found[name] = table.texts(name)
        elif name in SENTENCE_TEXTS:
            found[name] = (table.text(name),)
    for name in (*SENTENCE_LISTS, *SENTENCE_TEXTS):
        table.ask(name)
    table.done()
    return found


def _blank(table: Table, file: str) -> BlankWords:
    forms = {name: table.text(name) for name in table.names() if name not in ("names", "short", "search")}
    names = table.texts("names")
    words = BlankWords(
        names, table.text("short", min(names, key=len, default="")), forms, table.texts("search"), file
    )
    table.done()
    return words


def _niche(key: str, table: Table, file: str) -> NicheWords:
    niche = NicheWords(
        key,
        table.texts("also"),
        table.texts("kind"),
        table.texts("for"),
        table.texts("gift"),
        table.text("many", ""),
        table.texts("lines"),
        table.texts("search"),
        file,
        table.texts("things"),
    )
    table.done()
    return niche


def _occasion(key: str, table: Table, file: str) -> OccasionWords:
    occasion = OccasionWords(
        key, table.texts("also"), table.texts("phrases"), _day(table, "from"), _day(table, "to"), file
    )
    table.done()
    return occasion


def _day(table: Table, key: str) -> tuple[int, int] | None:
    text = table.text(key, "")
    if not text:
        return None
    month, _, day = text.partition("-")
    if month.isdecimal() and day.isdecimal() and 1 <= int(month) <= 12 and 1 <= int(day) <= 31:
        return int(month), int(day)
    table.wrong("out-of-range", key, f'"{text}" is no day of the year', 'write month and day, like "10-01"')
    return None


def read_own(below: Mapping[str, PhraseBook], texts: Mapping[str, str]) -> dict[str, PhraseBook]:
    """The books with a shop's own files on top; ``texts`` maps file names to TOML.

    Raises ShopError with every mistake of the files, and ``unknown-value`` for a book that is to be like one
    there is not.
    """
    parsed: list[PhraseBook] = []
    errors: list[ShopError] = []
    for file in sorted(texts):
        try:
            source = Source(texts[file], file)
            parsed.append(parse_book(source))
            source.settle()
        except ShopError as error:
            errors.append(error)
    if errors:
        raise ShopError.several(errors)
    return stacked(below, parsed)


def stacked(below: Mapping[str, PhraseBook], books: Iterable[PhraseBook]) -> dict[str, PhraseBook]:
    """Books by language, each on top of what its language has already, or of the book that it is like.

    Raises ShopError ``unknown-value`` for a book that is to be like one there is not.
    """
    found = dict(below)
    for book in sorted(books, key=lambda one: (bool(one.like), one.file)):
        under = found.get(book.language) or found.get(book.like)
        if book.like and under is None:
            what = f'there is no book "{book.like}" for it to be like'
            fix = f"name one of {', '.join(sorted(found))}"
            raise ShopError("unknown-value", what, fix, Where(book.file, field="like"))
        found[book.language] = on_top(under, book) if under else book
    return found
