"""History, undo and unlock, as the seller types them."""

import json
from contextlib import closing
from pathlib import Path

import pytest

from hundredfold.cli.main import main
from hundredfold.ledger.events import Event, Happened
from hundredfold.ledger.fold import standing_events
from hundredfold.store.lock import Holder, RunnerLock
from hundredfold.store.shopstore import open_store, utc_now

Capture = pytest.CaptureFixture[str]


@pytest.fixture
def shop(tmp_path: Path, capsys: Capture) -> Path:
    folder = tmp_path / "shop"
    assert main(["new", str(folder)]) == 0
    with closing(open_store(folder / ".hundredfold" / "shop.db")) as store:
        store.append([Event(Happened.ADOPTED, "PG-1")])
        store.append([Event(Happened.PLANNED, "bee on MUG-325")])
        store.append([Event(Happened.HANDED_OVER, "quayside/2026-12-01")])
    capsys.readouterr()
    return folder


def lines(capsys: Capture) -> list[str]:
    return [line.strip() for line in capsys.readouterr().out.splitlines() if line.strip()]


def test_history_shows_what_happened_and_what_was_taken_back(shop: Path, capsys: Capture) -> None:
    assert main(["undo", "2", "--shop", str(shop)]) == 0
    assert lines(capsys) == [
        "took back 2 (planned, bee on MUG-325)",
        "to bring it back: hundredfold undo 4",
    ]
    assert main(["history", "--shop", str(shop)]) == 0
    shown = [" ".join(line.split()[3:]) for line in lines(capsys)[2:]]
    assert shown == [
        "adopted PG-1",
        "(planned, taken back) bee on MUG-325",
        "handed over quayside/2026-12-01",
        "took back 2 bee on MUG-325",
    ]


def test_an_undo_that_was_undone_no_longer_stands(shop: Path, capsys: Capture) -> None:
    assert main(["undo", "2", "--shop", str(shop)]) == 0
    assert main(["undo", "4", "--shop", str(shop)]) == 0
    capsys.readouterr()
    assert main(["history", "bee", "--shop", str(shop), "--json"]) == 0
    decided = json.loads(capsys.readouterr().out)["decisions"]
    assert [(one["decision"], one["stands"]) for one in decided] == [(2, True), (4, False), (5, True)]


def test_a_decision_of_many_rows_is_taken_back_in_one_word(shop: Path, capsys: Capture) -> None:
    with closing(open_store(shop / ".hundredfold" / "shop.db")) as store:
        store.append([Event(Happened.ADOPTED, f"LIVE-{number}") for number in range(200)])
    assert main(["history", "LIVE", "--shop", str(shop)]) == 0
    (line,) = lines(capsys)[2:]
    assert line.split()[0] == "4"
    assert "adopted (200 rows)" in line
    assert main(["undo", "4", "--shop", str(shop)]) == 0
    assert lines(capsys) == [
        "took back 4 (adopted, LIVE-0 and 199 more)",
        "to bring them back: hundredfold undo 204",
    ]
    assert main(["undo", "4", "--shop", str(shop)]) == 2  # nothing of it stands
    assert main(["undo", "204", "--shop", str(shop)]) == 0
    with closing(open_store(shop / ".hundredfold" / "shop.db")) as store:
        standing = {event.subject for event in standing_events(store.events())}
    assert {f"LIVE-{number}" for number in range(200)} <= standing


def test_undo_is_all_or_nothing(shop: Path, capsys: Capture) -> None:
    assert main(["undo", "1", "3", "--shop", str(shop)]) == 2  # 3 has left the house
    with closing(open_store(shop / ".hundredfold" / "shop.db")) as store:
        assert store.last_number() == 3


def test_one_row_of_a_decision_is_taken_back_by_itself(shop: Path, capsys: Capture) -> None:
    with closing(open_store(shop / ".hundredfold" / "shop.db")) as store:
        store.append([Event(Happened.ADOPTED, "A"), Event(Happened.ADOPTED, "B")])
    assert main(["undo", "5", "--shop", str(shop)]) == 2
    assert "undo --row 5" in capsys.readouterr().err
    assert main(["undo", "--row", "5", "--shop", str(shop)]) == 0
    assert main(["history", "--rows", "--last", "3", "--shop", str(shop), "--json"]) == 0
    out = capsys.readouterr().out
    entries = json.loads(out[out.index("{") :])["entries"]
    assert [(entry["number"], entry["stands"]) for entry in entries] == [(4, True), (5, False), (6, True)]


def test_history_by_text_and_number(shop: Path, capsys: Capture) -> None:
    assert main(["history", "--last", "1", "--shop", str(shop), "--json"]) == 0
    assert [one["decision"] for one in json.loads(capsys.readouterr().out)["decisions"]] == [3]
    assert main(["history", "nothing like it", "--shop", str(shop)]) == 0
    assert lines(capsys) == ['nothing about "nothing like it"']


def test_what_was_handed_over_stays(shop: Path, capsys: Capture) -> None:
    assert main(["undo", "3", "--shop", str(shop)]) == 2
    assert "cannot be taken back" in capsys.readouterr().err


def test_a_mistake_in_the_settings_does_not_stop_it(shop: Path) -> None:
    (shop / "shop.toml").write_text("curency = [", encoding="utf-8")
    assert main(["history", "--shop", str(shop)]) == 0


def test_a_folder_that_is_no_shop(tmp_path: Path, capsys: Capture) -> None:
    assert main(["history", "--shop", str(tmp_path)]) == 2
    assert "not a shop" in capsys.readouterr().err
    assert not (tmp_path / ".hundredfold").exists()


def test_unlock_names_who_held_it_but_leaves_a_living_run_alone(shop: Path, capsys: Capture) -> None:
    with closing(open_store(shop / ".hundredfold" / "shop.db")) as store:
        there = Holder("the-laptop", 1, "2026-11-25T13:00:00.000000Z")
        RunnerLock(store.database, utc_now, lambda: there)._take(there, "month")
        assert main(["undo", "1", "--shop", str(shop)]) == 1
        assert "hundredfold unlock" in capsys.readouterr().err
        assert main(["unlock", "--shop", str(shop)]) == 0
        assert "on the-laptop" in capsys.readouterr().out
        assert main(["unlock", "--shop", str(shop)]) == 0
        assert lines(capsys) == ["nothing held the shop"]
        with store.lock.held("month"):
            assert main(["unlock", "--shop", str(shop)]) == 1
            assert "has been working on this shop" in capsys.readouterr().err
