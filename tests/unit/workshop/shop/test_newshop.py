"""A new shop is whole or not there at all, and never on top of something else."""

import os
import tempfile
from pathlib import Path

import pytest

from hundredfold.kernel.errors import ExitCode, ShopError
from hundredfold.workshop.shop.folder import open_shop
from hundredfold.workshop.shop.newshop import new_shop


def names(folder: Path) -> list[str]:
    return sorted(path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.is_file())


def test_the_sample_is_a_shop_with_its_designs(tmp_path: Path) -> None:
    shop = new_shop(tmp_path / "demo", sample=True)
    assert len(shop.blanks) == 11
    assert len(shop.channels) == 2
    assert (tmp_path / "demo" / "rights.csv").is_file()
    for place in ("designs", "art", "layouts"):
        files = list((tmp_path / "demo" / place).iterdir())
        assert len(files) >= {"designs": 24}.get(place, 10)
        assert all(b"<svg" in file.read_bytes()[:400] for file in files)


def test_an_empty_shop_opens_and_has_examples_to_copy(tmp_path: Path) -> None:
    folder = tmp_path / "mine"
    shop = new_shop(folder)
    assert (shop.blanks, shop.channels) == ((), ())
    for name in ("blanks/mug-325.toml", "blanks/t-shirt.toml", "channels/northfold.toml"):
        (folder / name).write_bytes((folder / "examples" / name).read_bytes())
    shop = open_shop(folder)
    assert (len(shop.blanks), len(shop.channels), shop.findings) == (2, 1, ())


def test_an_empty_folder_is_taken(tmp_path: Path) -> None:
    (tmp_path / "mine").mkdir()
    assert new_shop(tmp_path / "mine").settings.name == "My shop"


def test_two_samples_hold_the_same_bytes(tmp_path: Path) -> None:
    new_shop(tmp_path / "one", sample=True)
    new_shop(tmp_path / "two", sample=True)
    assert names(tmp_path / "one") == names(tmp_path / "two")
    for name in names(tmp_path / "one"):
        assert (tmp_path / "one" / name).read_bytes() == (tmp_path / "two" / name).read_bytes()


@pytest.mark.parametrize(
    ("inside", "said"), [("notes.txt", "it holds notes.txt"), ("shop.toml", "already holds a shop")]
)
def test_a_folder_with_something_in_it_is_refused_and_left_alone(
    tmp_path: Path, inside: str, said: str
) -> None:
    folder = tmp_path / "mine"
    folder.mkdir()
    (folder / inside).write_text("mine")
    with pytest.raises(ShopError, match=said) as caught:
        new_shop(folder, sample=True)
    assert caught.value.slug == "folder-not-empty"
    assert names(tmp_path) == [f"mine/{inside}"]


def test_a_file_of_that_name_is_refused(tmp_path: Path) -> None:
    (tmp_path / "mine").write_text("a file")
    with pytest.raises(ShopError, match="a file of that name"):
        new_shop(tmp_path / "mine")


def stop_after(monkeypatch: pytest.MonkeyPatch, files: int, error: BaseException) -> None:
    """Lets so many files be written, then fails."""
    really_write, left = Path.write_bytes, iter(range(files))

    def write(path: Path, data: bytes) -> int:
        if next(left, None) is None:
            raise error
        return really_write(path, data)

    monkeypatch.setattr(Path, "write_bytes", write)


def test_a_full_disk_leaves_nothing_behind(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    stop_after(monkeypatch, 20, OSError(28, os.strerror(28)))
    with pytest.raises(ShopError, match="the disk is full") as caught:
        new_shop(tmp_path / "mine", sample=True)
    assert (caught.value.slug, caught.value.exit_code) == ("disk-full", ExitCode.PROBLEMS)
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("relative", [False, True])
def test_a_place_that_cannot_be_written_is_one_sentence(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, relative: bool
) -> None:
    (tmp_path / "file").write_text("not a folder")
    monkeypatch.chdir(tmp_path)
    with pytest.raises(ShopError) as caught:
        new_shop((Path() if relative else tmp_path) / "file" / "mine")
    assert (caught.value.slug, caught.value.exit_code) == ("cannot-write", ExitCode.PROBLEMS)


def test_no_permission_is_one_sentence(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(prefix: str, dir: Path) -> str:  # noqa: A002
        raise PermissionError(13, "Permission denied", str(dir / prefix))

    monkeypatch.setattr(tempfile, "mkdtemp", refuse)
    with pytest.raises(ShopError, match="permission refused") as caught:
        new_shop(tmp_path / "mine")
    assert caught.value.slug == "cannot-write"


def test_an_interruption_leaves_nothing_behind(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    stop_after(monkeypatch, 20, KeyboardInterrupt())
    with pytest.raises(KeyboardInterrupt):
        new_shop(tmp_path / "mine", sample=True)
    assert list(tmp_path.iterdir()) == []
