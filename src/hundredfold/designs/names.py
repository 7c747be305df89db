"""What a file name says about the design: a title, and keywords to search by."""

import re
import unicodedata


def _words(text: str) -> frozenset[str]:
    return frozenset(text.split())


# Words a drawing program, a phone or a hurried person leaves in a file name. They say nothing of the design.
_BY_PRODUCTS = _words(
    "final finished done new old copy edit edited export exported draft rev revised version ver fixed"
    " print printready ready web hires lowres highres transparent png jpg jpeg svg webp tif tiff rgb cmyk"
    " img image pic picture untitled artboard layer design artwork file scan screenshot dsc dscn dcim"
    " upload download cropped resized upscaled nobg bg"
)
_CAMERA = _words("img dsc dscn dcim pxl scan screenshot artboard untitled layer")
_SMALL = _words("a an and as at but by for from in nor of on or so the to up with yet vs")
_STOP = _SMALL | _words("is are be am was it its it's this that my your our i i'm you me we im")
_BEFORE_NUMBERS = _words("over turning is at the since class happy only about nearly number")
_ORDINAL = re.compile(r"\d+(?:st|nd|rd|th)", re.IGNORECASE)
_KEPT_NUMBER = re.compile(r"(?:19|20)\d\d")  # a year somebody was born, or a class graduates
_VERSION = re.compile(r"(?:v|ver|rev|r)\d+(?:[.-]\d+)*", re.IGNORECASE)
_SIZE = re.compile(r"\d{2,5}\s*[x×]\s*\d{2,5}(?:px)?|\d+(?:dpi|px|ppi)|@\d+x", re.IGNORECASE)
_CAMEL = re.compile(
    r"(?<=[a-zà-öø-ÿ])(?=[A-ZÀ-ÖØ-Þ])|(?<=[A-ZÀ-ÖØ-Þ])(?=[A-ZÀ-ÖØ-Þ][a-zà-öø-ÿ])|(?<=[^\W\d_]{3})(?=\d)|(?<=\d)(?=[A-Z][a-z])"
)


def words_of(file_name: str) -> tuple[str, ...]:
    """The words of a file name in order, case kept, by-products of saving taken off both ends."""
    name = unicodedata.normalize("NFKC", file_name).replace("\\", "/").rpartition("/")[2]
    stem = re.sub(r"\.(?:png|jpe?g|jpe|jfif|webp|tiff?|svg)$", "", name, flags=re.IGNORECASE)
    stem = re.sub(r"[(\[{]\s*(?:\d+|copy(?:\s*\d+)?|final|edited)\s*[)\]}]", " ", stem, flags=re.IGNORECASE)
    stem = _SIZE.sub(" ", stem.replace("’", "'"))
    parts = [part for part in re.split(r"[\s_\-–—+.,;~()\[\]{}!?#=]+", stem) if part]
    words = [word for part in parts for word in _split_camel(part)]
    return _without_by_products(words)


def keywords_from(file_name: str) -> tuple[str, ...]:
    """Lower-case search words in the order they stand, none twice, without little words.

    Accents are kept; digits that carry meaning ("40th", "1986", "60 and fabulous") are kept.
    """
    seen: dict[str, None] = {}
    for word in words_of(file_name):
        plain = word.strip("'").casefold()
        if plain and plain not in _STOP and (len(plain) > 1 or plain.isdigit() or not plain.isascii()):
            seen.setdefault(plain)
    return tuple(seen)


def title_from(file_name: str) -> str:
    """A title in headline case: little words small inside, capitals somebody meant kept.

    Empty when the name holds no words of its own (``IMG_2041.jpg``): the seller must name it.
    """
    words = words_of(file_name)
    shouted = sum(word.isupper() for word in words) > len(words) / 2
    titled = []
    for place, word in enumerate(words):
        lower = word.lower()
        if (0 < place < len(words) - 1 and lower in _SMALL) or _ORDINAL.fullmatch(word):
            titled.append(lower)
        elif not shouted and word.isupper() and len(word) > 1:
            titled.append(word)
        else:
            titled.append(lower[:1].upper() + lower[1:])
    return " ".join(titled)


def _split_camel(part: str) -> list[str]:
    """Words run together with capitals: ``ProudBeekeeper`` and ``40thBirthday``; ``v2`` stays whole."""
    if _VERSION.fullmatch(part) or _ORDINAL.fullmatch(part):
        return [part]
    return [word for word in _CAMEL.split(part) if word]


def _without_by_products(words: list[str]) -> tuple[str, ...]:
    """Take by-products off the end, then off the front; in the middle they belong to the saying."""
    camera = bool(words) and words[0].casefold() in _CAMERA
    end = len(words)
    while end and _is_by_product(words[end - 1], words[:end]):
        end -= 1
    start = 0
    while camera and start < end and (_noise(words[start]) or words[start].isdigit()):
        start += 1
    return tuple(words[start:end])


def _is_by_product(word: str, before: list[str]) -> bool:
    if _noise(word):
        return True
    if not word.isdigit():
        return False
    # A trailing number counts copies, unless it is a year or what stands before it gives it meaning.
    meant = len(before) == 1 or before[-2].casefold() in _BEFORE_NUMBERS
    return not (meant or _KEPT_NUMBER.fullmatch(word))


def _noise(word: str) -> bool:
    return word.casefold() in _BY_PRODUCTS or bool(_VERSION.fullmatch(word))
