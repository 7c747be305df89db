"""Lists times layouts on disk: designs, records, names, and what is not made again."""

import os
import subprocess
import sys
from pathlib import Path

import pytest
import xlsxwriter

from hundredfold.designs.design import Design
from hundredfold.designs.facts import Box, DesignFacts
from hundredfold.kernel.errors import ShopError
from hundredfold.kernel.findings import Severity
from hundredfold.runner.workers import InProcess
from hundredfold.workshop.shop.files import ShopFiles
from hundredfold.workshop.shop.madelist import all_made, described
from hundredfold.workshop.shop.newshop import new_shop
from hundredfold.workshop.shop.paths import ShopPaths
from hundredfold.workshop.shop.starterlayouts import starter_layouts, take_starters
from hundredfold.workshop.typeset.naming import slug
from hundredfold.workshop.typeset.previewing import preview
from hundredfold.workshop.typeset.typesetting import (
    Typeset,
    TypesetOrder,
    judge_pair,
    pairs_of,
    typeset,
)
from hundredfold.workshop.typeset.typework import fill_row
from hundredfold.workshop.typeset.wordlists import read_word_list

LAYOUT = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="50mm" height="40mm" viewBox="0 0 500 400" '
    'data-light="ink #112233" data-dark="ink #eeeeee">'
    '<text font-family="Anton" font-size="80" data-fill="ink" data-fit="box" '
    'data-box="20 20 460 200">{trade}</text>'
    "{extra}</svg>"
)
LIST = (
    "trade,keywords,niche,rights\r\n"
    "Beekeeper,bees; honey,bees,own work\r\n"
    "Bell ringer,bells,bells,own work\r\n"
)  # fmt: skip


@pytest.fixture
def paths(tmp_path: Path) -> ShopPaths:
    shop = ShopPaths(tmp_path)
    for folder in (shop.layouts, shop.words, shop.designs):
        folder.mkdir()
    write_layout(shop)
    write_list(shop, LIST)
    return shop


def write_layout(shop: ShopPaths, extra: str = "", name: str = "club") -> None:
    (shop.layouts / f"{name}.svg").write_text(LAYOUT.replace("{extra}", extra), encoding="utf-8")


def write_list(shop: ShopPaths, text: str, name: str = "club") -> None:
    (shop.words / f"{name}.csv").write_text(text, encoding="utf-8", newline="")


def run(shop: ShopPaths, **asked: object) -> Typeset:
    return typeset(shop, TypesetOrder(**{"png_width": 100, **asked}), InProcess())  # type: ignore[arg-type]


def counts(done: Typeset) -> tuple[int, int, int]:
    return done.made, done.reused, done.failed


def test_a_design_for_each_row_with_what_travels(paths: ShopPaths) -> None:
    done = run(paths)
    assert counts(done) == (2, 0, 0)
    assert [one.file for one in done.designs] == ["beekeeper-club.svg", "bell-ringer-club.svg"]
    made = all_made(ShopFiles(paths.root))[0]["beekeeper-club.svg"]
    assert made == done.designs[0]
    assert (made.keywords, made.niche, made.rights, made.row) == (("bees", "honey"), "bees", "own work", 2)
    assert made.facts["smallest_x_height_mm"] > 1
    # The drawing is 50 mm wide: the share is what proofs measure words by, at any printed size.
    share = made.facts["smallest_x_height_share"]
    assert share * 50 == pytest.approx(made.facts["smallest_x_height_mm"], rel=1e-3)
    assert (paths.root / "pictures" / "beekeeper-club.png").read_bytes()[:4] == b"\x89PNG"


def test_nothing_is_made_twice_and_only_the_changed_again(paths: ShopPaths) -> None:
    run(paths)
    before = {path.name: path.read_bytes() for path in paths.designs.iterdir()}
    assert counts(run(paths)) == (0, 2, 0)
    assert {path.name: path.read_bytes() for path in paths.designs.iterdir()} == before
    write_list(paths, LIST.replace("Bell ringer", "Bell tuner"))
    done = run(paths)
    assert counts(done) == (1, 1, 0)
    assert [f.code for f in done.findings if f.check == "words/made"] == ["no-longer-made"]
    write_layout(paths, '<path d="M0 300h500v9h-500z"/>')
    assert counts(run(paths)) == (2, 0, 0)
    (paths.root / "pictures" / "beekeeper-club.png").unlink()
    assert counts(run(paths)) == (1, 1, 0)


def test_good_rows_come_out_beside_bad_ones(paths: ShopPaths) -> None:
    write_list(paths, LIST + '"two\nlines",,,\r\n\U0001f41d,,,\r\n,bees,,\r\nAlto,,,\r\n')
    done = run(paths)
    assert counts(done) == (3, 0, 3)
    stops = [(f.item, f.code) for f in done.findings if f.severity is Severity.STOP]
    assert stops == [
        ("club.csv, row 4, with club.svg", "line-break"),
        ("club.csv, row 5, with club.svg", "emoji"),
        ("club.csv, row 6, with club.svg", "empty-cell"),
    ]


def test_columns_without_slots_and_slots_without_columns(paths: ShopPaths) -> None:
    write_list(paths, "Trade,colour\r\nBeekeeper,red\r\n")
    done = run(paths)
    assert counts(done) == (1, 0, 0)
    assert [f.code for f in done.findings] == ["column-without-slot"]
    write_list(paths, "trayd\r\nBeekeeper\r\nAlto\r\n")
    done = run(paths)
    assert counts(done) == (0, 0, 2)
    assert "“trade”" in done.findings[0].what


def test_both_versions_and_twins_of_a_name(paths: ShopPaths) -> None:
    write_list(paths, "trade\r\nBees!\r\nBees?\r\n")
    (paths.designs / "bees-club.svg").write_text("<svg/>", encoding="utf-8")
    done = run(paths, versions=("light", "dark"))
    assert sorted(one.file for one in done.designs) == [
        "bees-club-2.svg", "bees-club-3-for-dark.svg", "bees-club-3.svg", "bees-club-for-dark.svg",
    ]  # fmt: skip
    assert (paths.designs / "bees-club.svg").read_text(encoding="utf-8") == "<svg/>"


def test_a_bad_font_names_itself_and_the_rest_goes_on(paths: ShopPaths) -> None:
    paths.fonts.mkdir()
    (paths.fonts / "mine.ttf").write_bytes(b"no font at all")
    text = (paths.layouts / "club.svg").read_text(encoding="utf-8").replace("Anton", "mine")
    (paths.layouts / "odd.svg").write_text(text, encoding="utf-8")
    write_list(paths, "trade,layout\r\nBeekeeper,club\r\nAlto,odd\r\n")
    done = run(paths)
    assert counts(done) == (1, 0, 1)
    assert [(f.code, f.item) for f in done.findings] == [("bad-font", "club.csv with odd.svg")]


def test_which_layout_a_list_fills(paths: ShopPaths) -> None:
    write_layout(paths, name="other")
    write_list(paths, LIST, "more")
    with pytest.raises(ShopError) as caught:
        run(paths)
    assert caught.value.slug == "no-pair"
    assert counts(run(paths, lists=("more",), layouts=("other",))) == (2, 0, 0)
    with pytest.raises(ShopError, match="no layout called"):
        run(paths, layouts=("uther",))


def test_lists_with_bad_heads(paths: ShopPaths) -> None:
    write_list(paths, "trade,Trade\r\na,b\r\n")
    with pytest.raises(ShopError, match="two columns"):
        read_word_list(paths.words / "club.csv")
    write_list(paths, "")
    with pytest.raises(ShopError, match="names no columns"):
        read_word_list(paths.words / "club.csv")


def test_the_contact_sheet_shows_the_worst_and_is_the_same_every_time(paths: ShopPaths) -> None:
    rows = "".join(f"{'long ' * (k % 7)}word {k}\r\n" for k in range(40))
    write_list(paths, f"trade\r\n{rows}")
    done = preview(paths, TypesetOrder())
    assert done.rows == 40
    (sheet,) = done.sheets
    first = sheet.read_bytes(), sheet.with_suffix(".pdf").read_bytes()
    preview(paths, TypesetOrder())
    assert (sheet.read_bytes(), sheet.with_suffix(".pdf").read_bytes()) == first
    assert first[1].startswith(b"%PDF")
    assert not list(paths.designs.iterdir())


def test_starters_are_taken_once(tmp_path: Path) -> None:
    assert len(take_starters(tmp_path)[0]) == len(starter_layouts())
    (tmp_path / "badge.svg").write_bytes(b"mine")
    written, kept = take_starters(tmp_path)
    assert (written, len(kept)) == ((), 21)
    assert (tmp_path / "badge.svg").read_bytes() == b"mine"


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("Zoë's 8 oz Mug!", "zoes-8-oz-mug"),
        ("Łódź", "łodz"),
        ("שלום", "שלום"),
        ("***", ""),
        ("a/b\\c:d", "a-b-c-d"),
    ],
)
def test_names_of_files(text: str, expected: str) -> None:
    assert slug(text) == expected


def test_what_travels_reaches_the_design(paths: ShopPaths) -> None:
    run(paths)
    made = all_made(ShopFiles(paths.root))[0]["bell-ringer-club.svg"]
    facts = DesignFacts(
        "d", "p", "svg", 9, 9, 9, True, None, "", 8, True, Box(0, 0, 9, 9), 1, 0, 0, 0, False, (), (), "0"
    )
    design = described(Design("id", "designs/x.svg", facts, "X", ("club", "bells")), made)
    assert (design.title, design.niche, design.rights, design.languages) == (
        "Bell ringer",
        "bells",
        "own work",
        ("en",),
    )
    assert design.keywords == ("bells", "club")


def test_a_spoilt_record_is_told_and_made_again(paths: ShopPaths) -> None:
    run(paths)
    record = paths.designs / "club.made.csv"
    record.write_text("nonsense\r\n1\r\n", encoding="utf-8")
    made, findings = all_made(ShopFiles(paths.root))
    assert made == {}
    assert [finding.code for finding in findings] == ["bad-made-list"]
    done = run(paths)
    assert sorted(one.file for one in done.designs) == ["beekeeper-club.svg", "bell-ringer-club.svg"]
    assert [(one.check, one.code, one.severity) for one in done.findings] == [
        ("designs/made-list", "made-anew", Severity.NOTE)
    ]
    assert len(all_made(ShopFiles(paths.root))[0]) == 2


def test_a_workbook_is_a_word_list_too(paths: ShopPaths) -> None:
    (paths.words / "club.csv").unlink()
    book = xlsxwriter.Workbook(paths.words / "club.xlsx")
    sheet = book.add_worksheet()
    for number, row in enumerate((("Trade", "Keywords"), ("Beekeeper", "bees; honey"), (1998, ""))):
        sheet.write_row(number, 0, row)
    book.close()
    done = run(paths)
    assert [(one.title, one.keywords) for one in done.designs] == [
        ("Beekeeper", ("bees", "honey")),
        ("1998", ()),
    ]


def test_the_same_row_gives_the_same_bytes_in_another_process(paths: ShopPaths) -> None:
    """Another process has another hash seed, another order of sets, and cold caches."""
    run(paths)
    first = {
        path.name: path.read_bytes() for path in (*paths.designs.iterdir(), *paths.root.glob("pictures/*"))
    }
    code = (
        "import sys; from pathlib import Path; from hundredfold.runner.workers import InProcess\n"
        "from hundredfold.workshop.shop.paths import ShopPaths\n"
        "from hundredfold.workshop.typeset.typesetting import TypesetOrder, typeset\n"
        "typeset(ShopPaths(Path(sys.argv[1])), TypesetOrder(png_width=100), InProcess())\n"
    )
    for path in (*paths.designs.iterdir(), *paths.root.glob("pictures/*")):
        path.unlink()
    environment = {**os.environ, "PYTHONHASHSEED": "12345", "LC_ALL": "C", "TZ": "Asia/Tokyo"}
    subprocess.run([sys.executable, "-c", code, str(paths.root)], check=True, timeout=120, env=environment)
    again = {
        path.name: path.read_bytes() for path in (*paths.designs.iterdir(), *paths.root.glob("pictures/*"))
    }
    assert again == first


def test_the_sample_list_fills_its_layout(tmp_path: Path) -> None:
    shop = new_shop(tmp_path / "shop", sample=True)
    words = read_word_list(shop.paths.words / "clubs.csv")
    assert len(words.rows) == 500
    (pair,) = pairs_of(shop.paths, TypesetOrder())
    assert judge_pair(shop.paths, pair) == ()
    for row in words.rows[::25]:
        done = fill_row(pair.layout, row, str(shop.paths.fonts), str(shop.paths.art), "light")
        assert done.svg
        assert done.findings == ()
