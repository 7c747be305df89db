"""Records as plain values, long ones cut short, and what is said of a disk."""

import errno
import shutil
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from enum import Enum
from pathlib import Path
from types import MappingProxyType

import pytest

from hundredfold.kernel.errors import ExitCode, ShopError
from hundredfold.runner.diskerrors import cannot_write, disk_full, from_os_error, say_bytes, writing_to
from hundredfold.runner.recipes import Recipe, canonical_json, differences, in_short, plain, shown
from hundredfold.runner.space import RESERVE_BYTES, check_space, free_space, needed_space


class Hue(Enum):
    NAVY = "navy"


@dataclass(frozen=True)
class Cup:
    code: str
    hue: Hue = Hue.NAVY
    by_size: dict[object, object] = field(default_factory=dict)
    note: str = field(default="", compare=False)


@dataclass(frozen=True)
class Other:
    size: int


def test_a_record_is_its_fields_that_count() -> None:
    assert plain(Cup("MUG", by_size={"L": Other(3)}, note="left out")) == {
        "code": "MUG", "hue": "navy", "by_size": {"L": {"size": 3}},
    }  # fmt: skip
    by_record = {Other(2): "b", Other(1): Hue.NAVY}
    assert plain(by_record) == [[{"size": 1}, "navy"], [{"size": 2}, "b"]]
    assert plain({("L", "navy"): 1}) == [[["L", "navy"], 1]]
    assert plain(frozenset({"b", "a"})) == plain({"a", "b"}) == ["a", "b"]
    assert plain((Hue.NAVY, [Other(1)])) == ["navy", [{"size": 1}]]
    assert plain(Other) is Other  # a class is no record; the recipe refuses it by name
    assert [plain(one) for one in (None, 1, "x", True)] == [None, 1, "x", True]


def test_other_types_become_text_or_are_refused() -> None:
    held = {"at": date(2026, 12, 1), "price": Decimal("9.90"), "more": MappingProxyType({"b": 1})}
    assert canonical_json(held) == '{"at":"2026-12-01","more":{"b":1},"price":"9.90"}'
    with pytest.raises(TypeError, match=r"plain values only, not set: \{1\}"):
        canonical_json({1})
    for params in ({"x": [{1: "a"}]}, {"x": ({"y": {2: "b"}},)}):
        with pytest.raises(TypeError, match=r"a recipe's keys are text, not int: [12]"):
            Recipe("s", (1,), params=params).key()


def test_what_is_short_stays_and_what_is_long_is_cut_where_it_has_no_names() -> None:
    assert in_short("x" * 14) == "x" * 14  # sixteen with its quotes
    cut = in_short("x" * 15)
    assert isinstance(cut, str)
    assert (len(cut), cut == "x" * 15) == (16, False)
    assert in_short("x" * 15) != in_short("x" * 14 + "y")
    assert in_short({"a": "x" * 15, "b": 1}) == {"a": cut, "b": 1}
    assert in_short({"a": {"b": {"c": "x" * 15}}}, 2) == {"a": {"b": in_short({"c": "x" * 15}, 0)}}
    assert isinstance(in_short({"a": "x" * 15}, 0), str)


@pytest.mark.parametrize(
    ("entries", "names"),
    [
        ([{"code": "MUG", "name": "n", "w": 1}, {"code": "TEE", "name": "n", "w": 2}], ["MUG", "TEE"]),
        ([{"name": "a", "w": 1}, {"name": "b", "w": 2}], ["a", "b"]),
        ([{"colour": "navy", "size": "L"}, {"colour": "navy", "size": "S"}], ["navy L", "navy S"]),
        ([{"size": "L", "w": 100}, {"size": "S", "w": 200}], ["L", "S"]),
        ([{"code": "MUG", "name": "a"}, {"code": "MUG", "name": "b"}], ["a", "b"]),  # codes do not tell apart
    ],
)
def test_a_list_of_named_things_is_kept_by_name(entries: list[dict[str, object]], names: list[str]) -> None:
    kept = in_short(entries, 2)
    assert isinstance(kept, dict)
    assert list(kept) == names


def test_a_list_whose_things_cannot_be_told_apart_is_one_digest() -> None:
    for entries in ([{"code": "A"}, {"code": "A"}], [{"w": 1000}, {"w": 1000}], ["a" * 9, "b" * 9],
                    [{"code": "A"}, {"other": "B"}]):  # fmt: skip
        assert isinstance(in_short(entries), str), entries


@pytest.mark.parametrize(
    ("value", "words"),
    [
        (None, "none"), (True, "yes"), (False, "no"), ("", "empty"), ("navy", "navy"), (3, "3"),
        ([1, "a"], '[1,"a"]'), ("x" * 60, "x" * 60), ("x" * 61, "x" * 59 + "…"),
    ],
)  # fmt: skip
def test_values_in_words(value: object, words: str) -> None:
    assert shown(value) == words


def test_every_kind_of_difference() -> None:
    old = Recipe(
        "a", (1, 2), {"v": "1"}, {"x": [1, 2], "y": {"z": 1}, "gone": "g"}, {"art": "0", "plate": "1"}
    )
    new = Recipe("b", (1, 3), {"w": "2"}, {"x": [1], "y": {"z": True}}, {"art": "0"})
    assert differences(old, new) == (
        "step a 1.2 -> b 1.3", "library v 1 no longer used", "library w 2 now used", "plate taken away",
        "gone: g taken away", "x: [1,2] -> [1]", "y z: 1 -> yes",
    )  # fmt: skip
    once = '{"step":"a","version":5,"engines":{},"params":{},"inputs":{}}'
    assert Recipe.from_json(once).version == (5,)  # as it was kept once


@pytest.mark.parametrize(
    ("count", "words"),
    [
        (0, "0 bytes"), (999, "999 bytes"), (1000, "1.0 kB"), (3_200_000, "3.2 MB"),
        (1_500_000_000, "1.5 GB"), (999_000_000_000, "999.0 GB"), (2_000_000_000_000, "2.0 TB"),
    ],
)  # fmt: skip
def test_sizes_for_people(count: int, words: str) -> None:
    assert say_bytes(count) == words


def test_what_a_disk_refuses_is_one_sentence() -> None:
    told = disk_full("shop", 3_000_000, 1_000_000)
    assert "this needs 3.0 MB of disk, and 1.0 MB are free" in str(told)
    assert told.fix == "free 2.0 MB or more, then run the same command again"
    assert disk_full("shop", 1, 5).fix.startswith("free 0 bytes or more")
    for half in (disk_full("shop", 3), disk_full("shop", None, 3), disk_full("shop")):
        assert "the disk is full; what was finished before is kept, nothing is half-written" in str(half)
    for number, slug, words in (
        (errno.ENOSPC, "disk-full", "the disk is full"), (errno.EDQUOT, "disk-full", "the disk is full"),
        (errno.EACCES, "cannot-write", "permission refused"),
        (errno.EPERM, "cannot-write", "permission refused"),
        (errno.EROFS, "cannot-write", "permission refused"), (errno.EIO, "cannot-write", "odd"),
    ):  # fmt: skip
        error = from_os_error(OSError(number, "odd"), "shop/packs")
        assert (error.slug, error.exit_code, error.where.file) == (slug, ExitCode.PROBLEMS, "shop/packs")
        assert words in str(error)
    assert "no words" in str(from_os_error(OSError("no words"), "x"))
    assert cannot_write("a", "why").slug == "cannot-write"


def refused(where: Path, named: str | None) -> type[BaseException]:
    error = OSError(errno.EIO, "odd", named) if named else OSError(errno.EIO, "odd")
    with pytest.raises((OSError, ShopError)) as caught, writing_to(where):
        raise error
    return caught.type


def test_only_what_is_about_the_place_is_said_of_it(tmp_path: Path) -> None:
    where = tmp_path / "packs" / "day"
    for named in (None, where, where / "inside", where.parent, tmp_path, tmp_path / "other" / ".part-x"):
        assert refused(where, str(named) if named else None) is ShopError, named
    for elsewhere in (tmp_path / "packs" / "other", tmp_path / "x.part-y"):
        assert issubclass(refused(where, str(elsewhere)), OSError)


def test_space_is_checked_with_what_is_left_for_the_machine(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert needed_space(["a", "a", "b"], {"a": 10.4}, 100) == 121
    assert needed_space([], {}, 100) == 0
    usage = shutil.disk_usage(tmp_path)
    monkeypatch.setattr(shutil, "disk_usage", lambda _: usage._replace(free=RESERVE_BYTES + 50))
    assert free_space(tmp_path / "not" / "there") == RESERVE_BYTES + 50
    check_space(tmp_path, 50)
    check_space(tmp_path, 50 + RESERVE_BYTES, reserve_bytes=0)
    with pytest.raises(ShopError) as caught:
        check_space(tmp_path, 51)
    assert caught.value.slug == "disk-full"
    monkeypatch.setattr(shutil, "disk_usage", lambda _: usage._replace(free=0))
    check_space(tmp_path, 0)  # nothing is needed
    with pytest.raises(ShopError):
        check_space(tmp_path, 1)


def test_the_need_is_told_as_it_was_told_before(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """What is left alone for the rest of the computer is no part of the need: it was told as one sum once."""
    monkeypatch.setattr("hundredfold.runner.space.free_space", lambda _: 100_000_000)
    with pytest.raises(ShopError) as caught:
        check_space(tmp_path, 52_800_000)
    assert str(caught.value.what) == (
        "this needs 52.8 MB of disk, and 100.0 MB are free; "
        "200.0 MB are left alone for everything else on this computer"
    )
    assert caught.value.fix.startswith("free 152.8 MB or more")
