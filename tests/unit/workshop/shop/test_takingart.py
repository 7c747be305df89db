"""Art that a person brings."""

import io
import zipfile
from pathlib import Path, PurePosixPath

import pytest
from goods import jpeg, png
from hypothesis import given
from hypothesis import strategies as st

from hundredfold.workshop.shop import takingart
from hundredfold.workshop.shop.newshop import new_shop
from hundredfold.workshop.shop.takingart import Brought, TakenArt, safe_name, take_art

PNG = png(40, 30, 300)


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    new_shop(tmp_path / "shop")
    return tmp_path / "shop"


def bring(shop: Path, **files: bytes) -> TakenArt:
    return take_art(shop, [Brought(name, io.BytesIO(data)) for name, data in files.items()])


def brought(shop: Path, name: str, data: bytes) -> TakenArt:
    return take_art(shop, [Brought(name, io.BytesIO(data))])


def packed(**files: bytes) -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as archive:
        for name, data in files.items():
            archive.writestr(name, data)
    return out.getvalue()


def test_a_file_is_copied_as_it_is(shop: Path) -> None:
    done = brought(shop, "bees/proud.png", PNG)
    assert done.taken == ("designs/bees/proud.png",)
    assert (shop / "designs" / "bees" / "proud.png").read_bytes() == PNG


def test_the_same_file_again_is_known(shop: Path) -> None:
    brought(shop, "a.png", PNG)
    again = brought(shop, "a.png", PNG)
    assert (again.taken, again.known) == ((), ("designs/a.png",))


def test_another_file_of_that_name_gets_a_number_and_takes_nobodys_place(shop: Path) -> None:
    brought(shop, "a.png", PNG)
    other = png(41, 30, 300)
    assert brought(shop, "A.PNG", other).taken == ("designs/A-2.PNG",)
    assert (shop / "designs" / "a.png").read_bytes() == PNG


@pytest.mark.parametrize(
    ("name", "data", "words"),
    [
        ("notes.txt", b"hello", "no art"),
        ("empty.png", b"", "empty"),
        ("lie.png", jpeg(20, 20), "JPEG inside"),
        ("lie.png", b"MZ not a picture", "holds no picture"),
        ("broken.zip", b"PK\x03\x04 and then nothing", "damaged"),
    ],
)
def test_what_cannot_be_taken_is_left_with_a_sentence(shop: Path, name: str, data: bytes, words: str) -> None:
    done = brought(shop, name, data)
    assert done.taken == ()
    assert words in done.left[0].why
    assert list((shop / "designs").iterdir()) == []


def test_a_zip_is_opened_and_its_folders_kept(shop: Path) -> None:
    inside = packed(**{"art/a.png": PNG, "__MACOSX/art/._a.png": b"x", "art/readme.txt": b"x"})
    done = brought(shop, "all.zip", inside)
    assert done.taken == ("designs/art/a.png",)
    assert [one.name for one in done.left] == ["art/readme.txt"]


def test_a_zip_that_grows_beyond_measure_is_left(shop: Path) -> None:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("bomb.png", b"\0" * (30 << 20))
    done = brought(shop, "bomb.zip", out.getvalue())
    assert done.taken == ()
    assert "would grow" in done.left[0].why


def test_a_zip_of_too_many_files_is_left(shop: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(takingart, "MOST_MEMBERS", 2)
    done = brought(shop, "many.zip", packed(**{f"{n}.png": PNG for n in range(3)}))
    assert done.taken == ()
    assert "holds 3 files" in done.left[0].why


@pytest.mark.parametrize(
    "name",
    [
        "../../shop.toml.png",
        "/etc/passwd.png",
        "C:\\Windows\\a.png",
        "..\\..\\a.png",
        "./././a.png",
        "a/../../b.png",
    ],
)
def test_no_name_leads_out_of_the_designs_folder(shop: Path, name: str) -> None:
    done = brought(shop, name, PNG)
    (taken,) = done.taken
    assert (shop / taken).resolve().is_relative_to((shop / "designs").resolve())


def test_names_that_windows_keeps_for_itself_are_changed() -> None:
    assert safe_name("con.png") == "art-con.png"
    assert safe_name("LPT1.svg") == "art-LPT1.svg"


@given(st.text(max_size=300))
def test_any_name_becomes_one_that_every_system_takes(name: str) -> None:
    made = safe_name(name)
    parts = PurePosixPath(made).parts
    assert parts
    assert made == "/".join(parts)
    for part in parts:
        assert part not in (".", "..")
        assert not set(part) & set('<>:"|?*\\\0')
        assert part == part.strip().rstrip(".")
        assert len(part.encode()) <= 205
