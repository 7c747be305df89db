"""How a seller's own SKUs are made, as a pattern a person can write: ``{blank}-{design}-{colour}``."""

import re
from collections.abc import Sequence

from hundredfold.kernel.errors import ShopError

PARTS = ("design", "blank", "colour", "size", "any")
_ONE_WORD = r"[^-_./ ]+"


def sku_pattern(pattern: str, blank_codes: Sequence[str]) -> re.Pattern[str]:
    """The pattern as a regular expression with groups named design, blank, colour, size; case does not count.

    ``{design}`` takes as much as it can, ``{blank}`` a known code or one word, ``{colour}``, ``{size}`` and
    ``{any}`` one word; everything else stands for itself. A regular expression that names these groups itself
    is taken as it is. Raises ShopError ``bad-sku-pattern``.
    """
    text = pattern if "(?P<" in pattern else _from_braces(pattern, blank_codes)
    try:
        compiled = re.compile(text, re.IGNORECASE)
    except re.error as error:
        raise _bad(pattern, str(error)) from None
    if not set(compiled.groupindex) & set(PARTS):
        raise _bad(pattern, "it has no {design}, {blank}, {colour} or {size}")
    return compiled


def _from_braces(pattern: str, blank_codes: Sequence[str]) -> str:
    found = []
    for text, name in re.findall(r"([^{}]+)|\{([^{}]*)\}", pattern):
        part = name.strip().casefold()
        if text:
            found.append(re.escape(text))
        elif part not in PARTS:
            raise _bad(pattern, f"there is no {{{name}}}")
        elif part == "any":
            found.append(_ONE_WORD)
        elif part == "design":
            found.append("(?P<design>.+)")
        else:
            codes = _codes(blank_codes) if part == "blank" else ""
            found.append(f"(?P<{part}>{codes}{_ONE_WORD})")
    return "".join(found)


def _codes(blank_codes: Sequence[str]) -> str:
    """The codes as alternatives, longest first, each also without its signs."""
    spelt = {
        spelling for code in blank_codes for spelling in (code, re.sub(r"[^A-Za-z0-9]", "", code)) if spelling
    }
    return "".join(f"{re.escape(code)}|" for code in sorted(spelt, key=lambda c: (-len(c), c)))


def _bad(pattern: str, why: str) -> ShopError:
    fix = "write it like {blank}-{design}-{colour}, with {any} for a word that says nothing"
    return ShopError("bad-sku-pattern", f"{pattern!r} is no pattern for SKUs: {why}", fix)
