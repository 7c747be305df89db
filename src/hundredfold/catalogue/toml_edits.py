"""Small changes to a person's TOML text that leave every other character, comments included, as it was."""

import json
import re
from collections.abc import Mapping

from hundredfold.catalogue.toml_lines import Path, TomlLayout, layout_of

Plain = str | bool | int | float

_BARE_KEY = re.compile(r"[A-Za-z0-9_-]+")


def toml_value(value: Plain) -> str:
    """A value as TOML writes it. TOML's basic strings are JSON's, but for DEL."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, int | float):
        return repr(value)
    return json.dumps(value, ensure_ascii=False).replace("\x7f", "\\u007f")


def toml_key(key: str) -> str:
    """A key as TOML writes it, in quotes where it needs them."""
    return key if _BARE_KEY.fullmatch(key) else toml_value(key)


def toml_pairs(values: Mapping[str, Plain]) -> str:
    """``a = 1, b = "two"``."""
    return ", ".join(f"{toml_key(key)} = {toml_value(value)}" for key, value in values.items())


class TomlEditor:
    """Collects changes to one text and applies them together.

    Every path is that of the text as it was given; later changes do not see earlier ones.
    """

    def __init__(self, text: str) -> None:
        self._text = text
        self._layout: TomlLayout = layout_of(text)
        self._line_end = "\r\n" if "\r\n" in text else "\n"
        self._edits: list[tuple[int, int, str]] = []

    def set(self, path: Path, value: Plain) -> None:
        """Give a key of an existing table a value, whether the key is there or not."""
        if path in self._layout.values:
            self._edits.append((*self._layout.values[path], toml_value(value)))
            return
        pair = toml_pairs({str(path[-1]): value})
        if path[:-1] in self._layout.values:  # an inline table
            self._edits.append((self._end_within(path[:-1]),) * 2 + (f", {pair}",))
        else:
            self._after_line(self._end_within(path[:-1]), pair)

    def rename(self, path: Path, key: str) -> None:
        """Give a pair or an inline table another key. Raises KeyError where it has a header of its own."""
        self._edits.append((*self._layout.keys[path], toml_key(key)))

    def add_table(self, parent: str, key: str, values: Mapping[str, Plain]) -> None:
        """Add a table after the last one inside ``parent``, written in the way of that one."""
        siblings = [path for path in self._layout.lines if len(path) == 2 and path[0] == parent]
        inline = not siblings or siblings[-1] in self._layout.values
        if inline:
            lines = f"{toml_key(key)} = {{ {toml_pairs(values)} }}"
        else:
            pairs = (toml_pairs({name: value}) for name, value in values.items())
            lines = self._line_end.join(["", f"[{parent}.{toml_key(key)}]", *pairs])
        self._after_line(self._end_within((parent,)), lines)

    def text(self) -> str:
        """The text with all changes made."""
        pieces: list[str] = []
        at = 0
        for start, end, new in sorted(self._edits, key=lambda edit: edit[0]):  # stable: additions keep order
            pieces += [self._text[at:start], new]
            at = end
        return "".join([*pieces, self._text[at:]])

    def _end_within(self, table: Path) -> int:
        """Where the last value inside the table ends; of an empty table, where its own line does."""
        within = [
            span[1]
            for path, span in self._layout.values.items()
            if len(path) > len(table) and path[: len(table)] == table
        ]
        if within:
            return max(within)
        line = self._layout.lines[table]
        return sum(len(each) + 1 for each in self._text.split("\n")[: line - 1])

    def _after_line(self, offset: int, lines: str) -> None:
        end = self._text.find("\n", offset)
        if end < 0:  # the last line, without a line end
            self._edits.append((len(self._text),) * 2 + (self._line_end + lines,))
        else:
            self._edits.append((end + 1,) * 2 + (lines + self._line_end,))
