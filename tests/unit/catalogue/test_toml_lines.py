"""Each key's line, on a text that uses all of TOML 1.0's notation for keys, strings, tables, arrays."""

import tomllib

from hundredfold.catalogue.toml_lines import Path, line_of_each_key

TEXT = '''# a comment with [brackets] and key = "value"
name = "a # in a string"
"quoted key" = 'C:\\temp'
a.b . c = 1
long = """
two = "lines" \\"""
end""""
numbers = [1,
  2, # two
  3]
rows = [
  { header = "One", fill = "{title}" },
  { header = "Two", inner = { deep = [
    "x", "y"] } },
]

[table]  # with a comment
when = 2026-11-25 07:30:00
['odd "name"'.child]
k = true
[[items]]
x = 1
[items.sub]
y = 2
[[items]]
x = 3
[items.sub]
y = 4
'''


def paths_of(value: object, at: Path = ()) -> set[Path]:
    if isinstance(value, dict):
        return {at, *(path for key, inner in value.items() for path in paths_of(inner, (*at, key)))}
    if isinstance(value, list):
        return {at, *(path for n, inner in enumerate(value) for path in paths_of(inner, (*at, n)))}
    return {at}


def test_every_path_of_the_parsed_text_has_a_line_and_no_other() -> None:
    assert set(line_of_each_key(TEXT)) == paths_of(tomllib.loads(TEXT)) - {()}


def test_lines_are_those_an_editor_shows() -> None:
    lines = line_of_each_key(TEXT)
    shown = TEXT.split("\n")
    assert lines["name",] == 2
    assert lines["a", "b", "c"] == 4
    assert lines["numbers", 1] == 9
    assert lines["rows", 0, "fill"] == 12
    assert lines["rows", 1, "inner", "deep", 1] == 14
    assert shown[lines["table", "when"] - 1].startswith("when")
    assert shown[lines['odd "name"', "child", "k"] - 1] == "k = true"
    assert lines["items", 0, "sub", "y"] == 24
    assert lines["items", 1, "sub", "y"] == 28


def test_windows_line_ends_and_unusual_separators_do_not_shift_lines() -> None:
    text = 'a = "x\u2028y"  # \u2028\r\nb = 2\r\n'
    assert line_of_each_key(text) == {("a",): 1, ("b",): 2}
