"""Whatever stands in a file, its reader answers with a record or with places and advice; it never breaks."""

import contextlib
import tomllib
from collections.abc import Callable
from datetime import date

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hundredfold.catalogue.parse_blanks import parse_blank
from hundredfold.catalogue.parse_channels import parse_channel
from hundredfold.catalogue.parse_settings import parse_settings
from hundredfold.catalogue.parsing import read_text
from hundredfold.catalogue.toml_edits import toml_key, toml_value
from hundredfold.catalogue.toml_lines import Path, line_of_each_key
from hundredfold.catalogue.toml_table import Source
from hundredfold.kernel.errors import ShopError

READERS: dict[str, Callable[[Source], object]] = {
    "blank": lambda source: parse_blank(source, "GBP"),
    "channel": parse_channel,
    "settings": parse_settings,
}
TEXT = st.sampled_from(
    ["", "x", "GBP", "95", "12.5%", "#ffffff", "NaN", "é\n", "CON", "-1", "wrap", "1e999999", "9" * 40]
)
PLAIN = TEXT | st.booleans() | st.integers(-5, 10**6) | st.floats() | st.dates()


def asked_keys(reader: Callable[[Source], object]) -> list[str]:
    source = Source("[areas.a]\ncone={}\n[colours.a]\n[variants.a]\n[sheet]\ncolumns=[{}]\n", "all")
    reader(source)
    return sorted({part for key in source.asked for part in key.split(".")} - {"*"})


def documents(keys: list[str]) -> st.SearchStrategy[dict[str, object]]:
    names = st.sampled_from([*keys, "a", "odd key", "é"])
    return st.dictionaries(
        names,
        st.recursive(
            PLAIN,
            lambda inner: st.lists(inner, max_size=3) | st.dictionaries(names, inner, max_size=5),
            max_leaves=12,
        ),
        max_size=8,
    )


def written(value: object) -> str:
    if isinstance(value, dict):
        return "{" + ", ".join(f"{toml_key(key)} = {written(inner)}" for key, inner in value.items()) + "}"
    if isinstance(value, list):
        return "[\n" + ",\n".join(map(written, value)) + "]"
    if isinstance(value, float):
        return repr(value)
    if isinstance(value, date):
        return value.isoformat()
    assert isinstance(value, str | bool | int)
    return toml_value(value)


def paths_of(value: object, at: Path = ()) -> set[Path]:
    parts: list[tuple[str | int, object]] = []
    if isinstance(value, dict):
        parts = list(value.items())
    elif isinstance(value, list):
        parts = list(enumerate(value))
    return {at, *(path for part, inner in parts for path in paths_of(inner, (*at, part)))}


@pytest.mark.parametrize("kind", READERS)
@settings(deadline=None)
@given(data=st.data())
def test_any_document(kind: str, data: st.DataObject) -> None:
    document = data.draw(documents(asked_keys(READERS[kind])))
    text = "\n".join(f"{toml_key(key)} = {written(value)}" for key, value in document.items())
    assert set(line_of_each_key(text)) == paths_of(tomllib.loads(text)) - {()}
    try:
        read_text(text, "file.toml", READERS[kind])
    except ShopError as error:
        for one in (error, *error.others):
            assert one.where.file == "file.toml"
            assert 1 <= (one.where.line or 0) <= text.count("\n") + 1
            assert one.what
            assert one.fix


@given(st.text(max_size=80))
def test_any_text(text: str) -> None:
    for reader in READERS.values():
        with contextlib.suppress(ShopError):
            read_text(text, "file.toml", reader)


@pytest.mark.parametrize(
    "text",
    [
        "x = " + "1" * 5000,
        "x = " + "[" * 2000 + "]" * 2000,
        "x = " + "{a=" * 900 + "1" + "}" * 900,
        "x = 1\na" + ".a" * 200_000 + " = 1",
        'x = {"a"' + ' . "a"' * 200_000 + " = 1}",
        "".join(f"a{number}.b = 1\n" for number in range(200_000)),
    ],
    ids=["number", "arrays", "tables", "dotted", "dotted quotes", "keys"],
)
def test_what_would_break_the_reader_of_toml_is_refused(text: str) -> None:
    with pytest.raises(ShopError) as caught:
        Source(text, "file.toml")
    assert caught.value.slug == "bad-toml"


def test_many_unknown_keys_are_told_in_few_sentences() -> None:
    text = "".join(f"a{number}.b = 1\n" for number in range(20_000))
    with pytest.raises(ShopError) as caught:
        read_text(text, "shop.toml", parse_settings)
    told = [caught.value, *caught.value.others]
    assert len([one for one in told if one.slug == "unknown-key"]) == 51
    assert any(one.what.startswith("19950 more settings") for one in told)
