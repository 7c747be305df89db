import hashlib

import pytest

from hundredfold.workshop.steps.identity import KnownDesign, identify, known_designs


def digest(text: str) -> str:
    return hashlib.sha256(text.encode()).hexdigest()


def seen(**files: str) -> dict[str, KnownDesign]:
    first = identify({path: digest(art) for path, art in files.items()}, {})
    return known_designs(first.news)


def test_new_files_get_an_id_from_their_art() -> None:
    first = identify({"a.png": digest("bee"), "b.png": digest("bell")}, {})
    again = identify({"b.png": digest("bell"), "a.png": digest("bee")}, {})
    assert first == again
    assert len(set(first.ids.values())) == 2
    assert all(len(name) == 8 for name in first.ids.values())


def test_an_edit_in_place_keeps_the_id_and_is_news() -> None:
    known = seen(a="bee")
    result = identify({"a": digest("better bee")}, known)
    assert list(result.ids.values()) == list(known)
    assert [e.data["digest"] for e in result.news] == [digest("better bee")]


def test_a_renamed_file_keeps_its_id() -> None:
    known = seen(a="bee")
    result = identify({"z": digest("bee")}, known)
    assert result.ids == {"z": next(iter(known))}


def test_nothing_changed_is_no_news() -> None:
    known = seen(a="bee", b="bell")
    assert identify({"a": digest("bee"), "b": digest("bell")}, known).news == ()


def test_a_copy_is_named_and_never_steals_the_id() -> None:
    known = seen(m="bee")
    result = identify({"a": digest("bee"), "m": digest("bee")}, known)
    assert result.copies == {"a": "m"}
    assert result.ids == {"m": next(iter(known))}


@pytest.mark.parametrize("copy", ["bee copy.png", "bee (1).png", "bee - Copy.png", "Kopie von bee.png"])
def test_of_two_new_files_the_copy_is_the_one_called_so(copy: str) -> None:
    """A space sorts before a dot: "picture copy.png" was kept for "picture.png"."""
    result = identify({copy: digest("bee"), "bee.png": digest("bee")}, {})
    assert result.copies == {copy: "bee.png"}


def test_two_files_that_swap_names_keep_the_id_of_their_place() -> None:
    # Both names and both pieces of art are known: the seller swapped the art of two designs.
    known = seen(a="bee", b="bell")
    before = {k.path: k.id for k in known.values()}
    result = identify({"a": digest("bell"), "b": digest("bee")}, known)
    assert result.ids == before


def test_a_move_over_an_old_name_is_the_moved_design() -> None:
    known = seen(a="bee", b="bell")
    ids = {k.path: k.id for k in known.values()}
    result = identify({"a": digest("bell")}, known)  # b.png renamed over a.png
    assert result.ids == {"a": ids["b"]}
