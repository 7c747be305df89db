"""One layout after another, light then dark, rows that fail: the made list keeps every design that stands."""

from pathlib import Path

import pytest

from hundredfold.kernel.findings import Severity
from hundredfold.runner.workers import InProcess
from hundredfold.workshop.shop.files import ShopFiles
from hundredfold.workshop.shop.madelist import all_made
from hundredfold.workshop.shop.paths import ShopPaths
from hundredfold.workshop.typeset.typesetting import Typeset, TypesetOrder, typeset

LAYOUT = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="50mm" height="40mm" viewBox="0 0 500 400" '
    'data-light="ink #112233" data-dark="ink #eeeeee">'
    '<text font-family="Anton" font-size="80" data-fill="ink" data-fit="box" '
    'data-box="20 20 460 200">{trade}</text></svg>'
)
BOTH = [
    "beekeeper-club-for-dark.svg",
    "beekeeper-club.svg",
    "bell-ringer-club-for-dark.svg",
    "bell-ringer-club.svg",
]


@pytest.fixture
def paths(tmp_path: Path) -> ShopPaths:
    shop = ShopPaths(tmp_path)
    for folder in (shop.layouts, shop.words, shop.designs):
        folder.mkdir()
    write_layout(shop, "club")
    write_list(shop, "trade,keywords\r\nBeekeeper,bees; honey\r\nBell ringer,bells\r\n")
    return shop


def write_layout(shop: ShopPaths, name: str) -> None:
    (shop.layouts / f"{name}.svg").write_text(LAYOUT, encoding="utf-8")


def write_list(shop: ShopPaths, text: str) -> None:
    (shop.words / "club.csv").write_text(text, encoding="utf-8", newline="")


def run(shop: ShopPaths, **asked: object) -> Typeset:
    return typeset(shop, TypesetOrder(**{"png_width": 100, **asked}), InProcess())  # type: ignore[arg-type]


def made(shop: ShopPaths) -> list[str]:
    return sorted(all_made(ShopFiles(shop.root))[0])


def codes(done: Typeset) -> list[str]:
    return [finding.code for finding in done.findings]


def test_one_layout_after_another_keeps_both(paths: ShopPaths) -> None:
    write_layout(paths, "seal")
    run(paths, layouts=("club",))
    done = run(paths, layouts=("seal",))
    assert made(paths) == [
        "beekeeper-club.svg", "beekeeper-seal.svg", "bell-ringer-club.svg", "bell-ringer-seal.svg",
    ]  # fmt: skip
    assert "no-longer-made" not in codes(done)
    kept = all_made(ShopFiles(paths.root))[0]["beekeeper-club.svg"]
    assert (kept.keywords, kept.layout) == (("bees", "honey"), "club.svg")
    again = run(paths, layouts=("club",))
    assert (again.made, again.reused) == (0, 2)


def test_light_then_dark_keeps_both(paths: ShopPaths) -> None:
    run(paths, versions=("light",))
    done = run(paths, versions=("dark",))
    assert made(paths) == BOTH
    assert "no-longer-made" not in codes(done)


def test_a_row_for_several_layouts_is_a_set(paths: ShopPaths) -> None:
    write_layout(paths, "seal")
    write_list(paths, "trade,layout\r\nBeekeeper,club; seal\r\n")
    assert run(paths).made == 2
    assert made(paths) == ["beekeeper-club.svg", "beekeeper-seal.svg"]


def test_a_row_that_went_away_leaves_the_record(paths: ShopPaths) -> None:
    run(paths, versions=("light", "dark"))
    write_list(paths, "trade,keywords\r\nBeekeeper,bees\r\n")
    done = run(paths, versions=("light",))
    assert codes(done).count("no-longer-made") == 2
    assert made(paths) == BOTH[:2]
    assert (paths.designs / "bell-ringer-club.svg").is_file()


def test_failed_rows_leave_nothing_behind(paths: ShopPaths) -> None:
    write_list(paths, "trade\r\nBeekeeper\r\n\U0001f41d\r\n\u8702\r\n")
    done = run(paths)
    stopped = [finding.code for finding in done.findings if finding.severity is Severity.STOP]
    assert stopped == ["emoji", "missing-glyph"]
    assert made(paths) == ["beekeeper-club.svg"]
    assert [path.name for path in paths.designs.glob("*.svg")] == ["beekeeper-club.svg"]
    assert [path.name for path in (paths.root / "pictures").iterdir()] == ["beekeeper-club.png"]


def test_a_missing_column_is_a_sentence_and_nothing_is_lost(paths: ShopPaths) -> None:
    run(paths)
    write_list(paths, "trayd\r\nBeekeeper\r\nBell ringer\r\n")
    done = run(paths)
    assert (done.made, done.failed) == (0, 2)
    (told,) = [finding for finding in done.findings if finding.severity is Severity.STOP]
    assert "“trade”" in told.what
    assert "trayd" in told.what + told.fix
