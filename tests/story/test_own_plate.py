"""A blank's own plate from the shop folder: found, looked at, drawn, counted; broken, it is one sentence."""

import io
import json
import shutil
import zipfile
from collections.abc import Callable
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest
from farworkers import FarWorkers
from monthshop import counts, digests, hundredfold, month, month_shop

from hundredfold.runner.workers import Workers
from hundredfold.workshop.shop import bench

OURS = {
    view: (files("hundredfold") / "plates" / f"mug-445.{view}.plate").read_bytes()
    for view in ("handle-right", "handle-left")
}
OWN = '[plate]\nname = "garden-mug"\nwide_mm = 87\nhigh_mm = 118\n\n[body]'
MONTH = ("--start", "2027-01-01", "--days", "2")


def with_own_plate(shop: Path) -> None:
    """The mug of 325 ml as large as our mug of 445 ml, drawn by its plates under the seller's name."""
    (shop / "plates").mkdir()
    for view, data in OURS.items():
        (shop / "plates" / f"garden-mug.{view}.plate").write_bytes(data)
    blank = shop / "blanks" / "mug-325.toml"
    text = blank.read_text("utf-8").replace("[body]", OWN, 1)
    blank.write_text(text.replace("diameter_mm = 82\nheight_mm = 95", "diameter_mm = 87\nheight_mm = 118"))


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    shop = month_shop(tmp_path_factory.mktemp("plates") / "shop", 2, blanks=("mug-325",))
    with_own_plate(shop)
    month(shop, 2)
    return shop


@pytest.fixture
def shop(made: Path, tmp_path: Path) -> Path:
    return Path(shutil.copytree(made, tmp_path / "shop"))


def pictures(shop: Path) -> dict[str, str]:
    found: dict[str, str] = {}
    for path in sorted((shop / "packs").rglob("manifest.json")):
        for part in json.loads(path.read_bytes())["parts"]:
            members = (member for archive in part["archives"] for member in archive["members"])
            found |= {one["name"]: one["sha256"] for one in members if one["name"].endswith(".jpg")}
    return found


def said(shop: Path) -> tuple[str, str, str]:
    code, told = hundredfold("month", "--shop", str(shop), *MONTH)
    assert code == 2
    assert told.keys() == {"error"}, told
    error: Any = told["error"]
    return error["slug"], error["where"]["file"], error["what"]


def test_it_draws_what_the_same_plate_of_ours_draws(shop: Path, tmp_path: Path) -> None:
    same = Path(shutil.copytree(shop, tmp_path / "same"))
    blank = same / "blanks" / "mug-325.toml"
    blank.write_text(blank.read_text("utf-8").replace(OWN, "[body]"), "utf-8")
    drawn = pictures(shop)
    assert drawn
    assert counts(month(same, 2))[0] > 0
    assert pictures(same) == drawn


def test_an_unchanged_plate_makes_nothing_anew_and_a_changed_one_its_pictures(shop: Path) -> None:
    assert counts(month(shop, 2))[0] == 0
    plate = shop / "plates" / "garden-mug.handle-right.plate"
    before, held = pictures(shop), digests(shop / "packs")
    plate.write_bytes(changed(plate.read_bytes(), lambda meta: meta["peaks"].update(response=0.9)))
    month(shop, 2)
    assert {name for name, one in pictures(shop).items() if before[name] != one} == set(before)
    design = sorted((shop / "designs").iterdir())[0].name
    assert "own plate" in json.dumps(hundredfold("why", design, "--shop", str(shop))[1])
    plate.write_bytes(OURS["handle-right"])
    month(shop, 2)
    assert digests(shop / "packs") == held


def test_workers_far_away_get_it_with_their_work(
    made: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    far = Path(shutil.copytree(made, tmp_path / "far"))
    shutil.rmtree(far / ".hundredfold")
    shutil.rmtree(far / "packs")
    workers = Workers(lambda: FarWorkers(far), share_folders=False, small_groups=0, count=2)
    monkeypatch.setattr(bench, "LOCAL", workers)
    month(far, 2)
    assert sorted(pictures(far).values()) == sorted(pictures(made).values())


def changed(data: bytes, change: Callable[[dict[str, Any]], object], without: str = "") -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(data)) as old, zipfile.ZipFile(out, "w") as new:
        for name in old.namelist():
            held = old.read(name)
            if name == "meta.json":
                meta = json.loads(held)
                change(meta)
                held = json.dumps(meta).encode()
            if name != without:
                new.writestr(name, held)
    return out.getvalue()


def of_cloth(_: bytes) -> bytes:
    data = (files("hundredfold") / "plates" / "cushion.front.plate").read_bytes()
    return changed(data, lambda meta: meta.update(view="handle-left"))


def with_meta(**values: object) -> Callable[[bytes], bytes]:
    return lambda data: changed(data, lambda meta: meta.update(values))


SPOILT: dict[str, tuple[Callable[[bytes], bytes], str]] = {
    "cut short": (lambda data: data[: len(data) // 2], "it is no whole plate"),
    "no archive": (lambda _: b"a picture", "it is no whole plate"),
    "another view": (lambda _: OURS["handle-right"], "it is of the view 'handle-right'"),
    "of another format": (with_meta(format=3), "format 3"),
    "without its light": (lambda data: changed(data, dict, "response.webp"), "plane response is missing"),
    "with a box of its own": (with_meta(box=[0, 0, 10, 10]), "another size than its box"),
    "larger than any": (with_meta(size_px=10**9), "200 to 4000 pixels wide"),
    "a camera of words": (with_meta(camera="wide"), "it is no whole plate"),
    "light that is no number": (with_meta(peaks={"response": float("nan")}), "a number of its geometry"),
    "of cloth": (of_cloth, "it shows cloth, which a mug has not"),
}


@pytest.mark.parametrize("case", list(SPOILT))
def test_a_broken_plate_is_one_sentence_and_nothing_is_touched(case: str, shop: Path, made: Path) -> None:
    spoil, words = SPOILT[case]
    plate = shop / "plates" / "garden-mug.handle-left.plate"
    plate.write_bytes(spoil(plate.read_bytes()))
    slug, file, what = said(shop)
    assert (slug, file) == ("bad-plate", "plates/garden-mug.handle-left.plate")
    assert words in what
    assert digests(shop / "packs") == digests(made / "packs")


def test_a_view_without_its_file_is_named_in_the_blank_s_file(shop: Path) -> None:
    (shop / "plates" / "garden-mug.handle-left.plate").unlink()
    slug, file, what = said(shop)
    assert (slug, file) == ("no-plate", "blanks/mug-325.toml")
    assert "plates/garden-mug.handle-left.plate" in what


def test_goods_of_another_shape_than_their_own_plate_are_stopped(shop: Path) -> None:
    blank = shop / "blanks" / "mug-325.toml"
    blank.write_text(blank.read_text("utf-8").replace("high_mm = 118", "high_mm = 90"), "utf-8")
    told = hundredfold("proof", "--shop", str(shop))[1]
    assert "a body of 87 x 90 mm" in json.dumps(told)
