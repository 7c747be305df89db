"""Reading typed values out of a TOML table: each mistake is collected with its file, line and key.

A reader asks a ``Table`` for each key by name and type, builds its record, and calls ``done()``. What was
never asked for is an unknown key. Placeholders stand in for what could not be read, so that one pass finds
every mistake; ``Source.settle`` then raises them together and the record is thrown away.
"""

import re
import tomllib
from collections.abc import Iterator, Mapping
from decimal import Decimal
from enum import StrEnum
from typing import TypeVar

from hundredfold.catalogue.codes import CODE_ADVICE, is_code
from hundredfold.catalogue.toml_lines import Path, line_of_each_key
from hundredfold.kernel.colour import Srgb
from hundredfold.kernel.errors import ShopError, Where
from hundredfold.kernel.money import Money
from hundredfold.kernel.nearest import did_you_mean, nearest

Choice = TypeVar("Choice", bound=StrEnum)
Value = TypeVar("Value")

# Plain digits, few enough for exact sums; Decimal would also read 1e9 and the digits of other scripts.
_EXACT = re.compile(r"[+-]?[0-9]{1,9}(\.[0-9]{1,12})?")
# More than any settings file needs (our choice). Reading a key takes the square of the number of its parts.
MOST_CHARACTERS, _MOST_PARTS, _MOST_UNKNOWN = 1_000_000, 30, 50
_PART = r"""(?:[\w-]++|"[^"\n]*+"|'[^'\n]*+')"""
_DEEP = re.compile(rf"(?<![\w-]){_PART}(?:[ \t]*+\.[ \t]*+{_PART}){{{_MOST_PARTS}}}")
_KINDS = {str: "text", bool: "true or false", int: "a whole number", float: "a decimal number"}


class Source:
    """One TOML file's text, parsed, with the line of each key and the errors found so far."""

    def __init__(self, text: str, file: str) -> None:
        """Raises ShopError ``bad-toml`` when the text is not TOML at all."""
        self.file = file
        self.errors: list[ShopError] = []
        self.asked: set[str] = set()
        if len(text) > MOST_CHARACTERS:
            raise _not_toml(f"it holds more than {MOST_CHARACTERS:,} characters", file)
        if (deep := _DEEP.search(text)) is not None:
            line = text.count("\n", 0, deep.start()) + 1
            raise _not_toml(f"a key of more than {_MOST_PARTS} parts (at line {line}, column 1)", file)
        try:
            self.data: Mapping[str, object] = tomllib.loads(text)
        except ValueError as error:  # TOMLDecodeError, or a number of thousands of digits
            raise _not_toml(str(error), file) from None
        except RecursionError:
            raise _not_toml("it is nested too deeply", file) from None
        self.lines = line_of_each_key(text)

    @property
    def table(self) -> "Table":
        """The whole file as a table."""
        return Table(self, self.data, ())

    def settle(self) -> None:
        """Raise everything that was found as one ShopError, in the order of the lines."""
        if self.errors:
            raise ShopError.several(sorted(self.errors, key=lambda error: error.where.line or 0))


def _not_toml(said: str, file: str) -> ShopError:
    place = re.search(r"\s*\(at (?:line (\d+), column \d+|end of document)\)", said)
    reason = said[: place.start()] if place else said
    line = int(place[1]) if place and place[1] else None
    fix = 'words need quotes ("like this"), each key stands once, lists end with ]; see docs/settings.md'
    return ShopError("bad-toml", f"cannot be read as TOML: {reason}", fix, Where(file, line))


class Table:
    """One table of a file, read key by key."""

    def __init__(self, source: Source, data: Mapping[str, object], path: Path, kind: str = "") -> None:
        """``kind`` names the table in the documentation where its own key is the seller's (``colours.*``)."""
        self._source = source
        self._data = data
        self._path = path
        self._kind = kind
        self._known: list[str] = []
        self._missing: dict[str, ShopError] = {}

    def __contains__(self, key: str) -> bool:
        return key in self._data

    def wrong(self, slug: str, key: str | None, what: str, fix: str) -> None:
        """Collect an error about ``key``, or about the table itself."""
        path = self._path if key is None else (*self._path, key)
        field = ".".join(str(part) for part in path)
        line = None
        while path and line is None:
            line, path = self._source.lines.get(path), path[:-1]
        where = Where(self._source.file, line if line is not None else 1, field=field)
        self._source.errors.append(ShopError(slug, what, fix, where))

    def text(self, key: str, default: str | None = None) -> str:
        """Text; without a default the key must be there and not be blank."""
        value = self._typed(key, str, default, 'put it in quotes: "like this"')
        if default is None and value is not None and not value.strip():
            self.wrong("missing-key", key, f"{key} is empty", f"write something between the quotes of {key}")
        return value or ""

    def code(self, key: str) -> str:
        """A short code that can also name a file or a folder."""
        value = self.text(key)
        if value:
            self.check_code(value, key)
        return value

    def check_code(self, value: str, key: str | None = None) -> None:
        """Collect an error when ``value`` could not name a file; it stands at ``key`` or names this table."""
        if not is_code(value):
            self.wrong("bad-code", key, f'"{value}" cannot be a code', CODE_ADVICE)

    def choice(self, key: str, choices: type[Choice], default: Choice | None = None) -> Choice:
        """One value of an enumeration, by its word."""
        words = {choice.value: choice for choice in choices}
        value = self.one_of(key, tuple(words), None if default is None else default.value)
        return words[value]

    def one_of(self, key: str, words: tuple[str, ...], default: str | None = None) -> str:
        """One of the words; the first one stands in when it cannot be read."""
        value = self._typed(key, str, default, f"write one of {', '.join(words)} in quotes")
        if value is not None and value not in words:
            fix = did_you_mean(value, words)
            listed = ", ".join(word for word in words if word)
            self.wrong("unknown-value", key, f'{key} cannot be "{value}"', f"{fix} (known: {listed})")
            value = None
        return words[0] if value is None else value

    def integer(self, key: str, default: int | None = None, low: int = 0, high: int = 2**53) -> int:
        """A whole number within the bounds, both included."""
        value = self._typed(key, int, default, f"write a whole number without quotes, like {max(low, 1)}")
        return low if value is None else int(self._bounded(key, value, low, high))

    def maybe_integer(self, key: str, low: int = 1) -> int | None:
        """A whole number, or None where the key is left out."""
        self.ask(key)
        return self.integer(key, low=low) if key in self._data else None

    def number(self, key: str, default: float | None = None, low: float = 0.0, high: float = 1e6) -> float:
        """A decimal or whole number within the bounds; what it measures is in the key's name."""
        value = self._typed(key, float, default, "write a number without quotes, like 82.5")
        return low if value is None else self._bounded(key, value, low, high)

    def maybe_number(self, key: str, low: float = 0.0) -> float | None:
        """A number, or None where the key is left out."""
        self.ask(key)
        return self.number(key, low=low) if key in self._data else None

    def flag(self, key: str, default: bool) -> bool:
        """True or false."""
        value = self._typed(key, bool, default, "write true or false without quotes")
        return default if value is None else value

    def money(self, key: str, currency: str, default: str | None = None) -> Money:
        """An amount of at least nothing: text of major units or an integer of minor units."""
        nothing = Money(Decimal(0), currency)
        raw = self._present(key, default)
        if raw is None:
            return nothing
        if isinstance(raw, bool) or not isinstance(raw, str | int):
            fix = 'put the amount in quotes, like "4.10"'
            self.wrong("bad-amount", key, f"{raw!r} is not an exact amount", fix)
            return nothing
        try:
            amount = Money.parse(raw, currency)
        except ShopError as error:
            self.wrong(error.slug, key, error.what, error.fix)
            return nothing
        if amount < nothing:
            self.wrong("negative-amount", key, f"{key} is {raw}, less than nothing", "remove the minus sign")
        return amount

    def share(self, key: str, default: str | None = None) -> Decimal:
        """A share of a price, 0 to under 1, written ``"0.15"`` or ``"15%"``."""
        value = self.exact(key, default, percent=True)
        if value is not None and not 0 <= value < 1:
            self.wrong("out-of-range", key, f"{key} is {value}", 'write a share such as "15%" or "0.15"')
        return value or Decimal(0)

    def portion(self, key: str, default: str | None = None) -> Decimal:
        """A share that may be all of it: 0 to 1, written ``"1"`` or ``"100%"``."""
        value = self.exact(key, default, percent=True)
        if value is not None and not 0 <= value <= 1:
            self.wrong("out-of-range", key, f"{key} is {value}", 'write a share from "0%" to "100%"')
        return value or Decimal(0)

    def exact(self, key: str, default: str | None = None, percent: bool = False) -> Decimal | None:
        """An exact number in quotes; None when it cannot be read."""
        raw = self._typed(key, str, default, 'write it in quotes, like "0.15"')
        if raw is None:
            return None
        digits = raw.strip()
        is_percent = percent and digits.endswith("%")
        if is_percent:
            digits = digits.removesuffix("%").strip()
        if not _EXACT.fullmatch(digits):
            self.wrong("wrong-type", key, f'{key} is "{raw}", not a number', 'write it like "0.15"')
            return None
        value = Decimal(digits)
        return value / 100 if is_percent else value

    def colour(self, key: str) -> Srgb:
        """An sRGB colour, ``#rrggbb``."""
        return self.maybe_colour(key, required=True) or Srgb(0, 0, 0)

    def maybe_colour(self, key: str, required: bool = False) -> Srgb | None:
        """An sRGB colour, or None where the key is left out."""
        self.ask(key)
        if key not in self._data and not required:
            return None
        raw = self.text(key)
        try:
            return Srgb.parse(raw) if raw else None
        except ShopError as error:
            self.wrong(error.slug, key, error.what, error.fix)
            return None

    def texts(self, key: str) -> tuple[str, ...]:
        """A list of texts; empty where the key is left out."""
        value = self._typed(key, list, [], 'write a list, like ["one", "two"]') or []
        if not all(isinstance(item, str) for item in value):
            self.wrong(
                "wrong-type", key, f"{key} holds something that is not text", "put each item in quotes"
            )
            return ()
        return tuple(str(item) for item in value)

    def text_rows(self, key: str) -> tuple[tuple[str, ...], ...]:
        """A list of lists of text; empty where the key is left out."""
        value = self._typed(key, list, [], 'write lists in a list, like [["one", "two"], ["three"]]') or []
        rows = [row for row in value if isinstance(row, list) and all(isinstance(cell, str) for cell in row)]
        if len(rows) != len(value):
            fix = 'write lists of text in a list, like [["one", "two"], ["three"]]'
            self.wrong("wrong-type", key, f"{key} holds something that is not a list of text", fix)
        return tuple(tuple(str(cell) for cell in row) for row in rows)

    def table(self, key: str, required: bool = False) -> "Table":
        """A table inside this one; an empty one where it is left out."""
        self.ask(key)
        value = self._data.get(key)
        if value is None and required:
            self.wrong("missing-key", None, f"the table [{key}] is missing", f"add a [{key}] table")
        return self._inside(key, value if value is not None else {}, key)

    def named(self, key: str, required: bool = False) -> Iterator[tuple[str, "Table"]]:
        """The tables inside a table, by the names the seller gave them, in the order of the file."""
        outer = self.table(key, required)
        for name, value in outer._data.items():
            yield name, outer._inside(name, value, "*")

    def twins(self, key: str) -> None:
        """Collect names that differ in capitals only: they name files, and some disks mix them up."""
        outer = self.table(key)
        first: dict[str, str] = {}
        for name in outer._data:
            if name.casefold() in first:
                what = f'"{name}" and "{first[name.casefold()]}" differ in capitals only'
                outer.wrong("duplicate-code", name, what, "give one of them another name")
            first.setdefault(name.casefold(), name)

    def pairs(self, key: str) -> dict[str, str]:
        """A table of texts under names the seller chose."""
        outer = self.table(key)
        return {name: outer.text(name, "") for name in outer._data}

    def array(self, key: str) -> Iterator["Table"]:
        """The tables of a list, in order."""
        value = self._typed(key, list, [], f"write a list of tables: {key} = [ {{ … }}, ]") or []
        for index, item in enumerate(value):
            dotted = ".".join(part for part in (self._kind, key) if part)
            yield Table(self._source, {}, (*self._path, key), dotted)._inside(index, item, "")

    def raw(self, key: str) -> object:
        """The value as TOML gave it, for kinds only one reader needs; None where it is left out."""
        self.ask(key)
        return self._data.get(key)

    def entry(self, name: str) -> "Table":
        """The table under a name that the seller chose."""
        self.ask(name)
        return self._inside(name, self._data.get(name), "*")

    def names(self) -> tuple[str, ...]:
        """The keys that stand in the file, in its order."""
        return tuple(self._data)

    def done(self) -> None:
        """Collect each key that nobody asked for, with the nearest known one."""
        strange = [key for key in self._data if key not in self._known]
        for key in strange[:_MOST_UNKNOWN]:
            close = nearest(key, self._known)
            listed = ", ".join(sorted(self._known))
            fix = f'did you mean "{close}"?' if close else f"remove it; known keys: {listed}"
            self.wrong("unknown-key", key, f'there is no setting "{key}" here', fix)
            if close in self._missing:  # a typo of it: one mistake, told once
                self._source.errors.remove(self._missing.pop(close))
        if more := strange[_MOST_UNKNOWN:]:
            what = f"{len(more)} more settings that do not exist here begin with it"
            self.wrong("unknown-key", more[0], what, "remove them, or bring the file back from a backup")

    def _inside(self, key: str | int, value: object, kind: str) -> "Table":
        dotted = ".".join(part for part in (self._kind, kind) if part)
        inner = Table(self._source, value if isinstance(value, dict) else {}, (*self._path, key), dotted)
        if not isinstance(value, dict):
            inner.wrong("wrong-type", None, f"{key} must be a table", f"write {key} = {{ … }}")
        return inner

    def ask(self, key: str) -> None:
        """Count ``key`` as known, whether it stands in the file or not."""
        if key not in self._known:
            self._known.append(key)
            self._source.asked.add(".".join(part for part in (self._kind, key) if part))

    def _present(self, key: str, default: object) -> object:
        self.ask(key)
        if key in self._data:
            return self._data[key]
        if default is None:
            self.wrong("missing-key", None, f"{key} is missing", f"add a line: {key} = …")
            self._missing[key] = self._source.errors[-1]
        return default

    def _typed(self, key: str, kind: type[Value], default: Value | None, fix: str) -> Value | None:
        raw = self._present(key, default)
        if kind is float and isinstance(raw, int) and not isinstance(raw, bool):
            raw = float(raw)
        fits = isinstance(raw, kind) and not (isinstance(raw, bool) and kind is not bool)
        if raw is not None and not fits:
            wanted = _KINDS.get(kind, "a list")
            got = _KINDS.get(type(raw), "something else")
            self.wrong("wrong-type", key, f"{key} must be {wanted}, but it is {got}", fix)
            return None
        return raw if isinstance(raw, kind) else None

    def _bounded(self, key: str, value: float, low: float, high: float) -> float:
        if not low <= value <= high:  # NaN fails this too
            fix = f"write a number from {low:g} to {high:g}" if high < 1e6 else f"write {low:g} or more"
            self.wrong("out-of-range", key, f"{key} is {value:g}", fix)
            return low
        return value
