"""`proof` and `explain` through the command line, on the sample's blanks with three pieces of art."""

import json
import re
import shutil
from pathlib import Path

import fontpkg
import pytest
from PIL import Image, ImageDraw, ImageFont

from hundredfold.cli.main import main
from hundredfold.workshop.shop.newshop import new_shop

Capture = pytest.CaptureFixture[str]


def lettering(path: Path, ink: str) -> None:
    picture = Image.new("RGBA", (3000, 2200), (0, 0, 0, 0))
    font = ImageFont.truetype(str(fontpkg.path("Lilita One")), 660)
    pen = ImageDraw.Draw(picture)
    for line, height in (("SEA", 700), ("SWIMMER", 1500)):
        pen.text((1500, height), line, font=font, fill=ink, anchor="mm")
    picture.save(path)


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    root = tmp_path_factory.mktemp("proof") / "shop"
    new_shop(root, sample=True)
    for old in (root / "designs").iterdir():
        old.unlink()
    for blank in (root / "blanks").glob("*.toml"):
        if blank.stem not in ("mug-325", "t-shirt"):
            blank.unlink()
    lettering(root / "designs" / "swimmer-navy.png", "#14213d")
    lettering(root / "designs" / "swimmer-white.png", "#ffffff")
    Image.new("RGBA", (900, 900), (0, 0, 0, 0)).save(root / "designs" / "nothing.png")
    assert main(["proof", "--shop", str(root)]) == 1
    return root


@pytest.fixture
def shop(made: Path, tmp_path: Path) -> Path:
    return Path(shutil.copytree(made, tmp_path / "shop"))


def answer(shop: Path, capsys: Capture, *words: str) -> dict[str, list[dict[str, object]]]:
    capsys.readouterr()
    main(["proof", *words, "--shop", str(shop), "--json"])
    document: dict[str, list[dict[str, object]]] = json.loads(capsys.readouterr().out)
    return document


def colours(document: dict[str, list[dict[str, object]]], design: str, blank: str) -> dict[str, bool]:
    """Whether each colour of one design on one blank is stopped."""
    (found,) = (one for one in document["designs"] if str(one["design"]).endswith(design))
    blanks: list[dict[str, list[dict[str, object]]]] = found["blanks"]  # type: ignore[assignment]
    (on,) = (one for one in blanks if one["blank"] == blank)  # type: ignore[comparison-overlap]
    return {str(one["colour"]): bool(one["stopped"]) for one in on["colours"]}


def test_dark_art_goes_on_light_shirts_and_white_art_on_dark_ones(shop: Path, capsys: Capture) -> None:
    document = answer(shop, capsys, "--blank", "T-SHIRT")
    navy, white = (colours(document, f"swimmer-{ink}.png", "T-SHIRT") for ink in ("navy", "white"))
    assert not navy["white"]
    assert navy["navy"]
    assert navy["black"]
    assert not white["navy"]
    assert not white["black"]
    assert white["white"]


def test_white_art_is_stopped_on_every_sublimated_mug(shop: Path, capsys: Capture) -> None:
    assert all(colours(answer(shop, capsys), "swimmer-white.png", "MUG-325").values())


def test_an_empty_file_is_told_and_the_rest_goes_on(shop: Path, capsys: Capture) -> None:
    assert main(["proof", "--shop", str(shop)]) == 1
    out = capsys.readouterr().out
    assert "nothing.png" in out
    assert "transparent" in out
    assert "made 0" in out.splitlines()[-1]


def test_a_changed_limit_is_judged_again_without_measuring(shop: Path, capsys: Capture) -> None:
    before = colours(answer(shop, capsys), "swimmer-navy.png", "T-SHIRT")
    settings = shop / "shop.toml"
    settings.write_text(f'checks_profile = "checks.toml"\n{settings.read_text()}')
    limit = '{ value = 5000, reason = "we only sell what is razor sharp" }'
    (shop / "checks.toml").write_text(f"[limits]\ndpi_floor = {limit}\ndpi_target = {limit}\n")
    assert main(["proof", "swimmer-navy", "--shop", str(shop)]) == 1
    out = capsys.readouterr().out
    assert "we only sell what is razor sharp" in out
    assert "made 0" in out.splitlines()[-1]
    after = colours(answer(shop, capsys), "swimmer-navy.png", "T-SHIRT")
    assert not all(before.values())
    assert all(after.values())


def test_the_sheet_is_one_file_and_the_same_bytes_every_time(shop: Path, capsys: Capture) -> None:
    sheets = [shop / "proof" / f"proof-sheet.{kind}" for kind in ("html", "pdf")]
    before = [path.read_bytes() for path in sheets]
    assert main(["proof", "--shop", str(shop)]) == 1
    assert [path.read_bytes() for path in sheets] == before
    page = before[0].decode()
    assert page.count("<article") == 3
    assert "swimmer-navy.png" in page
    assert "data:image/jpeg;base64," in page
    assert not re.search(r"https?:|<script|src=\"(?!data:)", page)
    assert before[1].startswith(b"%PDF-")


def test_the_worst_comes_first_on_the_sheet(shop: Path) -> None:
    page = (shop / "proof" / "proof-sheet.html").read_text()
    places = [
        page.index(name) for name in ("designs/nothing", "designs/swimmer-white", "designs/swimmer-navy")
    ]
    assert places == sorted(places)


def test_repairs_are_files_of_their_own_and_only_when_asked(shop: Path, capsys: Capture) -> None:
    masters = {path: path.read_bytes() for path in (shop / "designs").iterdir()}
    assert not (shop / "proof" / "repaired").exists()
    assert main(["proof", "--repair", "--shop", str(shop)]) == 1
    made = sorted((shop / "proof" / "repaired").iterdir())
    assert made
    assert "move it into designs to use it" in capsys.readouterr().out
    assert {path: path.read_bytes() for path in (shop / "designs").iterdir()} == masters
    for path in made:
        assert Image.open(path).mode == "RGBA"


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("[limits]\ndpi_flor = { value = 1, reason = 'x' }", "limits.dpi_floor"),
        ("[limits\n", "checks.toml"),
        ('printer = "no.icc"', "no.icc"),
    ],
)
def test_a_wrong_file_of_limits_is_named(text: str, said: str, shop: Path, capsys: Capture) -> None:
    settings = shop / "shop.toml"
    settings.write_text(f'checks_profile = "checks.toml"\n{settings.read_text()}')
    (shop / "checks.toml").write_text(text)
    assert main(["proof", "--shop", str(shop)]) == 2
    assert said in capsys.readouterr().err


def test_a_design_or_blank_that_is_not_there(shop: Path, capsys: Capture) -> None:
    assert main(["proof", "swimmer-pink", "--shop", str(shop)]) == 2
    assert "swimmer-pink" in capsys.readouterr().err
    assert main(["proof", "--blank", "MUG-326", "--shop", str(shop)]) == 2
    assert "MUG-325" in capsys.readouterr().err


def test_explain_prints_the_page_with_the_shops_limits(shop: Path, capsys: Capture) -> None:
    assert main(["explain", "prints/too-few-pixels", "--shop", str(shop)]) == 0
    page = capsys.readouterr().out
    assert "## Why it matters" in page
    assert "`dpi_floor` = 150 dpi" in page
    assert main(["explain", "--shop", str(shop)]) == 0
    assert "blank/outline-contrast" in capsys.readouterr().out
    assert main(["explain", "prints/too-few-pixel"]) == 2
    assert "prints/too-few-pixels" in capsys.readouterr().err
