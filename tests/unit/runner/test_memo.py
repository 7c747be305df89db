"""Digests are remembered exactly as long as they can be trusted."""

import hashlib
import os
from dataclasses import replace
from pathlib import Path

import pytest
from runner_doubles import MemoryRows

from hundredfold.kernel.errors import ShopError
from hundredfold.runner import memo as memo_module
from hundredfold.runner.memo import PathMemo

SECOND = 1_000_000_000


@pytest.fixture
def rows() -> MemoryRows:
    return MemoryRows()


@pytest.fixture
def art(tmp_path: Path) -> Path:
    """A file whose last change lies 10 s before ``later``."""
    path = tmp_path / "designs" / "bee.png"
    path.parent.mkdir()
    path.write_bytes(b"bee")
    return path


def later(path: Path, seconds: float = 10) -> int:
    return path.stat().st_mtime_ns + int(seconds * SECOND)


def memo(art: Path, rows: MemoryRows, seconds: float = 10, rehash: bool = False) -> PathMemo:
    at = later(art, seconds)
    return PathMemo(art.parents[1], rows, rehash, lambda: at)


def sha(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()


def test_an_unchanged_file_is_not_read_again(
    art: Path, rows: MemoryRows, monkeypatch: pytest.MonkeyPatch
) -> None:
    first = memo(art, rows)
    assert first.digest(art) == sha(b"bee")
    first.save()
    assert list(rows.stamp_rows) == ["designs/bee.png"]
    second = memo(art, rows)
    monkeypatch.setattr(Path, "open", lambda *_: pytest.fail("it was read again"))
    assert second.digest(art) == sha(b"bee")
    assert (first.read, first.rehashed, second.read, second.rehashed) == (1, 0, 0, 0)
    second.save()
    assert rows.saves == 1


def test_a_changed_file_is_read(art: Path, rows: MemoryRows) -> None:
    first = memo(art, rows)
    first.digest(art)
    first.save()
    art.write_bytes(b"owl")
    os.utime(art, ns=(0, later(art, 5)))
    second = memo(art, rows)
    assert second.digest(art) == sha(b"owl")
    assert second.read == 1


@pytest.mark.parametrize(("seconds", "rehashed"), [(1.9, 1), (2.1, 0)])
def test_a_file_hashed_within_two_seconds_of_its_change_is_distrusted(
    art: Path, rows: MemoryRows, seconds: float, rehashed: int
) -> None:
    first = memo(art, rows, seconds)
    first.digest(art)
    first.save()
    # Same size, same time stamp, same inode: only reading it again can tell.
    before = art.stat()
    art.write_bytes(b"owl")
    os.utime(art, ns=(before.st_atime_ns, before.st_mtime_ns))
    second = memo(art, rows)
    assert second.digest(art) == (sha(b"owl") if rehashed else sha(b"bee"))
    assert second.rehashed == rehashed


def test_a_file_system_without_inodes_is_distrusted(art: Path, rows: MemoryRows) -> None:
    first = memo(art, rows)
    first.digest(art)
    first.save()
    stamp = rows.stamp_rows["designs/bee.png"]
    rows.stamp_rows["designs/bee.png"] = replace(stamp, inode=0)
    second = memo(art, rows)
    second.digest(art)
    assert second.read + second.rehashed == 1


def test_rehash_reads_everything_once(art: Path, rows: MemoryRows) -> None:
    first = memo(art, rows)
    first.digest(art)
    first.save()
    second = memo(art, rows, rehash=True)
    second.digest(art)
    second.digest(art)
    assert second.rehashed == 1


def test_a_file_that_changes_while_it_is_read_is_not_remembered(
    art: Path, rows: MemoryRows, monkeypatch: pytest.MonkeyPatch
) -> None:
    held = memo(art, rows)
    really_hash = memo_module._hash_file

    def growing(path: Path) -> str:
        digest = really_hash(path)
        with path.open("ab") as file:
            file.write(b"more")
        return digest

    monkeypatch.setattr(memo_module, "_hash_file", growing)
    held.digest(art)
    held.save()
    assert rows.stamp_rows == {}


def test_a_moved_shop_keeps_its_memo(art: Path, rows: MemoryRows, tmp_path: Path) -> None:
    first = memo(art, rows)
    first.digest(art)
    first.save()
    moved = tmp_path / "elsewhere"
    (tmp_path / "designs").rename(tmp_path / "new")
    moved.mkdir()
    (tmp_path / "new").rename(moved / "designs")
    second = memo(moved / "designs" / "bee.png", rows)
    second.digest(moved / "designs" / "bee.png")
    assert (second.read, second.rehashed) == (0, 0)


def test_an_unreadable_file_is_named(art: Path, rows: MemoryRows) -> None:
    held = memo(art, rows)
    art.unlink()
    with pytest.raises(ShopError, match=r"designs/bee.png: it cannot be read") as caught:
        held.digest(art)
    assert caught.value.slug == "file-unreadable"
