"""One thing is one, two are several."""

from hundredfold.kernel.counting import counted, some_of


def test_one_and_many() -> None:
    assert [counted(n, "design") for n in (0, 1, 2)] == ["0 designs", "1 design", "2 designs"]
    assert counted(2, "entry", "entries") == "2 entries"


def test_some_of_many_names() -> None:
    assert some_of(["a", "b"], 3) == "a, b"
    assert some_of(["a", "b", "c", "d", "e"], 3) == "a, b, c and 2 more"
