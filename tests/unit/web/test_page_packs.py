"""Packs: proved, handed over once, fetched as files, settled by a person, answered."""

from pathlib import Path

import pytest
from pages import opened
from plannedshop import CHANNEL, FIRST, append, planned_shop, state_of

from hundredfold.ledger.events import Event, Happened
from hundredfold.ledger.keys import PackKey
from hundredfold.ledger.state import Progress

PACK = f"{CHANNEL}/{FIRST}"


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    planned_shop(tmp_path / "shop")
    return tmp_path / "shop"


def unsure(shop: Path) -> None:
    append(shop, [Event(Happened.HANDING_OVER, PACK, {"destination": str(shop / "gone")})])


def progress(shop: Path) -> Progress:
    return state_of(shop).packs[PackKey(CHANNEL, str(FIRST))].progress


def test_made_and_planned_packs_are_told_apart(shop: Path) -> None:
    page = opened(shop).get("/packs").text
    assert "the next pack is due Monday 5 January" in page
    assert "Planned, not made" in page


def test_a_pack_shows_its_table_as_text(shop: Path) -> None:
    page = opened(shop).get(f"/packs/{PACK}").text
    assert "&lt;b&gt;Queen of the hive&lt;/b&gt;" in page
    assert "<b>Queen" not in page


def test_proving_says_what_is_wrong_and_hands_nothing_over(shop: Path) -> None:
    page = opened(shop).get(f"/packs/{PACK}?prove=1").text
    assert "It is not sound" in page
    assert progress(shop) is Progress.PACKED


def test_a_pack_that_is_not_sound_is_kept_back_with_the_reasons(shop: Path) -> None:
    client = opened(shop)
    answer = client.post("/packs/hand-over", data={"pack": PACK})
    assert answer.status_code == 303
    assert "kept back" in client.get(answer.headers["location"]).text
    assert progress(shop) is Progress.PACKED


def test_an_unsure_pack_waits_for_a_word_and_is_settled_by_it(shop: Path) -> None:
    unsure(shop)
    client = opened(shop)
    assert "did it arrive?" in client.get("/packs").text
    client.post("/packs/settle", data={"pack": PACK, "happened": "no"})
    assert progress(shop) is Progress.PACKED
    assert "did it arrive?" not in client.get("/packs").text


def test_settling_without_a_word_changes_nothing(shop: Path) -> None:
    unsure(shop)
    assert opened(shop).post("/packs/settle", data={"pack": PACK}).status_code == 400
    assert progress(shop) is Progress.HANDING_OVER


def test_a_file_is_fetched_as_a_download_and_never_shown(shop: Path) -> None:
    answer = opened(shop).get(f"/packs/{PACK}/files/listings.csv")
    assert answer.content.startswith(b"SKU,Title")
    assert answer.headers["content-disposition"].startswith("attachment")
    assert answer.headers["content-type"] == "application/octet-stream"


@pytest.mark.parametrize(
    "path",
    [
        f"/packs/{PACK}/files/..%2F..%2F..%2Fshop.toml",
        f"/packs/{PACK}/files/%2e%2e%5cshop.toml",
        f"/packs/{CHANNEL}/..%2f..%2f{FIRST}/files/manifest.json",
        "/packs/..%2f../2099-01-05",
        "/packs/nobody/2099-01-05",
    ],
)
def test_no_path_leaves_the_packs(shop: Path, path: str) -> None:
    answer = opened(shop).get(path)
    assert answer.status_code in (404, 409)
    assert "currency" not in answer.text


def test_an_answer_is_read_and_its_refusals_are_counted(shop: Path) -> None:
    append(
        shop,
        [Event(Happened.HANDING_OVER, PACK, {"destination": "x"}), Event(Happened.HANDED_OVER, PACK, {})],
    )
    table = b"sku,status,reason\r\nPG-DESIGN0,accepted,\r\nPG-DESIGN1,refused,picture too small\r\n"
    client = opened(shop)
    sent = client.post("/packs/answer", data={"channel": CHANNEL}, files={"files": ("answer.csv", table)})
    assert sent.status_code == 303
    assert "1 accepted, 1 refused" in client.get("/packs").text


@pytest.mark.parametrize("name", ["answer.exe", "../answer", "answer.svg"])
def test_what_is_no_table_is_not_taken(shop: Path, name: str) -> None:
    answer = opened(shop).post("/packs/answer", data={"channel": CHANNEL}, files={"files": (name, b"x")})
    assert answer.status_code == 409
    assert "is no table" in answer.text


def test_a_pack_that_is_unknown_is_a_sentence(shop: Path) -> None:
    answer = opened(shop).post("/packs/hand-over", data={"pack": "nothing"})
    assert "What to do:" in answer.text
    assert answer.status_code < 500
