"""Patterns: the text of a slot, ``MY OTHER CAR IS {a vehicle}``, and how a row fills it.

Inside the braces stands the name of a column, with helper words before it; the word nearest the name is
applied first: ``{a title trade}`` is the article for the trade in title case, and the trade.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass

from hundredfold.designs.layouts.casing import CASES, apply_case
from hundredfold.designs.layouts.grammar import article, counted, join_list, plural
from hundredfold.designs.layouts.letters import composed, curled, nothing_visible
from hundredfold.designs.typesetting.spans import emphasised
from hundredfold.kernel.errors import ShopError, Where

HELPERS = {
    "a": "the article and the word: a beekeeper, an 8 oz mug (English)",
    "plural": "the plural: bees, shot glasses (English)",
    "upper": "CAPITALS, by the rules of the language",
    "lower": "small letters",
    "title": "Capitals As In a Title",
    "sentence": "a capital first letter",
    "list": "a cell like “peas; beans; leeks” as “peas, beans and leeks”",
    "either": "the same with “or”",
    "1st": "the first item of a cell like “peas; beans; leeks”, or with commas or &; empty when it has none",
    "2nd": "the second item",
    "3rd": "the third item",
    "4th": "the fourth, and all that follow",
    "counted": "a number column and a word column: {counted hives hive} gives “8 hives”",
}
_ENGLISH_ONLY = ("a", "plural", "counted")
_ORDER = ("1st", "2nd", "3rd", "4th")
_SLOT = re.compile(r"\{([^{}]*)\}")


@dataclass(frozen=True)
class Slot:
    """One pair of braces: helpers, outermost first, and the columns they are about."""

    helpers: tuple[str, ...]
    words: tuple[str, ...]  # what stands after the helpers; the columns' names are found in it
    optional: bool


@dataclass(frozen=True)
class Pattern:
    """Plain text and slots, in order."""

    parts: tuple[str | Slot, ...]

    @property
    def slots(self) -> tuple[Slot, ...]:
        """The slots only."""
        return tuple(part for part in self.parts if isinstance(part, Slot))

    def columns(self) -> tuple[str, ...]:
        """The columns it asks for, as written."""
        return tuple(name for slot in self.slots for name in slot_columns(slot))


def parse_pattern(text: str, where: Where | None = None) -> Pattern:
    """Read a pattern. Raises ShopError ``bad-slot`` for braces that do not pair or are empty."""
    rest = _SLOT.sub("", text)
    if "{" in rest or "}" in rest:
        fix = "write each slot as {name}, with one brace on either side"
        raise ShopError("bad-slot", f"the braces in {text!r} do not pair", fix, where)
    parts: list[str | Slot] = []
    at = 0
    for found in _SLOT.finditer(text):
        if found.start() > at:
            parts.append(text[at : found.start()])
        parts.append(_slot(found.group(1), text, where))
        at = found.end()
    if at < len(text):
        parts.append(text[at:])
    return Pattern(tuple(parts))


def _slot(inner: str, text: str, where: Where | None) -> Slot:
    optional = inner.rstrip().endswith("?")
    words = inner.rstrip().rstrip("?").split()
    helpers: list[str] = []
    while len(words) > 1 and words[0].lower() in HELPERS:
        helpers.append(words.pop(0).lower())
    if not words:
        raise ShopError("bad-slot", f"a slot in {text!r} has no name", "name the column: {trade}", where)
    return Slot(tuple(helpers), tuple(words), optional)


def slot_columns(slot: Slot) -> tuple[str, ...]:
    """The names of its columns: two words for a count, else all words as one name."""
    if "counted" in slot.helpers and len(slot.words) == 2:
        return slot.words
    return (" ".join(slot.words),)


def column_key(name: str) -> str:
    """How names are compared: case, spaces, hyphens and underscores do not matter."""
    return re.sub(r"[\s_-]+", " ", name).strip().casefold()


def filled(pattern: Pattern, cells: Mapping[str, str], language: str) -> str:
    """The text for a row; ``cells`` by column key. Empty when an optional slot's cell is empty and nothing
    else is in the pattern. A column that is not there is an empty cell.
    """
    out: list[str] = []
    for part in pattern.parts:
        out.append(part if isinstance(part, str) else _value(part, cells, language))
    return " ".join("".join(out).split())


def shown_when(text: str) -> Pattern:
    """What a ``data-when`` asks for: a column, with helper words before it."""
    return parse_pattern("{" + text + "?}")


def said(pattern: Pattern, cells: Mapping[str, str], language: str) -> str:
    """The same as it is printed: accents composed, quotation marks and apostrophes those of the language, and
    ``*words*`` marked as spans.
    """
    return emphasised(curled(composed(filled(pattern, cells, language)), language))


def english_only(pattern: Pattern) -> tuple[str, ...]:
    """Helpers in it that know English only."""
    return tuple(h for slot in pattern.slots for h in slot.helpers if h in _ENGLISH_ONLY)


def _value(slot: Slot, cells: Mapping[str, str], language: str) -> str:
    values = [" ".join(cells.get(column_key(name), "").split()) for name in slot_columns(slot)]
    value = values[-1]
    if nothing_visible(value):
        return ""
    for helper in reversed(slot.helpers):
        value = _apply(helper, value, values[0], language)
    return value


def _nth(value: str, place: int) -> str:
    """An item of a cell; the last place takes what is left."""
    items = [item.strip() for item in re.split(r";|,|\s&\s|\s\+\s", value) if item.strip()]
    if place == len(_ORDER) - 1:
        return ", ".join(items[place:])
    return items[place] if place < len(items) else ""


def _apply(helper: str, value: str, number: str, language: str) -> str:
    if helper in CASES:
        return apply_case(value, helper, language)
    if helper == "a":
        return f"{article(value, language)} {value}"
    if helper == "plural":
        return plural(value)
    if helper == "counted":
        return counted(number, value)
    if helper in _ORDER:
        return _nth(value, _ORDER.index(helper))
    items = [item.strip() for item in value.split(";") if item.strip()]
    return join_list(items, language, either=helper == "either")
