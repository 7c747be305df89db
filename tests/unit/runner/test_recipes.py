"""Keys do not depend on the order of anything; differences are said in words."""

import json
from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hundredfold.runner.recipes import Recipe, canonical_json, differences

TEXT = st.text(st.characters(codec="utf-8"), max_size=8)
PLAIN = st.recursive(
    st.none()
    | st.booleans()
    | st.integers(-(10**12), 10**12)
    | st.floats(allow_nan=False, allow_infinity=False)
    | TEXT,
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(TEXT, inner, max_size=3),
    max_leaves=8,
)
PARAMS = st.dictionaries(TEXT, PLAIN, max_size=5)
DIGESTS = st.dictionaries(TEXT, st.from_regex(r"[0-9a-f]{64}", fullmatch=True), max_size=3)


def reordered(value: object) -> object:
    """The same value with every mapping built in the opposite order."""
    if isinstance(value, dict):
        return {key: reordered(inner) for key, inner in reversed(list(value.items()))}
    if isinstance(value, list):
        return [reordered(inner) for inner in value]
    return value


@given(PARAMS, DIGESTS)
def test_key_is_independent_of_order(params: dict[str, object], inputs: dict[str, str]) -> None:
    one = Recipe("step", (1,), {"a": "1", "b": "2"}, params, inputs)
    turned = reordered(params)
    assert isinstance(turned, dict)
    two = Recipe("step", (1,), {"b": "2", "a": "1"}, turned, dict(reversed(list(inputs.items()))))
    assert one.key() == two.key()
    assert differences(one, two) == ()


@given(PARAMS, PARAMS)
def test_equal_keys_mean_equal_params_and_unequal_keys_have_a_reason(
    left: dict[str, object], right: dict[str, object]
) -> None:
    one, two = Recipe("step", (1,), params=left), Recipe("step", (1,), params=right)
    if one.key() == two.key():
        assert json.loads(one.json()) == json.loads(two.json())
    else:
        assert differences(one, two)


@given(PARAMS, DIGESTS)
def test_a_stored_recipe_comes_back_with_its_key(params: dict[str, object], inputs: dict[str, str]) -> None:
    recipe = Recipe("step", (3,), {"libvips": "8.18"}, params, inputs)
    assert Recipe.from_json(recipe.json()).key() == recipe.key()


def test_canonical_json_is_compact_sorted_utf8() -> None:
    assert canonical_json({"b": "é", "a": [1, Decimal("1.50")]}) == '{"a":[1,"1.50"],"b":"é"}'


@pytest.mark.parametrize("bad", [float("nan"), float("inf"), "\ud800"])
def test_what_json_or_utf8_cannot_hold_is_refused(bad: object) -> None:
    with pytest.raises(ValueError, match=r"JSON compliant|surrogates not allowed"):
        Recipe("step", (1,), params={"x": bad}).key()


def test_keys_that_are_not_text_are_refused() -> None:
    with pytest.raises(TypeError, match="keys are text"):
        Recipe("step", (1,), params={"sizes": {1: "a"}}).key()


def test_objects_are_refused_by_name() -> None:
    with pytest.raises(TypeError, match="plain values only, not object"):
        Recipe("step", (1,), params={"x": object()}).key()


OLD = Recipe(
    "print-file",
    (1,),
    {"libvips": "8.18"},
    {"blank": {"colour": "navy", "width_mm": 80}, "flat": True, "tags": ["a", "b"]},
    {"design art": "0" * 64},
)


def changed(**parts: object) -> Recipe:
    return replace(OLD, **parts)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("new", "words"),
    [
        (changed(version=(1, 2)), ("step print-file 1 -> 1.2",)),
        (changed(engines={"libvips": "8.19"}), ("library libvips 8.18 -> 8.19",)),
        (changed(engines={}), ("library libvips 8.18 no longer used",)),
        (changed(inputs={"design art": "1" * 64}), ("design art changed",)),
        (changed(inputs={**OLD.inputs, "plate": "1" * 64}), ("plate added",)),
        (
            changed(params={**OLD.params, "blank": {"colour": "black", "width_mm": 80}}),
            ("blank colour: navy -> black",),
        ),
        (
            changed(params={**OLD.params, "flat": False, "tags": ["a", "c"]}),
            ("flat: yes -> no", "tags 2: b -> c"),
        ),
        (changed(params={**OLD.params, "bleed_mm": 3}), ("bleed mm: 3 added",)),
    ],
)
def test_differences_in_words(new: Recipe, words: tuple[str, ...]) -> None:
    assert differences(OLD, new) == words


def test_differences_of_long_texts_do_not_print_twice_the_same() -> None:
    one = Recipe("text", (1,), params={"title": "x" * 100 + "a"})
    two = Recipe("text", (1,), params={"title": "x" * 100 + "b"})
    assert differences(one, two) == ("title changed",)


def test_nothing_before_is_said() -> None:
    assert differences(None, OLD) == ("never made before",)
