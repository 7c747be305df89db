"""Where in a TOML text each key and value stands. The text must be valid TOML; values are not kept."""

import tomllib
from bisect import bisect_right
from dataclasses import dataclass
from itertools import accumulate

Path = tuple[str | int, ...]
Span = tuple[int, int]

_BARE_END = frozenset(",]}\n\r#")
_SPACE = frozenset(" \t\n\r,")


@dataclass(frozen=True)
class TomlLayout:
    """Offsets into the text. A table with a header of its own has no value; its pairs have."""

    lines: dict[Path, int]  # 1-based
    keys: dict[Path, Span]  # the last part of the key, where it stands before an equals sign
    values: dict[Path, Span]


def layout_of(text: str) -> TomlLayout:
    """Where every key and value stands."""
    scan = _Scan(text)
    return TomlLayout(scan.lines(), scan.keys, scan.values)


def line_of_each_key(text: str) -> dict[Path, int]:
    """1-based line of every key and array item, by its path: ``("sheet", "columns", 3, "fill")``."""
    return _Scan(text).lines()


class _Scan:
    """Walks a valid TOML text once. tomllib has already refused whatever is not valid."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.at = 0
        self.found: dict[Path, int] = {}
        self.keys: dict[Path, Span] = {}
        self.values: dict[Path, Span] = {}
        self.last_key: Span = (0, 0)
        self.arrays: dict[Path, int] = {}
        self.starts = [0, *accumulate(len(line) + 1 for line in text.split("\n"))]

    def lines(self) -> dict[Path, int]:
        table: Path = ()
        while self._skip_blank():
            if self.text.startswith("[[", self.at):
                self.at += 2
                table = self._next_item(self._key())
                self._note(table)
                self.at += 2
            elif self.text[self.at] == "[":
                self.at += 1
                table = self._resolve(self._key())
                self._note(table)
                self.at += 1
            else:
                self._pair(table)
        return self.found

    def _note(self, path: Path) -> None:
        line = bisect_right(self.starts, self.at)
        for length in range(1, len(path) + 1):
            self.found.setdefault(path[:length], line)

    def _next_item(self, key: Path) -> Path:
        parent = self._resolve(key[:-1]) + key[-1:]
        self.arrays[parent] = self.arrays.get(parent, -1) + 1
        return (*parent, self.arrays[parent])

    def _resolve(self, key: Path) -> Path:
        path: Path = ()
        for part in key:
            path = (*path, part)
            if path in self.arrays:
                path = (*path, self.arrays[path])
        return path

    def _skip_blank(self) -> bool:
        while self.at < len(self.text):
            if self.text[self.at] == "#":
                end = self.text.find("\n", self.at)
                self.at = len(self.text) if end < 0 else end
            elif self.text[self.at] in _SPACE:
                self.at += 1
            else:
                return True
        return False

    def _pair(self, table: Path) -> None:
        start = self.at
        path = table + self._key()
        after, self.at = self.at, start
        self._note(path)
        self.keys[path] = self.last_key
        self.at = self.text.index("=", after) + 1
        self._value(path)

    def _key(self) -> Path:
        parts: list[str] = []
        while True:
            self._skip_spaces()
            start = self.at
            if self.text[self.at] in "\"'":
                self._string()
                parts.append(tomllib.loads(f"key = {self.text[start : self.at]}")["key"])
            else:
                while self.text[self.at].isalnum() or self.text[self.at] in "_-":
                    self.at += 1
                parts.append(self.text[start : self.at])
            self.last_key = (start, self.at)
            self._skip_spaces()
            if self.text[self.at] != ".":
                return tuple(parts)
            self.at += 1

    def _skip_spaces(self) -> None:
        while self.text[self.at] in " \t":
            self.at += 1

    def _value(self, path: Path) -> None:
        self._skip_spaces()
        start = self.at
        first = self.text[start]
        if first in "\"'":
            self._string()
        elif first == "[":
            self._array(path)
        elif first == "{":
            self._inline_table(path)
        else:
            while self.at < len(self.text) and self.text[self.at] not in _BARE_END:
                self.at += 1
        bare = len(self.text[start : self.at].rstrip())  # only an unquoted value can trail spaces
        self.values[path] = (start, start + bare)

    def _array(self, path: Path) -> None:
        self.at += 1
        index = 0
        while self._skip_blank() and self.text[self.at] != "]":
            self._note((*path, index))
            self._value((*path, index))
            index += 1
        self.at += 1

    def _inline_table(self, path: Path) -> None:
        self.at += 1
        while self._skip_blank() and self.text[self.at] != "}":
            self._pair(path)
        self.at += 1

    def _string(self) -> None:
        quote = self.text[self.at]
        fence = quote * 3 if self.text.startswith(quote * 3, self.at) else quote
        self.at += len(fence)
        while not self.text.startswith(fence, self.at):
            self.at += 2 if quote == '"' and self.text[self.at] == "\\" else 1
        self.at += len(fence)
        if len(fence) == 3:  # a multi-line string may end in one or two quotes of its own
            while self.at < len(self.text) and self.text[self.at] == quote:
                self.at += 1
