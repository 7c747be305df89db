"""What a file name says about the design: a title, keywords, and what was left out of both, and why."""

import re
import unicodedata
from collections.abc import Callable, Collection, Iterable, Sequence
from dataclasses import dataclass
from itertools import zip_longest

from hundredfold.designs.namewords import (
    ABOUT_THE_FILE,
    AFTER_IT_IS,
    AFTER_WORLDS,
    ART_FORMS,
    BEFORE_NUMBERS,
    BEFORE_YEARS,
    BY_PRODUCTS,
    CAMERA,
    COLOURS,
    CONTRACTIONS,
    GOODS,
    LEADS_TO_A_PERSON,
    OCCASIONS,
    SELLING,
    SMALL,
    STOP,
    VERSIONS,
)

_PERCENT = re.compile(r"(?:%[0-9a-fA-F]{2})+")  # as addresses spell letters (RFC 3986, section 2.1)
_ORDINAL = re.compile(r"\d+(?:st|nd|rd|th)", re.IGNORECASE)
_KEPT_NUMBER = re.compile(r"(?:19|20)\d\d")  # a year somebody was born, or a class graduates
_RECENT = re.compile(r"20[2-9]\d")
_VERSION = re.compile(r"(?:v|ver|rev|r)\d+(?:[.-]\d+)*[a-z]?", re.IGNORECASE)
_SIZE = re.compile(
    r"(?<![^\W_])(?:\d{2,5}\s*[x×]\s*\d{2,5}(?:px|mm|cm|in)?|\d+(?:dpi|px|ppi|mm|cm|oz|ml)|\d+(?:\.\d+)?mb)(?![^\W_])"
    r"|@\d+x",
    re.IGNORECASE,
)
_OFFER = re.compile(r"\d+\s?%\s?(?:off|rabatt|de réduction|de descuento)", re.IGNORECASE)
_SAVED_AGAIN = re.compile(r"(?<=[a-z])(?:FINAL|Final)(?:FINAL|Final|final)*(?![a-z])|(?<=[a-z])(?:final){2,}")
_DEPTH = re.compile(r"\d+bits?", re.IGNORECASE)
_CODE = re.compile(
    r"(?=.*\d)(?:[A-Z]{1,6}\d{3,}[A-Z]*|#?\d{5,}|(?=.*[a-f])(?=.*\d)[0-9a-f]{8,}|[A-Z]+\d+[A-Z]+\d+)"
)
_LONG_CODE = re.compile(
    r"(?<![^\W_])[A-Z]{1,4}\d?-(?:[A-Z]+\d+|\d+[A-Z]*)(?:-[A-Z0-9]{2,5})*(?![^\W_])|\b[0-9a-f]{8}(?:-[0-9a-f]{4}){3}-[0-9a-f]{12}\b"
)
_MONTH, _DAY, _YEAR = r"(?:0[1-9]|1[0-2])", r"(?:0[1-9]|[12]\d|3[01])", r"(?:19|20)\d\d"
_MONTH, _DAY, _YEAR = r"(?:0[1-9]|1[0-2])", r"(?:0[1-9]|[12]\d|3[01])", r"(?:19|20)\d\d"
_DATE = re.compile(
    rf"^{_YEAR}[-_.]{_MONTH}[-_.](?=\D)|\b{_YEAR}[-_.]?{_MONTH}[-_.]?{_DAY}\b"
    rf"|\bat \d{{1,2}}[.:]\d\d(?:[.:]\d\d)?\b|\b{_DAY}[-_.]{_MONTH}[-_.]{_YEAR}\b"
)
_NUMBERED = re.compile(r"^(?:0\d*[\s_.)-]+|\d{1,4}[_.)]+\s*|#\d+[\s_-]+)(?=\D)")
_COPY_OF = re.compile(
    r"^(?:copy[\s_-]+of|kopie[\s_-]+von|copie[\s_-]+de|copia[\s_-]+de)[\s_-]+", re.IGNORECASE
)
_BRACKETS = re.compile(
    r"[(\[{]\s*(?:\d+|copy(?:\s*\d+)?|final|edited|[0-9]+\s*x\s*[0-9]+)\s*[)\]}]", re.IGNORECASE
)
_ENDING = re.compile(r"\.(?:png|jpe?g|jpe|jfif|webp|tiff?|svg|psd|ai|eps|pdf)$", re.IGNORECASE)
_CAMEL = re.compile(
    r"(?<=[a-zà-öø-ÿ])(?=[A-ZÀ-ÖØ-Þ])|(?<=[A-ZÀ-ÖØ-Þ])(?=[A-ZÀ-ÖØ-Þ][a-zà-öø-ÿ])|(?<=[^\W\d_]{3})(?=\d)|(?<=\d)(?=[A-Z][a-z])"
)
_BEFORE_A_NOUN = SMALL | frozenset(
    ["my", "your", "our", "is", "one", "this", "der", "die", "das", "le", "la", "el"]
)
_LEADING = (_BEFORE_A_NOUN - {"up", "one"}) | frozenset(
    [
        *(
            "no",
            "not",
            "never",
            "more",
            "most",
            "any",
            "some",
            "every",
            "all",
            "these",
            "those",
            "his",
            "her",
        ),
        *("their", "own", "other", "best", "than", "i", "you", "we", "love", "loves", "hate", "need", "want"),
        *("only", "just", "much", "many", "little", "big", "got", "get"),
    ]
)
_A_PERSON = 5  # words: "gift for my favourite grandad"
_RUN_TOGETHER = 9  # letters: a shorter word is hardly two

Splitter = Callable[[str], Sequence[str]]


@dataclass(frozen=True)
class LeftOut:
    """Words of a file name that are not about the design, with the reason."""

    words: str
    why: str


@dataclass(frozen=True)
class NameReading:
    """What a file name says: a title (empty where it says nothing), keywords, and what was left out."""

    title: str
    keywords: tuple[str, ...]
    left_out: tuple[LeftOut, ...] = ()


def _decoded(found: re.Match[str]) -> str:
    return bytes.fromhex(found[0].replace("%", "")).decode("utf-8", "replace")


def read_name(
    file_name: str,
    split: Splitter | None = None,
    colours: Collection[str] = (),
    spelt: Iterable[str] = (),
    english: bool = True,
    topics: Collection[str] = (),
) -> NameReading:
    """Read a file name. ``split`` parts lower-case words run together; ``colours`` are the shop's own.

    ``spelt`` are words kept as the seller spells them (the shop's name); without ``english`` every word is
    kept so but for a first capital. ``topics`` are words and phrases that tell what art is about: at the end
    of a name they are keywords, no part of what it says. A name without words of its own (``IMG_2041.jpg``)
    gives an empty title: the seller must name the design.
    """
    name = unicodedata.normalize("NFKC", file_name).replace("\\", "/").rpartition("/")[2]
    left: list[LeftOut] = []
    plain = _PERCENT.sub(_decoded, name).replace("’", "'").replace("&amp;", "&")
    stem = re.sub(r"(?<=\w)@(?=\w)", " at ", _without_marks(_ENDING.sub("", plain), left))
    parts = [part for part in re.split(r"[\s_\-–—+.,;:~()\[\]{}!?#=|“”\"]+", stem) if part.strip("'")]
    kept = {word.casefold() for word in spelt}
    groups = [_parted(part, split, kept) for part in parts]
    words = [word for group in groups for word in group]
    run_together = {word.casefold() for group in groups if len(group) > 1 for word in group}
    words = _without_by_products(words, left)
    words = _without_others(words, frozenset(map(str.casefold, colours)) | COLOURS, left)
    if english:
        words = _with_apostrophes(words)
    # Words that were run together are one saying: "hightide" is not "high", about tides.
    said = _without_topics(words, frozenset(topics) - run_together, left)
    title = _title(said) if english else " ".join(said)[:1].upper() + " ".join(said)[1:]
    letters = sum(letter.isalpha() for letter in title)
    if letters < 2 and not (letters and not title.isascii()):
        return NameReading("", (), tuple(left))
    return NameReading(title, _keywords(words), tuple(left))


def title_from(file_name: str) -> str:
    """A title in headline case: little words small, capitals that are meant kept; "" of a camera's name."""
    return read_name(file_name).title


def keywords_from(file_name: str) -> tuple[str, ...]:
    """Lower-case search words in the order they stand, none twice, without little words."""
    return read_name(file_name).keywords


def _without_marks(stem: str, left: list[LeftOut]) -> str:
    """The name without counters, dates, sizes, codes and emoji."""
    for pattern, why in (
        (_COPY_OF, "a copy"),
        (_BRACKETS, "a counter"),
        (_OFFER, "an offer"),
        (_SAVED_AGAIN, "about the file"),
        (_LONG_CODE, "a code"),
        (_DATE, "a date"),
        (_NUMBERED, "a counter"),
        (_SIZE, "a size"),
    ):
        for found in pattern.findall(stem):
            left.append(LeftOut(str(found).strip(" _-"), why))
        stem = pattern.sub(" ", stem).strip()
    signs = {letter for letter in stem if unicodedata.category(letter) == "So" and letter not in "°"}
    if signs:
        left.append(LeftOut("".join(sorted(signs)), "an emoji"))
    return "".join(" " if letter in signs or letter == "\ufe0f" else letter for letter in stem)


def _parted(part: str, split: Splitter | None, spelt: Collection[str]) -> list[str]:
    """Words run together: with capitals (``ProudBeekeeper``), or in one case where ``split`` knows them."""
    if _VERSION.fullmatch(part) or _ORDINAL.fullmatch(part) or _DEPTH.fullmatch(part):
        return [part]
    if part.casefold() in spelt or part.isdigit() or _CODE.fullmatch(part):
        return [part]
    words = [word for word in _CAMEL.split(part) if word]
    return [piece for word in words for piece in _split(word, split, spelt)]


def _split(word: str, split: Splitter | None, spelt: Collection[str]) -> Sequence[str]:
    if split is None or len(word) < _RUN_TOGETHER or not word.isalpha() or word.casefold() in spelt:
        return [word]
    if word not in (word.lower(), word.upper()):
        return [word]
    pieces = list(split(word.lower()))
    whole = len(pieces) > 1 and all(len(piece) > 1 or piece in ("a", "i") for piece in pieces)
    return pieces if whole else [word]


def _without_by_products(words: list[str], left: list[LeftOut]) -> list[str]:
    """Take by-products off the end, then off a camera's front; in the middle they belong to the saying."""
    camera = bool(words) and words[0].casefold() in CAMERA
    end = len(words)
    while end and _is_by_product(words[end - 1], words[:end]):
        end -= 1
    start = 0
    while (
        camera and start < end and (_noise(words[start]) or words[start].isdigit() or words[start] in CAMERA)
    ):
        start += 1
    out = [*words[:start], *words[end:]]
    if out:
        left.append(LeftOut(" ".join(out), "about the file"))
    rest = words[start:end]
    # Whatever is left of a camera's or a program's name is no saying.
    return [] if camera and all(_noise(w) or w.isdigit() or w.casefold() in CAMERA for w in rest) else rest


def _is_by_product(word: str, before: Sequence[str]) -> bool:
    if _noise(word) or _CODE.fullmatch(word):
        return not (len(before) == 1 and _KEPT_NUMBER.fullmatch(word))
    if not word.isdigit():
        return False
    if len(before) > 1 and _RECENT.fullmatch(word):  # next year it would be stale
        return before[-2].casefold() not in BEFORE_YEARS
    # A trailing number counts copies, unless it is a year or what stands before it gives it meaning.
    meant = len(before) == 1 or before[-2].casefold() in BEFORE_NUMBERS
    return not (meant or _KEPT_NUMBER.fullmatch(word))


def _noise(word: str) -> bool:
    return word.casefold() in BY_PRODUCTS or bool(_VERSION.fullmatch(word))


def _without_others(words: list[str], colours: frozenset[str], left: list[LeftOut]) -> list[str]:
    """Take goods, colours and words for selling off the end, and where several stand together."""
    words = _without_chains(words, colours, left)
    if len(words) > 1 and words[-1] in VERSIONS and any(word != word.upper() for word in words[:-1]):
        left.append(LeftOut(words[-1], "a version"))
        words = words[:-1]
    while words:
        count, why = _last_other(words, colours)
        if not count:
            break
        left.append(LeftOut(" ".join(words[-count:]), why))
        words = words[:-count]
        while words and _is_by_product(words[-1], words) and not words[-1].isdigit():
            left.append(LeftOut(words[-1], "about the file"))
            words = words[:-1]
    while len(words) > 1 and words[0].casefold() in (SELLING | ABOUT_THE_FILE):
        left.append(LeftOut(words[0], "a selling word"))
        words = words[1:]
    return words


def _without_topics(words: list[str], topics: Collection[str], left: list[LeftOut]) -> list[str]:
    """The words without those at the end that tell what the art is about and how it is drawn.

    Two words stay, or one that is a topic itself; and nothing goes that the word before it leads to.
    """
    said = words
    while len(said) > 1:
        taken = 0
        for count in (2, 1):
            last = " ".join(said[-count:]).casefold()
            if len(said) > count and (last in topics or last in ART_FORMS):
                taken = count
                break
        rest = said[: len(said) - taken]
        alone = len(rest) == 1 and rest[0].casefold() not in topics
        if not topics or not taken or alone or rest[-1].casefold() in _LEADING:
            break
        said = rest
    if len(said) < len(words):
        left.append(LeftOut(" ".join(words[len(said) :]), "what it is about: kept as search words"))
    return said


def _with_apostrophes(words: Sequence[str]) -> list[str]:
    """English words with the apostrophe that a file name left out."""
    done = []
    for word, after in zip_longest(words, words[1:], fillvalue=""):
        bare, follows = word.casefold(), after.casefold()
        whole = CONTRACTIONS.get(bare, word)
        if (bare == "its" and follows in AFTER_IT_IS) or (bare == "worlds" and follows in AFTER_WORLDS):
            whole = f"{bare[:-1]}'s"
        done.append(whole.upper() if word.isupper() and len(word) > 1 else whole)
    return done


def _last_other(words: Sequence[str], colours: frozenset[str]) -> tuple[int, str]:
    """How many of the last words are not about the design, and why; occasions only behind selling words."""
    for count in (2, 1):
        why = _other(words, count, colours) if len(words) >= count else ""
        if why:
            return count, why
    for start in range(max(1, len(words) - _A_PERSON), len(words) - 2):
        if words[start].casefold() in SELLING and words[start + 1].casefold() in LEADS_TO_A_PERSON:
            return len(words) - start, "selling words"
    end = len(words)
    while end and words[end - 1].casefold() in OCCASIONS:
        end -= 1
    if 0 < end < len(words) and words[end - 1].casefold() in SELLING:
        return len(words) - end, "an occasion: give it in names.csv where the design is for it"
    return 0, ""


def _without_chains(words: list[str], colours: frozenset[str], left: list[LeftOut]) -> list[str]:
    """Two or more such words in a row with a product among them belong together, wherever they stand."""
    kept: list[str] = []
    place = 0
    while place < len(words):
        end, goods = place, False
        while end < len(words):
            pair = " ".join(words[end : end + 2]).casefold()
            if pair in GOODS and end + 2 <= len(words):
                end, goods = end + 2, True
                continue
            word = words[end].casefold()
            other = word in colours | SELLING | ABOUT_THE_FILE or word in BY_PRODUCTS
            if not other and word not in GOODS:
                break
            goods = goods or word in GOODS
            end += 1
        before = kept[-1].casefold() if kept else ""
        if goods and end - place > 1 and before not in _BEFORE_A_NOUN and end - place < len(words):
            left.append(LeftOut(" ".join(words[place:end]), "about the goods, which the listing may not be"))
            place = end
        else:
            kept.append(words[place])
            place += 1
    return kept


def _other(words: Sequence[str], count: int, colours: frozenset[str]) -> str:
    """Why the last words are about something else than the design; "" when they are not."""
    last = " ".join(words[-count:]).casefold()
    before = words[-count - 1].casefold() if len(words) > count else ""
    if before in _BEFORE_A_NOUN:
        return ""
    if last in GOODS:
        return "a product, which the listing may not be"
    if count == 1 and last in colours:
        return "a colour, which the listing may not be"
    if count == 1 and (last in ABOUT_THE_FILE or _DEPTH.fullmatch(last)):
        return "about the file"
    return "a selling word" if count == 1 and last in SELLING else ""


def _keywords(words: Sequence[str]) -> tuple[str, ...]:
    seen: dict[str, None] = {}
    for word in words:
        plain = word.strip("'").casefold()
        if plain and plain not in STOP and (len(plain) > 1 or plain.isdigit() or not plain.isascii()):
            seen.setdefault(plain)
    return tuple(seen)


def _title(words: Sequence[str]) -> str:
    kept = sum(word[:1].isupper() and word[1:].islower() for word in words) > 1  # the seller's own capitals
    shouted = sum(word.isupper() for word in words) > len(words) / 2
    titled = []
    for place, word in enumerate(words):
        lower = word.lower()
        if (0 < place < len(words) - 1 and lower in SMALL) or _ORDINAL.fullmatch(word):
            titled.append(lower)
        elif (kept and word.islower() and place) or (not shouted and word.isupper() and len(word) > 1):
            titled.append(word)
        elif re.match(r"o'\w", lower):  # O'Reilly
            titled.append(f"O'{lower[2:3].upper()}{lower[3:]}")
        else:
            titled.append(lower[:1].upper() + lower[1:])
    return " ".join(titled)
