"""Bad files, bad settings, full disks and broken-off months: one sentence each, and nothing good is lost."""

import os
import shutil
import signal
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from monthshop import FEW_BLANKS, START, digests, hundredfold, month_shop
from openmoji import design_png
from runs import interrupted_at, started
from test_bad_art import BAD

from hundredfold.runner.diskerrors import PART_PREFIX

DAYS = "2"
GOOD = 2
TinyDisk = Callable[[str], Path]


def arguments(shop: Path) -> tuple[str, ...]:
    return ("month", "--shop", str(shop), "--start", START, "--days", DAYS)


def month_here(shop: Path) -> tuple[int, dict[str, Any]]:
    return hundredfold(*arguments(shop))


@pytest.fixture(scope="module")
def empty(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A shop whose month was never made; one of its designs has another kind's ending."""
    shop = month_shop(tmp_path_factory.mktemp("bad") / "empty", GOOD, blanks=FEW_BLANKS)
    (shop / "designs" / "wrong-ending.svg").write_bytes(design_png("ant", 180))
    return shop


@pytest.fixture(scope="module")
def calm(empty: Path) -> Path:
    """The same shop after a month without trouble."""
    shop = Path(shutil.copytree(empty, empty.parent / "calm"))
    code, told = month_here(shop)
    assert code == 0, told
    return shop


@pytest.fixture
def shop(calm: Path, tmp_path: Path) -> Path:
    """A copy of the calm shop, to spoil."""
    return Path(shutil.copytree(calm, tmp_path / "shop"))


def one_sentence(told: dict[str, Any]) -> tuple[str, str, str]:
    """Where, what and what to do, of an answer that is one error and no other."""
    assert told.keys() == {"error"}, told
    error = told["error"]
    for part in (error["what"], error["try"]):
        assert part
        assert "\n" not in part
        assert "Traceback" not in part
    where = error["where"]
    line = f"line {where['line']}" if where["line"] else ""
    return ", ".join(filter(None, (where["file"], line, where["field"]))), error["what"], error["try"]


def test_bad_art_stops_no_good_design(empty: Path, calm: Path, tmp_path: Path) -> None:
    shop = Path(shutil.copytree(empty, tmp_path / "shop"))
    for name, (data, _) in BAD.items():
        (shop / "designs" / name).write_bytes(data)
    code, told = month_here(shop)
    assert code == 1
    stops = {finding["item"]: finding for finding in told["findings"] if finding["severity"] == "stop"}
    assert stops.keys() == {f"designs/{name}" for name in BAD}
    assert all(finding["what"] and finding["try"] for finding in stops.values())
    assert digests(shop / "packs") == digests(calm / "packs")
    code, told = hundredfold("verify", "--shop", str(shop))
    assert code == 0, told


def test_art_with_another_kind_s_ending_is_used_for_what_it_is(calm: Path) -> None:
    tables = [path.read_text("utf-8-sig") for path in (calm / "packs").rglob("listings.csv")]
    assert any("wrong-ending" in table for table in tables)


SPOILT = {
    "a typo in a key": (
        "shop.toml", "currency =", "curency =",
        "shop.toml, line 5, curency", 'no setting "curency"', 'did you mean "currency"?',
    ),
    "a table that is not closed": (
        "shop.toml", "[month]", "[month",
        "shop.toml, line 16", "cannot be read as TOML", "docs/settings.md",
    ),
    "a negative cost": (
        "blanks/mug-325.toml", 'base_cost = "', 'base_cost = "-',
        "blanks/mug-325.toml, line 38, variants.NF-M325-WHI.base_cost", "less than nothing", "minus sign",
    ),
    "two blanks with one code": (
        "blanks/mug-325.toml", 'code = "MUG-325"', 'code = "MUG-445"',
        "blanks/mug-445.toml, code", 'code "MUG-445" is already used in blanks/mug-325.toml', "another code",
    ),
}  # fmt: skip


@pytest.mark.parametrize("case", list(SPOILT))
def test_a_spoilt_setting_is_named_with_its_line_and_nothing_is_touched(
    case: str, shop: Path, calm: Path
) -> None:
    name, old, new, where, what, fix = SPOILT[case]
    path = shop / name
    sound = path.read_bytes()
    assert old.encode() in sound
    path.write_bytes(sound.replace(old.encode(), new.encode(), 1))
    code, told = month_here(shop)
    assert code == 2
    said = one_sentence(told)
    assert where in said[0]
    assert what in said[1]
    assert fix in said[2]
    assert digests(shop / "packs") == digests(calm / "packs")
    path.write_bytes(sound)
    code, told = month_here(shop)
    assert (code, told["counts"]["made"]) == (0, 0)


def on_tiny_disk(shop: Path, inside: str, disk: Path) -> None:
    """Move one folder of the shop to the disk and leave a link in its place."""
    folder = shop / inside
    folder.mkdir(parents=True, exist_ok=True)
    shutil.copytree(folder, disk, dirs_exist_ok=True)
    shutil.rmtree(folder)
    folder.symlink_to(disk, target_is_directory=True)


@pytest.mark.parametrize("inside", ["packs", ".hundredfold/cache", ".hundredfold"])
def test_a_disk_that_fills_up_half_way(
    inside: str, empty: Path, calm: Path, tmp_path: Path, tiny_disk: TinyDisk
) -> None:
    shop = Path(shutil.copytree(empty, tmp_path / "shop"))
    on_tiny_disk(shop, inside, tiny_disk("size=900k"))
    code, told = month_here(shop)
    assert code == 1
    _, what, fix = one_sentence(told)
    assert "full" in what or "disk" in what
    assert "space" in fix or "room" in fix or "free" in fix, fix
    whole = digests(calm / "packs")
    assert {name: whole.get(name) for name in digests(shop / "packs")} == digests(shop / "packs")
    tiny_disk("size=200m")
    code, told = month_here(shop)
    assert code == 0, told
    assert digests(shop / "packs") == whole


def test_a_disk_too_small_is_refused_before_any_work(
    empty: Path, tmp_path: Path, tiny_disk: TinyDisk
) -> None:
    shop = Path(shutil.copytree(empty, tiny_disk("size=8m") / "shop"))
    code, told = month_here(shop)
    assert code == 1
    _, what, _ = one_sentence(told)
    assert "this needs" in what
    assert not list((shop / "packs").rglob("manifest.json"))


def test_packs_that_may_not_be_written(shop: Path, calm: Path, tiny_disk: TinyDisk) -> None:
    on_tiny_disk(shop, "packs", tiny_disk("size=200m"))
    lost = shop / "packs" / "quayside" / "2027-01-02" / "artwork.zip"
    lost.unlink()
    before = digests(shop / "packs")
    tiny_disk("size=200m,ro")
    code, told = month_here(shop)
    assert code == 1
    where, what, _ = one_sentence(told)
    assert "packs" in where
    assert what == "it cannot be written: permission refused"
    assert digests(shop / "packs") == before
    tiny_disk("size=200m,rw")
    code, told = month_here(shop)
    assert (code, told["counts"]["made"]) == (0, 1)
    assert digests(shop / "packs") == digests(calm / "packs")


@pytest.mark.skipif(os.name == "nt", reason="process groups are a thing of Unix")
@pytest.mark.parametrize("moment", ["judging every design", "making", "pack northfold"])
def test_ctrl_c_keeps_what_is_finished(moment: str, empty: Path, calm: Path, tmp_path: Path) -> None:
    for turn in range(4):  # on a busy machine a run may be over before the press arrives
        shop = Path(shutil.copytree(empty, tmp_path / f"shop {turn}"))
        code, said = interrupted_at(started(*arguments(shop)), moment)
        if code != 0:
            break
    assert code == 130
    others = [line for line in said if not line.endswith("is ready") and not line.endswith("…")]
    assert others == ["stopped; everything finished so far is kept, so run it again to go on"]
    whole = digests(calm / "packs")
    kept = digests(shop / "packs")
    assert {name: whole.get(name) for name in kept} == kept
    code, told = month_here(shop)
    assert code == 0, told
    assert digests(shop / "packs") == whole


@pytest.mark.skipif(os.name == "nt", reason="kill -9 is a thing of Unix")
def test_kill_9_in_the_middle_of_packing(empty: Path, calm: Path, tmp_path: Path) -> None:
    shop = Path(shutil.copytree(empty, tmp_path / "shop"))
    process = started(*arguments(shop))
    while process.poll() is None and not half_written(shop):
        time.sleep(0.0005)
    os.killpg(process.pid, signal.SIGKILL)
    assert process.wait() == -signal.SIGKILL
    whole = digests(calm / "packs")
    kept = {name: digest for name, digest in digests(shop / "packs").items() if PART_PREFIX not in name}
    assert {name: whole.get(name) for name in kept} == kept
    code, told = month_here(shop)
    assert code == 0, told
    assert digests(shop / "packs") == whole


def half_written(shop: Path) -> list[Path]:
    return [path for path in (shop / "packs").glob("*/*/*") if path.name.startswith(PART_PREFIX)]
