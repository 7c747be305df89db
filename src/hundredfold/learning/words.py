"""A header's words, folded so that languages, capitals, accents and signs do not matter."""

import re
import unicodedata

SIGNS = {"£": " gbp ", "€": " eur ", "$": " usd ", "%": " percent ", "&": " and ", '"': " inch "}
_WORD = re.compile(r"[a-z]+|[0-9]+|[^\W\d_]+")
_DOTTED = re.compile(r"\b(?:[A-Za-z]\.){2,}[A-Za-z]?\b")  # P.V.P., I.V.A.
_OWNERS = re.compile(r"(?<=[a-z])['\u2019]s\b")  # maker's address
_NUMBER_SIGN = re.compile(r"#(?=\s*([*(].*)?$)")  # Style #
_HUMP = re.compile(r"(?<=[a-z][a-z])(?=[A-Z])")


def fold(text: str) -> str:
    """Lower case without accents: ``Größe`` and ``Grosse`` are one."""
    spread = unicodedata.normalize("NFKD", text.casefold())
    return "".join(char for char in spread if not unicodedata.combining(char))


def split_words(text: str) -> tuple[str, ...]:
    """The words and numbers of a header: ``mainImage_url-2`` gives main, image, url, 2."""
    text = _OWNERS.sub("", text)
    text = _HUMP.sub(" ", _DOTTED.sub(lambda found: found[0].replace(".", ""), text))
    text = _NUMBER_SIGN.sub(" no ", text)
    for sign, word in SIGNS.items():
        text = text.replace(sign, word)
    folded = (
        fold(text).replace("ae", "a").replace("oe", "o").replace("ue", "u") if _german(text) else fold(text)
    )
    return tuple(_WORD.findall(folded))


def _german(text: str) -> bool:
    """Whether ae, oe and ue stand for umlauts, as where a sheet's makers feared them: Groesse, Hoehe."""
    return bool(re.search(r"groess|hoehe|laenge|waehrung|fuell|haendl|verfueg|schluess|aufzaehl|stueck|ruecks"
                          r"|zusaetz|aender|kaeuf", text.casefold()))  # fmt: skip


def letter_of(index: int) -> str:
    """A column's letter by its 0-based index, as spreadsheets write it: 0 is A, 27 is AB."""
    letters = ""
    index += 1
    while index:
        index, rest = divmod(index - 1, 26)
        letters = chr(65 + rest) + letters
    return letters
