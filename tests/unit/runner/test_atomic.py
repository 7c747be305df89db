"""A file appears whole or not at all, and what stood there before stays until then."""

import errno
import os
from collections.abc import Callable
from pathlib import Path

import pytest
from runner_doubles import full_disk

from hundredfold.kernel.errors import ShopError
from hundredfold.runner.atomic import replace_patiently, sweep_parts, write_aside, write_whole


def left_in(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


def test_write_whole_replaces(tmp_path: Path) -> None:
    target = tmp_path / "new folder" / "manifest.json"
    write_whole(target, b"one")
    write_whole(target, b"two")
    assert target.read_bytes() == b"two"
    assert left_in(target.parent) == ["manifest.json"]


def test_a_block_that_fails_leaves_the_old_file(tmp_path: Path) -> None:
    target = tmp_path / "artwork.zip"
    write_whole(target, b"old")

    def fail() -> None:
        with write_aside(target) as file:
            file.write(b"new")
            raise RuntimeError

    with pytest.raises(RuntimeError):
        fail()
    assert target.read_bytes() == b"old"
    assert left_in(tmp_path) == ["artwork.zip"]


@pytest.mark.parametrize(
    ("number", "slug"),
    [
        (errno.ENOSPC, "disk-full"),
        (errno.EDQUOT, "disk-full"),
        (errno.EACCES, "cannot-write"),
        (errno.EROFS, "cannot-write"),
        (errno.EIO, "cannot-write"),
    ],
)
@pytest.mark.parametrize("call", ["fsync", "replace"])
def test_a_disk_that_refuses_at_any_call(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, number: int, slug: str, call: str
) -> None:
    target = tmp_path / "artwork.zip"
    write_whole(target, b"old")

    def refuse(*_: object) -> None:
        raise OSError(number, os.strerror(number))

    monkeypatch.setattr(os, call, refuse)
    with pytest.raises(ShopError) as caught:
        write_whole(target, b"new")
    monkeypatch.undo()
    assert caught.value.slug == slug
    assert "artwork.zip" in str(caught.value)
    assert target.read_bytes() == b"old"
    assert left_in(tmp_path) == ["artwork.zip"]


def test_a_disk_that_fills_while_writing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    full_disk(monkeypatch, after_bytes=10)
    with pytest.raises(ShopError) as caught:
        write_whole(tmp_path / "artwork.zip", b"x" * 100)
    assert caught.value.slug == "disk-full"
    assert left_in(tmp_path) == []


def test_a_really_full_disk_keeps_the_old_pack(tiny_disk: Callable[[str], Path]) -> None:
    target = tiny_disk("size=256k") / "artwork.zip"
    write_whole(target, b"o" * 100_000)
    with pytest.raises(ShopError) as caught:
        write_whole(target, b"n" * 200_000)
    assert caught.value.slug == "disk-full"
    assert target.read_bytes() == b"o" * 100_000
    assert left_in(target.parent) == ["artwork.zip"]


def test_a_fault_of_another_file_is_not_blamed_on_this_one(tmp_path: Path) -> None:
    with pytest.raises(FileNotFoundError), write_aside(tmp_path / "artwork.zip"):
        (tmp_path / "missing.png").read_bytes()


def test_an_open_file_on_windows_is_waited_for_then_named(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    waits: list[float] = []
    tries = iter(range(100))

    def held_open(source: object, target: object) -> None:
        if next(tries) < free_after:
            error = PermissionError(errno.EACCES, "held")
            error.winerror = 32  # type: ignore[attr-defined]
            raise error

    monkeypatch.setattr(os, "replace", held_open)
    free_after = 3
    replace_patiently(tmp_path / "a", tmp_path / "b", waits.append)
    assert len(waits) == 3
    free_after = 1000
    with pytest.raises(ShopError) as caught:
        replace_patiently(tmp_path / "a", tmp_path / "b", waits.append)
    assert caught.value.slug == "file-in-use"
    assert "close it in the other program" in str(caught.value)
    assert sum(waits) < 7


def test_sweeping_takes_only_parts(tmp_path: Path) -> None:
    (tmp_path / ".part-7-1").write_bytes(b"half")
    (tmp_path / "manifest.json").write_bytes(b"whole")
    assert sweep_parts(tmp_path) == 1
    assert left_in(tmp_path) == ["manifest.json"]
    assert sweep_parts(tmp_path / "missing") == 0
