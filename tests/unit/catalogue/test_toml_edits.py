"""Changes reach their place, and every other character stays."""

import tomllib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hundredfold.catalogue.toml_edits import TomlEditor, toml_key, toml_value

INLINE = """\
# my own words
[variants]  # all of them
"A-1" = { colour = "white",   base_cost = "2.35" }  # dear!
A-2 = { colour = "two", base_cost = "2.50", in_stock = false}
# before the body

[body]
height_mm = 58"""

EDITED = """\
# my own words
[variants]  # all of them
"A-1" = { colour = "white",   base_cost = "2.40", in_stock = false }  # dear!
"A 2" = { colour = "two", base_cost = "2.50", in_stock = true}
A-3 = { colour = "blue \\"x\\"", base_cost = "3.00" }
A-4 = { colour = "red", base_cost = "3.10" }
# before the body

[body]
height_mm = 60
diameter_mm = 49"""


def test_inline_tables() -> None:
    editor = TomlEditor(INLINE)
    editor.add_table("variants", "A-3", {"colour": 'blue "x"', "base_cost": "3.00"})
    editor.set(("variants", "A-1", "base_cost"), "2.40")
    editor.set(("variants", "A-1", "in_stock"), False)
    editor.set(("variants", "A-2", "in_stock"), True)
    editor.rename(("variants", "A-2"), "A 2")
    editor.set(("body", "height_mm"), 60)
    editor.set(("body", "diameter_mm"), 49)
    editor.add_table("variants", "A-4", {"colour": "red", "base_cost": "3.10"})
    assert editor.text() == EDITED


def test_windows_line_ends_stay_windows() -> None:
    editor = TomlEditor("[variants]\r\nA = { c = 1 }\r\n")
    editor.add_table("variants", "B", {"c": 2})
    assert editor.text() == "[variants]\r\nA = { c = 1 }\r\nB = { c = 2 }\r\n"


def test_tables_with_headers_of_their_own() -> None:
    text = '[variants.A]\ncolour = "white"  # first\n\n[variants.B]\ncolour = "two"\n\n[body]\nx = 1\n'
    editor = TomlEditor(text)
    editor.set(("variants", "A", "in_stock"), False)
    editor.add_table("variants", "C D", {"colour": "three"})
    assert editor.text() == (
        '[variants.A]\ncolour = "white"  # first\nin_stock = false\n\n[variants.B]\ncolour = "two"\n'
        '\n[variants."C D"]\ncolour = "three"\n\n[body]\nx = 1\n'
    )


def test_an_empty_table_can_be_filled() -> None:
    editor = TomlEditor("[variants]  # none yet\n\n[body]\nx = 1\n")
    editor.add_table("variants", "A", {"colour": "white"})
    assert editor.text() == '[variants]  # none yet\nA = { colour = "white" }\n\n[body]\nx = 1\n'


@given(st.text(st.characters(codec="utf-8")))
def test_any_text_is_written_as_toml_reads_it(text: str) -> None:
    assert tomllib.loads(f"{toml_key(text)} = {toml_value(text)}") == {text: text}


@given(
    st.dictionaries(
        st.text(st.characters(exclude_categories=("Cs", "Cc")), max_size=6),
        st.tuples(st.integers(0, 9), st.integers(0, 9)),
        min_size=1,
        max_size=5,
    )
)
def test_any_edits_give_the_tables_a_reader_expects(tables: dict[str, tuple[int, int]]) -> None:
    lines = [f"{toml_key(name)} = {{ a = {a}, b = {b} }}  # {a}" for name, (a, b) in tables.items()]
    editor = TomlEditor("\n".join(["[t]", *lines, "", "[other]", "x = 1"]))
    expected: dict[str, dict[str, int]] = {}
    for index, (name, (a, b)) in enumerate(tables.items()):
        editor.set(("t", name, "b"), b + 1)
        editor.set(("t", name, "c"), index)
        expected[name] = {"a": a, "b": b + 1, "c": index}
    editor.add_table("t", "quite new name", {"a": 1})
    expected["quite new name"] = {"a": 1}
    assert tomllib.loads(editor.text()) == {"t": expected, "other": {"x": 1}}


def test_renaming_a_table_with_its_own_header_is_refused() -> None:
    with pytest.raises(KeyError):
        TomlEditor("[variants.A]\nx = 1\n").rename(("variants", "A"), "B")
