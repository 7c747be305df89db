"""The shop's phrase books: the starters of this program, with the shop's own ``phrases/*.toml`` on top."""

import csv
import io
from collections import Counter
from collections.abc import Mapping
from functools import lru_cache
from importlib import resources

from hundredfold.catalogue.toml_table import Source
from hundredfold.wording.books import PhraseBook
from hundredfold.wording.parse_books import parse_book, read_own, stacked
from hundredfold.wording.write import ShopVoice
from hundredfold.workshop.shop.folder import Shop


@lru_cache(maxsize=1)
def starter_books() -> Mapping[str, PhraseBook]:
    """The books that come with the program, by language."""
    folder = resources.files("hundredfold") / "phrases"
    files = sorted((file for file in folder.iterdir() if file.name.endswith(".toml")), key=lambda f: f.name)
    parsed = []
    for file in files:
        source = Source(file.read_text(encoding="utf-8"), f"starter {file.name}")
        parsed.append(parse_book(source))
        source.settle()
    return stacked({}, parsed)


def shop_books(shop: Shop) -> Mapping[str, PhraseBook]:
    """Every book of the shop by language. Raises ShopError with every mistake in its own files."""
    own = {
        shop.files.name(path): shop.files.text(path)
        for path in shop.files.listed(shop.paths.phrases, "*.toml")
    }
    return read_own(starter_books(), own)


def shop_voice(shop: Shop) -> ShopVoice:
    """What the shop brings to all its texts."""
    sold: dict[str, float] = {}
    if shop.files.is_file(shop.paths.words_that_sold):
        rows = csv.DictReader(io.StringIO(shop.files.text(shop.paths.words_that_sold), newline=""))
        for row in rows:
            words, count = (row.get("words") or "").strip(), (row.get("sales") or "").strip()
            if words and count.isdecimal():
                sold[words] = float(count)
    forms = Counter(blank.form.value for blank in shop.blanks)
    twice = frozenset(form for form, count in forms.items() if count > 1)
    return ShopVoice(shop.settings.language, shop.blocked, sold, twice)
